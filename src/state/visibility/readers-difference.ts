import { COLLECTIONS, claimIdOf, type Publication } from '../../model/catalogue.ts';
import type { Facts } from '../facts.ts';
import { TouchedIds } from '../touched-ids.ts';

/** What a change makes of what readers see: ids of records, devices, specimens, sentences and corrections, sorted. */
export interface ReadersDifference {
  readonly added: readonly string[];
  /** What they see in another form. */
  readonly changed: readonly string[];
  readonly gone: readonly string[];
}

/** What readers see in the second of two facts of theirs that they do not see, or see otherwise, in the first. */
export function readersDifference(before: Facts, after: Facts): ReadersDifference {
  const sets = { added: new Set<string>(), changed: new Set<string>(), gone: new Set<string>() };
  const compare = (id: string, one: unknown, other: unknown) => {
    if (one === other) return;
    if (one === undefined) sets.added.add(id);
    else if (other === undefined) sets.gone.add(id);
    else if (JSON.stringify(one) !== JSON.stringify(other)) sets.changed.add(id);
  };
  if (before !== after) {
    const { records, devices, specimens } = TouchedIds.between(before, after);
    for (const collection of COLLECTIONS)
      for (const id of records[collection])
        if (collection !== 'devices')
          compare(id, before.records[collection].get(id), after.records[collection].get(id));
    for (const id of devices) compare(id, before.devices.get(id)?.device, after.devices.get(id)?.device);
    for (const id of specimens) {
      const [one, other] = [before.specimens.get(id), after.specimens.get(id)];
      if (one && other) sets.changed.add(id);
      else compare(id, one, other);
    }
    for (const id of records.publications) {
      const [one, other] = [before, after].map(
        ({ records: of }) => of.publications.get(id) as Publication | undefined,
      );
      for (const claim of new Set([...(one?.claims ?? []), ...(other?.claims ?? [])].map((each) => each.id)))
        compare(
          claimIdOf({ id }, { id: claim }),
          one?.claims.find((each) => each.id === claim),
          other?.claims.find((each) => each.id === claim),
        );
    }
    const [one, other] = [before, after].map(
      ({ corrections }) => new Map(corrections.map(({ correction }) => [correction.id, correction])),
    );
    for (const id of new Set([...one.keys(), ...other.keys()])) compare(id, one.get(id), other.get(id));
  }
  const { added, changed, gone } = sets;
  return { added: [...added].sort(), changed: [...changed].sort(), gone: [...gone].sort() };
}

/** Whether readers see the same as before. */
export function isNoDifference({ added, changed, gone }: ReadersDifference): boolean {
  return added.length + changed.length + gone.length === 0;
}
