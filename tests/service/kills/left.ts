import { isDeepStrictEqual } from 'node:util';
import type { Row } from './stores.ts';
import type { Change, Known } from './writing.ts';

// What is left in a journal, held against what clients were told: by plain rows, without the code under test.

/**
 * Faults, in words: acknowledged changes that are not where they were said to be, changes of which not all entries are there,
 * next to each other and once, and entries that nobody asked for.
 * @param known what clients knew before the rows were read
 * @param asked every change that was ever asked for, by name
 * @param before entries from before there were clients
 */
export function faultsLeft(
  rows: readonly Row[],
  known: readonly Known[],
  asked: ReadonlyMap<string, Change>,
  before: number,
): readonly string[] {
  const faults: string[] = [];
  rows.forEach(({ sequence }, i) => {
    if (sequence !== i + 1) faults.push(`entry ${sequence} stands at place ${i + 1}`);
  });
  const byName = Map.groupBy(rows.slice(before), ({ reason }) => reason);
  for (const [name, entries] of byName) {
    const kinds = entries.map(({ kind }) => kind);
    if (!isDeepStrictEqual(kinds, asked.get(name)?.kinds))
      faults.push(`${name} has ${kinds.join(', ') || 'nothing'}, not ${asked.get(name)?.kinds.join(', ')}`);
    if (entries.some(({ sequence }, i) => sequence !== entries[0].sequence + i))
      faults.push(`${name} is not in one piece`);
  }
  for (const { name, data } of known) {
    const last = byName.get(name)?.at(-1);
    const said = data?.done.entry;
    if (said && (last?.sequence !== said.sequence || last.id !== said.id))
      faults.push(`${name} was acknowledged as ${said.sequence} and is ${last?.sequence ?? 'lost'}`);
  }
  return faults;
}

/** What must be true of answers when everything acknowledged shows, and what was never acknowledged may or may not. */
export interface Shown {
  /** Ids of observations, by specimen: those that must be there, and those that may. */
  readonly observations: ReadonlyMap<string, { readonly sure: Set<string>; readonly open: Set<string> }>;
  /** Packages that a part may have, by part. */
  readonly packages: ReadonlyMap<string, ReadonlySet<string>>;
}

/** What clients know must show, told from their own notes alone. */
export function shownBy(clients: readonly (readonly Known[])[]): Shown {
  const observations = new Map<string, { sure: Set<string>; open: Set<string> }>();
  const packages = new Map<string, Set<string>>();
  // Each client changes what it brought in itself, one after the other.
  for (const { kinds, input, data } of clients.flat()) {
    if (kinds[0] === 'observation-recorded') {
      const { specimen, observation } = input as { specimen: string; observation: { id: string } };
      const of = observations.get(specimen) ?? { sure: new Set(), open: new Set() };
      observations.set(specimen, of);
      (data ? of.sure : of.open).add(observation.id);
    }
    if (kinds[1] === 'correction-made') {
      const { of, text } = (input.change as { value: { of: string; text: string } }).value;
      // Where it is not known whether it was written, the package may be either.
      packages.set(of, new Set(data ? [text] : [...(packages.get(of) ?? ['LGA-12']), text]));
    }
  }
  return { observations, packages };
}
