import { spaced } from './chance.ts';
import type { GraphStore } from './graph-store.ts';
import type { Mined } from './miner.ts';
import { occurrences } from './occurrences.ts';

/** Devices of a structure that are looked at. */
const MAX_DEVICES = 30;
/** Places of a structure in a graph that are looked at. */
const MAX_PLACES = 50;
/** Share of the devices from which one structure is a variant of another. */
const MAJORITY = 0.5;

/** Where a structure lies: by group, the sets of nodes. At most 30 groups and 50 places in each graph. */
export type Places = ReadonlyMap<number, readonly (readonly number[])[]>;

/** Looks structures up in the graphs of their groups. */
export class PlaceFinder {
  readonly #store: GraphStore;
  readonly #graphs = new Map<number, number[]>();

  constructor(store: GraphStore) {
    this.#store = store;
    for (let graph = 0; graph < store.graphs.length - 1; graph++) {
      if (store.graphs[graph] === store.graphs[graph + 1]) continue;
      const group = store.group[store.graphs[graph]];
      const own = this.#graphs.get(group);
      if (own) own.push(graph);
      else this.#graphs.set(group, [graph]);
    }
  }

  of(structure: Mined): Places {
    return new Map(
      spaced([...structure.groups], MAX_DEVICES).map((group) => [
        group,
        (this.#graphs.get(group) ?? []).flatMap((graph) =>
          occurrences(this.#store, graph, structure, MAX_PLACES),
        ),
      ]),
    );
  }
}

/**
 * Whether a structure says little beside another: in at least half of its devices they lie at the same components, but
 * for one where they have more than three. So a chip of two functions, or one component more or less, does not fill a
 * list.
 */
export function isVariant(own: Places, other: Places): boolean {
  let same = 0;
  for (const [group, places] of own) {
    const theirs = other.get(group) ?? [];
    if (places.some((place) => theirs.some((one) => nearlySame(place, one)))) same++;
  }
  return same >= own.size * MAJORITY;
}

function nearlySame(a: readonly number[], b: readonly number[]): boolean {
  const common = a.filter((node) => b.includes(node)).length;
  const most = Math.max(a.length, b.length);
  return common >= (most > 3 ? most - 1 : most);
}
