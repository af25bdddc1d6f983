import { wilson } from '../statistics/proportion.ts';
import type { Random } from '../statistics/random.ts';
import type { Chance } from './answer.ts';
import type { Code } from './dfs-code.ts';
import { type GraphStore, hasLabel } from './graph-store.ts';
import { isStraight, LinkCounts, type LinkType, type Needed, neededBy, typeOf } from './link-types.ts';
import { symmetries } from './occurrences.ts';

/** Shuffled graphs looked at for a structure: a standard error of at most 0.8 percentage points. */
const SHUFFLES = 4_000;
/** Graphs that are shuffled; beyond these a sample of them, evenly spaced. */
const MAX_GRAPHS = 400;

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
    const needed = neededBy(code, this.#store.reverse);
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
    const needed = neededBy(code, this.#store.reverse);
    const holders = spaced(this.#holders(needed), MAX_GRAPHS);
    const ways = symmetries(code, this.#store.reverse);
    const expected = this.#expectedWays(code, needed);
    let meeting = 0;
    for (const graph of holders) meeting += Math.min(1, expected(graph) / ways);
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

  /** Ways in which a structure is expected to lie in a shuffled graph, symmetries counted. */
  #expectedWays(code: Code, needed: readonly Needed[]): (graph: number) => number {
    const { labels, edges } = code;
    const { reverse } = this.#store;
    const nodes = labels.map((label, at) => ({
      counts: this.#counts.nodesOf(label),
      before: labels.slice(0, at).filter((other) => other === label).length,
    }));
    const links = needed.map((type) => ({
      times: edges.filter((edge) => isOf(typeOf(code, edge, reverse), type)).length,
      counts: this.#counts.of(type),
      lows: this.#counts.nodesOf(type.low),
      highs: this.#counts.nodesOf(type.high),
      same: type.low === type.high,
      ordered: reverse[type.link] !== type.link,
    }));
    return (graph) => {
      let ways = 1;
      for (const { counts, before } of nodes) ways *= Math.max(0, counts[graph] - before);
      for (const { times, counts, lows, highs, same, ordered } of links) {
        const pairs = same
          ? (lows[graph] * (lows[graph] - 1)) / (ordered ? 1 : 2)
          : lows[graph] * highs[graph];
        ways *= (counts[graph] / pairs) ** times;
      }
      return ways;
    };
  }

  #shuffled(code: Code, needed: readonly Needed[], holders: readonly number[], random: Random) {
    const chosen = spaced(holders, MAX_GRAPHS);
    const rounds = needed.length === 1 && needed[0].times === 1 ? 1 : Math.ceil(SHUFFLES / chosen.length);
    let met = 0;
    for (const graph of chosen) {
      const shuffle = new Shuffle(this.#store, graph, code, needed, (type) => this.#counts.of(type)[graph]);
      for (let round = 0; round < rounds; round++) if (shuffle.meets(random)) met++;
    }
    return { met, shuffles: chosen.length * rounds };
  }
}

function isOf(one: LinkType, other: LinkType): boolean {
  return one.low === other.low && one.high === other.high && one.link === other.link;
}

/** At most so many of the items, evenly spaced. */
export function spaced<T>(items: readonly T[], most: number): readonly T[] {
  if (items.length <= most) return items;
  return Array.from({ length: most }, (_, at) => items[Math.floor((at * items.length) / most)]);
}

/** Links of one type in one graph: nodes that may be their ends, and ends as last put. */
interface Pile {
  readonly lows: readonly number[];
  readonly highs: readonly number[];
  /** Whether both ends are of one kind and the link has no direction, so that a pair has no order. */
  readonly same: boolean;
  readonly from: Int32Array;
  readonly to: Int32Array;
}

/** One graph whose links of the needed types are put at random again and again. */
class Shuffle {
  readonly #piles: readonly Pile[];
  /** For each edge of the structure its ends, its pile, and whether its tail has the smaller label of the type. */
  readonly #edges: readonly {
    readonly from: number;
    readonly to: number;
    readonly pile: Pile;
    readonly straight: boolean;
  }[];
  readonly #firsts: readonly number[];
  readonly #row: Int32Array;

  constructor(
    store: GraphStore,
    graph: number,
    code: Code,
    needed: readonly Needed[],
    countOf: (type: Needed) => number,
  ) {
    const { labels, edges } = code;
    const { reverse } = store;
    const nodesWith = (label: number) => {
      const all: number[] = [];
      for (let node = store.graphs[graph]; node < store.graphs[graph + 1]; node++)
        if (hasLabel(store, node, label)) all.push(node);
      return all;
    };
    this.#piles = needed.map((type) => ({
      lows: nodesWith(type.low),
      highs: nodesWith(type.high),
      same: type.low === type.high && reverse[type.link] === type.link,
      from: new Int32Array(countOf(type)),
      to: new Int32Array(countOf(type)),
    }));
    this.#edges = edges.map((edge) => {
      const type = typeOf(code, edge, reverse);
      const pile = this.#piles[needed.findIndex((one) => isOf(one, type))];
      return { from: edge.from, to: edge.to, pile, straight: isStraight(code, edge, reverse) };
    });
    this.#firsts = nodesWith(labels[0]);
    this.#row = new Int32Array(labels.length);
  }

  /** Shuffles the links again and says whether the structure is there. */
  meets(random: Random): boolean {
    for (const pile of this.#piles) put(pile, random);
    for (const node of this.#firsts) {
      this.#row[0] = node;
      if (this.#place(0, 1)) return true;
    }
    return false;
  }

  /** Whether the edges from `at` on fit the first `placed` nodes of the row. */
  #place(at: number, placed: number): boolean {
    if (at === this.#edges.length) return true;
    const { from, to, pile, straight } = this.#edges[at];
    const tail = this.#row[from];
    const [tails, heads] = straight ? [pile.from, pile.to] : [pile.to, pile.from];
    for (let one = 0; one < tails.length; one++) {
      const head = tails[one] === tail ? heads[one] : pile.same && heads[one] === tail ? tails[one] : -1;
      if (head < 0) continue;
      if (to < placed) {
        if (this.#row[to] === head && this.#place(at + 1, placed)) return true;
        continue;
      }
      if (this.#row.subarray(0, placed).includes(head)) continue;
      this.#row[placed] = head;
      if (this.#place(at + 1, placed + 1)) return true;
    }
    return false;
  }
}

/** Puts the links of a pile between distinct pairs, all sets of pairs equally likely. */
function put({ lows, highs, same, from, to }: Pile, random: Random): void {
  for (let at = 0; at < from.length; ) {
    const a = lows[Math.floor(random.uniform() * lows.length)];
    const b = highs[Math.floor(random.uniform() * highs.length)];
    if (a === b || taken(from, to, at, a, b) || (same && taken(from, to, at, b, a))) continue;
    from[at] = a;
    to[at] = b;
    at++;
  }
}

function taken(from: Int32Array, to: Int32Array, count: number, a: number, b: number): boolean {
  for (let at = 0; at < count; at++) if (from[at] === a && to[at] === b) return true;
  return false;
}
