import { COLLECTIONS, type Collection, type Part, partIdOf, recordId } from '../model/catalogue.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import type { Change } from '../model/entry.ts';
import { CasebackError, type Problem } from '../model/problems.ts';
import type { Held } from './check/context.ts';
import { checkDocuments } from './check/rules.ts';
import type { ReadDocument } from './read.ts';
import { same } from './same.ts';

/** What the archive holds of dossiers, for telling what an import changes. */
export interface HeldDossiers extends Held {
  /** The dossier as last filed. */
  dossierAsFiled(specimenId: string): Dossier | undefined;
  /** The same with what was recorded since. */
  dossierNow(specimenId: string): Dossier | undefined;
}

/** Catalogue collections that dossiers lean on come before them; pieces and patterns after. */
const BEFORE_DOSSIERS: readonly Collection[] = ['makers', 'families', 'parts', 'sources'];

/**
 * The changes that bring files into the archive, in an order in which nothing is named before it is described.
 * What the archive already holds in the same form gives no change, so importing twice writes once.
 * @throws CasebackError BAD_FILE with every problem, when any rule is broken
 */
export function planImport(
  documents: readonly ReadDocument[],
  held: HeldDossiers,
  by: { readonly actor: string; readonly reason: string },
): readonly Change[] {
  const problems = [...checkDocuments(documents, held), ...contradictions(documents, held)];
  if (problems.length > 0) throw badFiles(problems);
  const records = (collections: readonly Collection[]) =>
    collections.flatMap((collection) => recordChanges(documents, collection, held, by));
  return [
    ...records(BEFORE_DOSSIERS),
    ...dossierChanges(documents, held, by),
    ...records(COLLECTIONS.filter((collection) => !BEFORE_DOSSIERS.includes(collection))),
  ];
}

/** The one error for files with problems. */
export function badFiles(problems: readonly Problem[]): CasebackError {
  const files = new Set(problems.map(({ file }) => file)).size;
  const count = problems.length === 1 ? '1 problem' : `${problems.length} problems`;
  return new CasebackError(
    'BAD_FILE',
    `${count} in ${files === 1 ? '1 file' : `${files} files`}; nothing was written`,
    problems,
  );
}

function recordChanges(
  documents: readonly ReadDocument[],
  collection: Collection,
  held: Held,
  by: { readonly actor: string; readonly reason: string },
): Change[] {
  const records = new Map(
    documents.flatMap((document) =>
      document.kind === 'catalogue'
        ? document.catalogue[collection].map((record) => [recordId(collection, record), record] as const)
        : [],
    ),
  );
  const changed = [...records].filter(([id, record]) => !same(record, held.record(collection, id)));
  if (collection === 'parts')
    changed.sort(([, a], [, b]) => relabelDepth(a as Part, records) - relabelDepth(b as Part, records));
  return changed.map(([, record]) => ({ ...by, kind: 'record-put', payload: { collection, record } }));
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

function dossierChanges(
  documents: readonly ReadDocument[],
  held: HeldDossiers,
  by: { readonly actor: string; readonly reason: string },
): Change[] {
  const changed = documents.flatMap((document) => {
    if (document.kind !== 'dossier') return [];
    const id = specimenIdOf(document.dossier);
    const known =
      same(document.dossier, held.dossierAsFiled(id)) || same(document.dossier, held.dossierNow(id));
    return known ? [] : [document.dossier];
  });
  // A dossier that describes its device comes before those that only name it; predecessors come first.
  const describing = new Map(
    changed.flatMap((one) => (typeof one.device === 'string' ? [] : [[one.device.id, one] as const])),
  );
  const ordered = new Set<Dossier>();
  const place = (dossier: Dossier) => {
    if (ordered.has(dossier)) return;
    const { device } = dossier;
    const before = typeof device === 'string' ? [device] : device.succeeds;
    for (const id of before) {
      const first = describing.get(id);
      if (first && first !== dossier) place(first);
    }
    ordered.add(dossier);
  };
  for (const dossier of changed.sort((a, b) => (deviceIdOf(a) < deviceIdOf(b) ? -1 : 1))) place(dossier);
  return [...ordered].map((payload) => ({ ...by, kind: 'dossier-put', payload }));
}

/** An observation is never changed: a file may not say something else under the id of one already recorded. */
function contradictions(documents: readonly ReadDocument[], held: HeldDossiers): Problem[] {
  return documents.flatMap((document) => {
    if (document.kind !== 'dossier') return [];
    const now = held.dossierNow(specimenIdOf(document.dossier));
    const recorded = new Map(now?.observations.map((one) => [one.id, one]));
    return document.dossier.observations.flatMap((one, i): Problem[] => {
      const before = recorded.get(one.id);
      if (!before || same(one, before)) return [];
      const path = ['observations', i];
      return [
        {
          file: document.file,
          ...document.locate(path),
          path: `observations[${i}]`,
          what: `observation "${one.id}" is already recorded with other content`,
          mend: `observations are never changed: add a new one with corrects: ${one.id}`,
        },
      ];
    });
  });
}
