// What is different between two states of one archive, such as those of two instants.

import type { Difference } from '../evidence/difference.ts';
import { COLLECTIONS, type Collection } from '../model/catalogue.ts';
import { isInside, parseDecisionId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { type FieldChange, fieldChanges } from '../state/field-changes.ts';
import { dossierOf } from '../state/merge.ts';
import { nearHint, type ResolvedKind } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { TouchedIds } from '../state/touched-ids.ts';

/** A record that is new, gone or changed. */
export interface RecordChange {
  readonly id: string;
  readonly kind: Extract<ResolvedKind, RecordKind> | 'Correction';
  readonly change: 'added' | 'removed' | 'changed';
  /** What reads otherwise in a changed record; none for one that is new or gone. */
  readonly fields: readonly FieldChange[];
}

type RecordKind =
  | 'Maker'
  | 'ProductLine'
  | 'Device'
  | 'Part'
  | 'Source'
  | 'Publication'
  | 'Pattern'
  | 'Feed'
  | 'ListMapping'
  | 'Specimen'
  | 'Decision';

const KINDS: Readonly<Record<Collection, RecordKind>> = {
  makers: 'Maker',
  productLines: 'ProductLine',
  devices: 'Device',
  parts: 'Part',
  sources: 'Source',
  publications: 'Publication',
  patterns: 'Pattern',
  feeds: 'Feed',
  listMappings: 'ListMapping',
};

/**
 * Records, specimens, decisions that editors judged and corrections that differ, by kind and id.
 * @param of only this record or specimen and what lies in it
 * @throws CasebackError NOT_FOUND when neither state has anything of that id
 */
export function recordChanges(before: State, after: State, of?: string): readonly RecordChange[] {
  if (of !== undefined) mustBeKnown(before, after, of);
  const { records, specimens, decisions } = TouchedIds.between(before.facts, after.facts);
  const wanted = (id: string) =>
    of === undefined || id === of || isInside(id, of) || parseDecisionId(id)?.device === of;
  const change = (kind: RecordChange['kind'], id: string, was: unknown, is: unknown): RecordChange[] => {
    if (!wanted(id)) return [];
    if (was === undefined || is === undefined)
      return [{ id, kind, change: was === undefined ? 'added' : 'removed', fields: [] }];
    // A record filed again as it was is another object and no change.
    const fields = fieldChanges(was, is);
    return fields.length === 0 ? [] : [{ id, kind, change: 'changed', fields }];
  };
  const dossiers = (id: string): RecordChange[] => {
    const [was, is] = [before.specimenRow(id), after.specimenRow(id)];
    // An earlier state has rows of its own, but shares what lies in them as far as it is what it is today: it is unpacked only where it is not.
    const isShared = was && is && was.filed === is.filed && was.added === is.added;
    if (isShared || !wanted(id)) return [];
    return change('Specimen', id, was && dossierOf(was), is && dossierOf(is));
  };
  const corrected = (state: State) => new Map(state.corrections.map((one) => [one.id, one]));
  const [made, present] = [corrected(before), corrected(after)];
  return [
    ...COLLECTIONS.flatMap((name) =>
      [...records[name]]
        .sort()
        .flatMap((id) =>
          change(KINDS[name], id, before.facts.records[name].get(id), after.facts.records[name].get(id)),
        ),
    ),
    ...[...specimens].sort().flatMap(dossiers),
    ...[...decisions]
      .sort()
      .flatMap((id) =>
        change('Decision', id, before.facts.judgements.get(id), after.facts.judgements.get(id)),
      ),
    ...[...new Set([...made.keys(), ...present.keys()])].flatMap((id) =>
      change('Correction', id, made.get(id), present.get(id)),
    ),
  ];
}

/** Devices of which conclusions are compared at once; each takes some tenths of a second. */
const MOST_DEVICES = 40;

/**
 * What follows otherwise from what differs: decisions, cells of comparisons, points of trends and sentences.
 * @param of only of this device or the specimens in it
 * @throws CasebackError OUT_OF_BUDGET where too many devices differ; NOT_FOUND; the signal's reason
 */
export async function conclusionsBetween(
  before: State,
  after: State,
  of: string | undefined,
  signal?: AbortSignal,
): Promise<Difference> {
  const changes = recordChanges(before, after, of);
  const device = (id: string) =>
    after.specimenRow(id)?.deviceId ?? before.specimenRow(id)?.deviceId ?? parseDecisionId(id)?.device ?? id;
  const ids = (kinds: readonly RecordChange['kind'][]) =>
    changes.filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id);
  const parts = new Set(ids(['Part']));
  const holders = [...parts].flatMap((part) =>
    [before, after].flatMap((state) => state.holdersOf(part).map(({ deviceId }) => deviceId)),
  );
  const devices = new Set([...ids(['Device', 'Specimen', 'Decision']).map(device), ...holders]);
  if (devices.size > MOST_DEVICES)
    throw new CasebackError(
      'OUT_OF_BUDGET',
      `${devices.size} devices differ, and conclusions are compared for at most ${MOST_DEVICES} at once; choose instants nearer to each other, or one device`,
    );
  const { differenceBetween } = await import('../evidence/what-if.ts');
  return differenceBetween(before, after, { devices, parts }, signal);
}

function mustBeKnown(before: State, after: State, id: string): void {
  const has = ({ facts }: State) =>
    facts.specimens.has(id) || COLLECTIONS.some((name) => facts.records[name].has(id));
  if (has(before) || has(after)) return;
  throw new CasebackError(
    'NOT_FOUND',
    `Nothing called "${id}" was in the archive at either instant${nearHint(after, id)}`,
  );
}
