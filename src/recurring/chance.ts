import { wilson } from '../statistics/proportion.ts';
import type { Random } from '../statistics/random.ts';
import type { Chance } from './answer.ts';
import type { Code } from './dfsCode.ts';
import { type GraphStore, hasLabel } from './graphStore.ts';
import { LinkCounts, type Needed, neededBy } from './linkTypes.ts';
import { symmetries } from './occurrences.ts';

/** Shuffled graphs looked at for a structure: a standard error of at most 0.8 percentage points. */
const SHUFFLES = 4_000;
/** Graphs that are shuffled; beyond these a sample of them, evenly spaced. */
const MOST_GRAPHS = 400;

/**
 * What chance alone would give. The null model: every kind of link (two kinds of component and how they are joined) is
 * spread over devices independently of the others, as often as it is seen; and within a device its links join any
 * components of the right kinds, all pairs equally likely, none twice. So a structure is expected in
 *
 *     devices × Π (share of devices with the link, as often as the structure needs it) × meeting
 *
 * devices, where `meeting` is the share of shuffles, of devices that hold all the links, in which they meet as in the
 * structure (a permutation that keeps components and number of links of each kind; after Milo and others, "Network
 * Motifs", Science 298, 2002, 824-827, whose shuffles keep degrees as well). A single link has lift 1.
 */
export class ChanceModel {
  readonly #store: GraphStore;
  readonly #devices: number;
  readonly #counts: LinkCounts;
  /** Share of the devices that hold links of a type so many times. */
  readonly #shares = new Map<string, number>();

  constructor(store: GraphStore, devices: number) {
    this.#store = store;
    this.#devices = devices;
    this.#counts = new LinkCounts(store);
  }

