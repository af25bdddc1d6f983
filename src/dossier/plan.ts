import { type Collection, type Part, partIdOf, recordId } from '../model/catalogue.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import type { Authorship, Change } from '../model/entry.ts';
import { componentMeant, parseThingId, specimenOfId, thingId } from '../model/ids.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import type { Held, HeldDossiers } from './check/context.ts';
import { bySeverity, checkingDocuments } from './check/rules.ts';
import { contradictions } from './contradictions.ts';
import { changedDevices, withDeviceId } from './devices.ts';
import type { ReadDocument } from './document/document.ts';
import { same } from './document/same.ts';
import { refiled } from './kept-nets.ts';
import { limited } from './limited.ts';
import { atOnce, type Steps } from './steps.ts';

/** Catalogue collections that devices and dossiers lean on come before them; publications, patterns, feeds and list mappings after. */
const BEFORE_DOSSIERS: readonly Collection[] = ['makers', 'productLines', 'parts', 'sources'];
const AFTER_DOSSIERS: readonly Collection[] = ['publications', 'patterns', 'feeds', 'listMappings'];

/** What an import writes, and what in it is worth a second look. */
export interface PlannedImport {
  readonly changes: readonly Change[];
  readonly cautions: readonly Problem[];
}

/**
 * The changes that bring files into the archive, in an order in which everything is described before it is named.
 * What the archive already holds in the same form gives no change, so importing twice writes once.
 * @throws CasebackError BAD_FILE with every problem, when any rule is broken; CONFLICT, when the files are sound but
 * contradict what was recorded since they were filed
 */
export function planImport(read: readonly ReadDocument[], held: HeldDossiers, by: Authorship): PlannedImport {
  return atOnce(planningImport(read, held, by));
}

/** As {@link planImport}, in steps between which others may run. */
export function* planningImport(
  read: readonly ReadDocument[],
  held: HeldDossiers,
  by: Authorship,
): Steps<PlannedImport> {
  const documents = asRecorded(read, held);
  yield;
  const { errors, cautions } = bySeverity(yield* checkingDocuments(documents, held));
  const conflicts = contradictions(documents, held);
  yield;
  if (errors.length > 0) throw badFiles([...errors, ...conflicts]);
  if (conflicts.length > 0) throw badFiles(conflicts, 'CONFLICT');
  const records = (collections: readonly Collection[]) =>
    collections.flatMap((collection) => recordChanges(documents, collection, held, by));
  const changes = [
    ...records(BEFORE_DOSSIERS),
    ...changedDevices(documents, held).map(
      (record) => ({ ...by, kind: 'record-put', payload: { collection: 'devices', record } }) as const,
    ),
    ...(yield* dossierChanges(documents, held, by)),
    ...records(AFTER_DOSSIERS),
  ];
  return { changes, cautions };
}

/** The files with the ids that components have in the archive, in dossiers and under claims, and with the nets that they say nothing of. */
function asRecorded(documents: readonly ReadDocument[], held: HeldDossiers): readonly ReadDocument[] {
  const dossiers = new Map<string, Dossier>();
  const settled = documents.map((document) => {
    if (document.kind !== 'dossier') return document;
    const specimen = specimenIdOf(document.dossier);
    const { dossier, kept } = refiled(document.dossier, held) ?? { dossier: document.dossier };
    dossiers.set(specimen, dossier);
    return dossier === document.dossier ? document : { ...document, dossier, kept };
  });
  const recorded = (id: string): string => {
    const thing = parseThingId(id);
    if (!thing) return id;
    const specimen = specimenOfId(id);
    const { components = [] } = dossiers.get(specimen) ?? held.dossierNow(specimen) ?? {};
    const meant = componentMeant(components, thing.local);
    return meant ? thingId(specimen, meant.id) : id;
  };
  return settled.map((document) => {
    if (document.kind !== 'catalogue' || document.catalogue.publications.length === 0) return document;
    const publications = document.catalogue.publications.map((publication) => ({
      ...publication,
      claims: publication.claims.map((one) => ({ ...one, supportedBy: one.supportedBy.map(recorded) })),
    }));
    return { ...document, catalogue: { ...document.catalogue, publications } };
  });
}

/** The one error for files with problems; it lists the first hundred and counts the rest. */
export function badFiles(
  problems: readonly Problem[],
  code: 'BAD_FILE' | 'CONFLICT' = 'BAD_FILE',
): CasebackError {
  const files = new Set(problems.map(({ file }) => file)).size;
  const count = problems.length === 1 ? '1 problem' : `${problems.length} problems`;
  const message = `${count} in ${files === 1 ? '1 file' : `${files} files`}; nothing was written`;
  return new CasebackError(code, message, limited(problems));
}

function recordChanges(
  documents: readonly ReadDocument[],
  collection: Collection,
  held: Held,
  by: Authorship,
): Change[] {
  const records = new Map(
    documents.flatMap((document) =>
      document.kind === 'catalogue'
        ? document.catalogue[collection].map((record) => [recordId(collection, record), record] as const)
        : [],
    ),
  );
  const changed = [...records].filter(
    ([id, record]) => !same(record, held.record(collection, id)) || isRecalled(held, id),
  );
  if (collection === 'parts')
    changed.sort(([, a], [, b]) => relabelDepth(a as Part, records) - relabelDepth(b as Part, records));
  return changed.map(([, record]) => ({ ...by, kind: 'record-put', payload: { collection, record } }));
}

/** What was recalled is seen again when it is filed anew, though it says the same. */
function isRecalled(held: Held, id: string): boolean {
  return held.visibleNow?.(id) === 'recalled';
}

/** How many labels lie between a part and the original, so that originals come first. */
function relabelDepth(part: Part, parts: ReadonlyMap<string, unknown>): number {
  let depth = 0;
  const seen = new Set<string>();
  for (let at: Part | undefined = part; at?.relabels && !seen.has(partIdOf(at)); depth++) {
    seen.add(partIdOf(at));
    at = parts.get(at.relabels) as Part | undefined;
  }
  return depth;
}

function* dossierChanges(
  documents: readonly ReadDocument[],
  held: HeldDossiers,
  by: Authorship,
): Steps<Change[]> {
  const changed: Dossier[] = [];
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const dossier = withDeviceId(document.dossier);
    const heldAs = [held.dossierAsFiled(specimenIdOf(dossier)), held.dossierNow(specimenIdOf(dossier))];
    const isHeld = heldAs.some((one) => one && same(dossier, withDeviceId(one)));
    if (!isHeld || isRecalled(held, specimenIdOf(dossier))) changed.push(document.dossier);
    yield;
  }
  return inOrder(changed).map((one) => ({ ...by, kind: 'dossier-put', payload: withDeviceId(one) }));
}

/** By device; the dossier that describes it becomes its first specimen, in whose file an export puts it back. */
function inOrder(dossiers: readonly Dossier[]): readonly Dossier[] {
  const describes = ({ device }: Dossier) => (typeof device === 'string' ? 1 : 0);
  return dossiers.toSorted((a, b) => {
    const [one, other] = [deviceIdOf(a), deviceIdOf(b)];
    return one < other ? -1 : one > other ? 1 : describes(a) - describes(b);
  });
}