  /** Chance of a structure, by shuffling. */
  of(code: Code, support: number, random: Random): Chance {
    const needed = neededBy(code);
    const holders = this.#holders(needed);
    const together = this.#together(needed);
    const { met, shuffles } = this.#shuffled(code, needed, holders, random);
    const meeting = met / shuffles;
    const share = together * meeting;
    const { low, high } = wilson(support, this.#devices);
    return {
      expected: this.#devices * share,
      meeting,
      meetingError: Math.sqrt((meeting * (1 - meeting)) / shuffles),
      lift: share === 0 ? null : support / this.#devices / share,
      liftInterval: share === 0 ? null : { low: low / share, high: high / share },
    };
  }

  /** The same without shuffling, for putting many structures in order: at most 1 where links must meet. */
  roughLift(code: Code, support: number): number {
    const needed = neededBy(code);
    const holders = spaced(this.#holders(needed), MOST_GRAPHS);
    const ways = symmetries(code);
    let meeting = 0;
    for (const graph of holders) meeting += Math.min(1, this.#expectedWays(code, needed, graph) / ways);
    const share = this.#together(needed) * (meeting / holders.length);
    return support / this.#devices / share;
  }

  /** Graphs that hold all the links, one a device. */
  #holders(needed: readonly Needed[]): readonly number[] {
    const { graphs, group } = this.#store;
    const holds = new Uint8Array(graphs.length - 1).fill(1);
    for (const type of needed) {
      const counts = this.#counts.of(type);
      for (let graph = 0; graph < holds.length; graph++) if (counts[graph] < type.times) holds[graph] = 0;
    }
    const holders: number[] = [];
    let last = -1;
    for (let graph = 0; graph < holds.length; graph++) {
      if (holds[graph] === 0) continue;
      const own = group[graphs[graph]];
      if (own !== last) holders.push(graph);
      last = own;
    }
    return holders;
  }

  /** Probability that a device holds all the links, each kind by itself. */
  #together(needed: readonly Needed[]): number {
    return needed.reduce((product, type) => product * this.#shareOf(type), 1);
  }

  #shareOf(type: Needed): number {
    const key = `${type.low} ${type.link} ${type.high} ${type.times}`;
    const share = this.#shares.get(key) ?? this.#holders([type]).length / this.#devices;
    this.#shares.set(key, share);
    return share;
  }

  /** Ways in which the structure is expected to lie in a shuffled graph, symmetries counted. */
  #expectedWays({ labels, edges }: Code, needed: readonly Needed[], graph: number): number {
    let ways = 1;
    labels.forEach((label, at) => {
      const before = labels.slice(0, at).filter((other) => other === label).length;
      ways *= Math.max(0, this.#counts.nodesOf(label)[graph] - before);
    });
    for (const { from, to, link } of edges) {
      const [low, high] = [labels[from], labels[to]].sort((a, b) => a - b);
      const type = needed.find((one) => one.low === low && one.high === high && one.link === link) as Needed;
      const [a, b] = [low, high].map((label) => this.#counts.nodesOf(label)[graph]);
      ways *= this.#counts.of(type)[graph] / (low === high ? (a * (a - 1)) / 2 : a * b);
    }
    return ways;
  }

  #shuffled(code: Code, needed: readonly Needed[], holders: readonly number[], random: Random) {
    const chosen = spaced(holders, MOST_GRAPHS);
    const rounds = needed.length === 1 && needed[0].times === 1 ? 1 : Math.ceil(SHUFFLES / chosen.length);
    let met = 0;
    for (const graph of chosen) {
      const shuffle = new Shuffle(this.#store, graph, code, needed, (type) => this.#counts.of(type)[graph]);
      for (let round = 0; round < rounds; round++) if (shuffle.meets(random)) met++;
    }
    return { met, shuffles: chosen.length * rounds };
  }
}

/** At most so many of the items, evenly spaced. */
export function spaced<T>(items: readonly T[], most: number): readonly T[] {
  if (items.length <= most) return items;
  return Array.from({ length: most }, (_, at) => items[Math.floor((at * items.length) / most)]);
}

/** One graph whose links of the needed types are put at random again and again. */
class Shuffle {
  readonly #code: Code;
  /** For each edge of the structure the type it is of, and whether its tail has the type's smaller label. */
  readonly #edges: readonly { readonly type: number; readonly straight: boolean }[];
  readonly #types: readonly {
    readonly lows: readonly number[];
    readonly highs: readonly number[];
    readonly same: boolean;
    readonly count: number;
  }[];
  readonly #firsts: readonly number[];

  constructor(
    store: GraphStore,
    graph: number,
    code: Code,
    needed: readonly Needed[],
    countOf: (type: Needed) => number,
  ) {
    const nodesWith = (label: number) => {
      const all: number[] = [];
      for (let node = store.graphs[graph]; node < store.graphs[graph + 1]; node++)
        if (hasLabel(store, node, label)) all.push(node);
      return all;
    };
    this.#code = code;
    this.#types = needed.map((type) => ({
      lows: nodesWith(type.low),
      highs: nodesWith(type.high),
      same: type.low === type.high,
      count: countOf(type),
    }));
    this.#edges = code.edges.map(({ from, to, link }) => {
      const straight = code.labels[from] <= code.labels[to];
      const [low, high] = straight ? [from, to] : [to, from];
      const type = needed.findIndex(
        (one) => one.low === code.labels[low] && one.high === code.labels[high] && one.link === link,
      );
      return { type, straight };
    });
    this.#firsts = nodesWith(code.labels[0]);
  }

  /** Puts the links anew and tells whether the structure is there. */
  meets(random: Random): boolean {
    const pairs = this.#types.map((type) => placed(type, random));
    const joined = pairs.map((all) => new Set(all.map(([a, b]) => pairKey(a, b))));
    const place = (at: number, row: readonly number[]): boolean => {
      if (at === this.#edges.length) return true;
      const { from, to } = this.#code.edges[at];
      const { type, straight } = this.#edges[at];
      const has = (a: number, b: number) =>
        joined[type].has(straight ? pairKey(a, b) : pairKey(b, a)) ||
        (this.#types[type].same && joined[type].has(pairKey(b, a)));
      if (to < row.length) return has(row[from], row[to]) && place(at + 1, row);
      return pairs[type].some(([a, b]) => {
        const ends = straight ? [a, b] : [b, a];
        if (ends[0] === row[from] && !row.includes(ends[1])) return place(at + 1, [...row, ends[1]]);
        return (
          this.#types[type].same &&
          ends[1] === row[from] &&
          !row.includes(ends[0]) &&
          place(at + 1, [...row, ends[0]])
        );
      });
    };
    return this.#firsts.some((node) => place(0, [node]));
  }
}

/** Nodes of a store are below 2²⁶, so that two make one exact number. */
function pairKey(a: number, b: number): number {
  return a * 2 ** 26 + b;
}

/** Distinct pairs at random, as many as there are links of the type. */
function placed(
  {
    lows,
    highs,
    same,
    count,
  }: {
    readonly lows: readonly number[];
    readonly highs: readonly number[];
    readonly same: boolean;
    readonly count: number;
  },
  random: Random,
): readonly (readonly [number, number])[] {
  const pairs: (readonly [number, number])[] = [];
  const taken = new Set<number>();
  while (pairs.length < count) {
    const a = lows[Math.floor(random.uniform() * lows.length)];
    const b = highs[Math.floor(random.uniform() * highs.length)];
    const key = same ? pairKey(Math.min(a, b), Math.max(a, b)) : pairKey(a, b);
    if (a === b || taken.has(key)) continue;
    taken.add(key);
    pairs.push([a, b]);
  }
  return pairs;
}
