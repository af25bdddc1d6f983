/**
 * How many nodes and edges a pattern's elements can match, from the totals of the inverted index. Edge counts are
 * exact per pair of label sets, so the correlation between a label and its neighbours' labels is in them (the point
 * of Neumann and Moerkotte, "Characteristic sets", ICDE 2011, at the length of one edge). Where many segments can hold
 * the pattern, a sample of them says what these are like, and values that are asked for; see `sample.ts`.
 */
import type { FeatureIndex, Shape } from '../index/feature-index.ts';
import type { Catalog } from '../storage/catalog.ts';
import { codeOf, IN, OUT, UNDIRECTED } from '../storage/catalog.ts';
import { edgeLabelTruths, labelSetTruths, nameOfTest } from './label-test.ts';
import { BACKWARD, FORWARD, type Pattern, type PatternEdge, type PatternNode, SIDEWAYS } from './pattern.ts';
import type { Sample, SampledNode } from './sample.ts';
import type { ValueAsked } from './step.ts';

/** Nodes thought to have a value that none has, so that costs stay comparable. */
const LEAST = 0.1;
/** Largest fraction of nodes for which a list of them is better than going through all. */
const LISTED = 0.4;

/** How much more than the mean a walk finds where it arrives at things that many segments point to. */
const SKEW = 4;
/** Entries that can be looked at while a property is read. */
const TEST = 2;
/** What is known from the index weighs as much as so many segments, and so many nodes, of a sample. */
const PRIOR = { segments: 4, nodes: 8 };

export class Estimates {
  /** Per pattern node: truth of its label expression for every label set. */
  readonly sets: readonly Uint8Array[];
  /** Per pattern edge: whether walks from `from`, and from `to`, enter through handles. */
  readonly entered: readonly (readonly [boolean, boolean])[];
  /** Per pattern edge: whether it may join two segments. */
  readonly crossing: readonly boolean[];
  /** Per pattern node: nodes whose labels fit and that have the values asked of them. */
  readonly nodes: readonly number[];
  /** Per pattern node: nodes that a scan goes through to find these. */
  readonly visited: readonly number[];
  /** Per pattern node: segments that can hold it. */
  readonly segments: readonly number[];
  /** Per condition: fraction of the bindings that are thought to pass; 1 for those that are in `nodes`. */
  readonly selectivity: readonly number[];
  /** Per pattern node: the value of a property that leads to few of its nodes. */
  readonly lists: readonly (ValueAsked | undefined)[];
  /** Per pattern node: what looking at one that a walk comes across costs, in entries. */
  readonly tests: readonly number[];
  /** Per pattern edge: edges whose label and ends fit, counted once for each way it fits. */
  readonly #edges: readonly number[];
  /**
   * Per pattern edge: entries that walks from `from`, and from `to`, have to look at, over all such nodes: edges of
   * the label whatever is at the other end.
   */
  readonly #entries: readonly (readonly [number, number])[];
  /** Per pattern node: nodes whose labels fit, and the fraction of them with the values asked for. */
  readonly #labelled: readonly number[];
  readonly #fraction: readonly number[];
  readonly #pattern: Pattern;
  readonly #sample: Sample | undefined;

  /** @param sampled what a sample of the segments that can hold a pattern shows, given its label sets */
  constructor(
    pattern: Pattern,
    index: FeatureIndex,
    catalog: Catalog,
    segments: number,
    setsOf: (node: PatternNode) => Uint8Array = (node) => labelSetTruths(node.label, catalog),
    sampled?: (rough: Pick<Estimates, 'sets' | 'crossing' | 'entered'>) => Sample | undefined,
  ) {
    this.#pattern = pattern;
    const labels = pattern.nodes.map(labelsAsked);
    this.sets = oncePer(labels, (i) => setsOf(pattern.nodes[i]!));
    this.#labelled = oncePer(labels, (i) => totalOf(this.sets[i]!, index));
    const asked = pattern.edges.map(
      ({ label, directions, leastTruth, from, to }) =>
        `${nameOfTest(label)} ${directions} ${leastTruth} ${labels[from]} > ${labels[to]}`,
    );
    const counted = oncePer(asked, (i) => this.#count(pattern.edges[i]!, index, catalog));
    this.#edges = counted.map(({ edges }) => edges);
    this.crossing = counted.map(({ crossing }) => crossing);
    this.entered = counted.map(({ entered }) => entered);
    this.#entries = counted.map(({ entries }) => entries);
    this.#sample = sampled?.(this);

    const places = new Map(pattern.nodes.map(({ slot }, node) => [slot, node]));
    const fraction = pattern.nodes.map(() => 1);
    const tests = pattern.nodes.map(() => 1);
    const best: ({ asked: ValueAsked; fraction: number } | undefined)[] = pattern.nodes.map(() => undefined);
    this.selectivity = pattern.conditions.map(({ equals, selectivity }, i) => {
      const node = equals && places.get(equals.slot);
      if (!equals || node === undefined || pattern.nodes[node]!.bound) return selectivity;
      const { storage, value } = equals;
      const key = catalog.findKey(equals.key);
      const known =
        storage === 'number' ? selectivity : this.#having(index, key, value, this.#labelled[node]!);
      const seen = this.#sample?.nodes[node];
      const passing = seen
        ? (seen.passing.get(i)! + known * PRIOR.nodes) / (seen.labelled + PRIOR.nodes)
        : known;
      fraction[node]! *= passing;
      tests[node]! += TEST;
      if (key >= 0 && passing <= (best[node]?.fraction ?? LISTED))
        best[node] = { asked: { key, name: equals.key, storage, value }, fraction: passing };
      return 1;
    });
    this.#fraction = fraction;
    this.tests = tests;
    this.lists = best.map((list) => list?.asked);
    this.segments = pattern.nodes.map((_, n) => this.#sample?.nodes[n]?.segments ?? Math.max(1, segments));
    const inAll = (n: number, count: (seen: SampledNode) => number, known: number): number => {
      const seen = this.#sample?.nodes[n];
      if (!seen) return known;
      // A sample of all of them needs no help.
      const prior = seen.taken < seen.segments ? PRIOR.segments : 0;
      const each = (count(seen) + (known / Math.max(1, segments)) * prior) / Math.max(1, seen.taken + prior);
      return each * seen.segments;
    };
    this.nodes = pattern.nodes.map((_, n) =>
      inAll(n, ({ fitting }) => fitting, this.#labelled[n]! * fraction[n]!),
    );
    this.visited = pattern.nodes.map(
      (_, n) => inAll(n, ({ labelled }) => labelled, this.#labelled[n]!) * (best[n]?.fraction ?? 1),
    );
  }

  /**
   * Edges that fit and lead to a node that fits, from a node at an end of an edge.
   *
   * @param side 0 when the node is the edge's `from`, 1 for `to`
   * @param reached whether a walk has arrived at the node or gone on from it, and so more often where there are many
   *   edges
   */
  fan(edge: number, side: 0 | 1, reached: boolean): number {
    const { from, to } = this.#pattern.edges[edge]!;
    const [start, end] = side === 0 ? [from, to] : [to, from];
    const known = (this.#edges[edge]! / Math.max(1, this.#labelled[start]!)) * this.#fraction[end]!;
    return this.#blended(known, edge, side, reached, 'fitting');
  }

  /** Edges of the label, whatever they lead to, at a node at an end of an edge. */
  entries(edge: number, side: 0 | 1, reached: boolean): number {
    const { from, to } = this.#pattern.edges[edge]!;
    const known = this.#entries[edge]![side] / Math.max(1, this.#labelled[side === 0 ? from : to]!);
    return this.#blended(known, edge, side, reached, 'entries');
  }

  #blended(known: number, edge: number, side: 0 | 1, reached: boolean, what: 'fitting' | 'entries'): number {
    const scanned = this.#sample?.scanned[edge]?.[side];
    const arrived = this.#sample?.reached[edge]?.[side];
    const seen = reached && arrived && arrived.starts > 0 ? arrived : scanned;
    const isEntered = this.entered[edge]![side];
    if (!seen || seen.starts === 0) return reached && isEntered ? known * SKEW : known;
    if (!isEntered) return (seen[what] + known * PRIOR.nodes) / (seen.starts + PRIOR.nodes);
    // Lists of what many segments point to are very uneven: a few of them say little against the mean of all.
    const mean = seen[what] / seen.starts;
    return seen === scanned ? Math.max(known, mean) : mean;
  }

  /** Whether every edge of the label leads to a node whose labels fit, from nodes whose labels fit. */
  isSure(edge: number, side: 0 | 1): boolean {
    return this.#entries[edge]![side] === this.#edges[edge] && !this.crossing[edge];
  }

  /** Chance that an edge joins two nodes that fit, in one segment unless the edge may leave it. */
  joined(edge: number): number {
    const { to } = this.#pattern.edges[edge]!;
    const ends = Math.max(1, this.nodes[to]! / (this.crossing[edge] ? 1 : this.segments[to]!));
    return Math.min(1, this.fan(edge, 0, false) / ends);
  }

  /** Fraction of nodes with a string or boolean; how often a number is there is not known. */
  #having(index: FeatureIndex, key: number, value: number, nodes: number): number {
    const found = key < 0 || value < 0 ? 0 : (index.valuePostings(key, value)?.total ?? 0);
    return Math.min(1, Math.max(found, LEAST) / Math.max(1, nodes));
  }

  #count(
    edge: PatternEdge,
    index: FeatureIndex,
    catalog: Catalog,
  ): {
    edges: number;
    crossing: boolean;
    entries: readonly [number, number];
    entered: readonly [boolean, boolean];
  } {
    let fromEntered = false;
    let toEntered = false;
    let fromEntries = 0;
    let toEntries = 0;
    const from = this.sets[edge.from]!;
    const to = this.sets[edge.to]!;
    const fromSets = fittingSets(from);
    const toSets = fittingSets(to);
    let edges = 0;
    let crossing = false;
    edgeLabelTruths(edge.label, catalog, edge.leastTruth).forEach((passes, label) => {
      if (passes !== 1) return;
      if (edge.directions & FORWARD) edges += shapeTotal(index, label * 2, fromSets, toSets);
      if (edge.directions & BACKWARD) edges += shapeTotal(index, label * 2, toSets, fromSets);
      if (edge.directions & SIDEWAYS)
        edges +=
          shapeTotal(index, label * 2 + 1, fromSets, toSets) +
          shapeTotal(index, label * 2 + 1, toSets, fromSets);
      for (const [direction, code] of [
        [FORWARD, codeOf(label, OUT)],
        [BACKWARD, codeOf(label, IN)],
        [SIDEWAYS, codeOf(label, UNDIRECTED)],
      ] as const) {
        if (!(edge.directions & direction)) continue;
        const mirrored = code % 3 === UNDIRECTED ? code : code % 3 === OUT ? code + 1 : code - 1;
        const here = crossingTotal(index, code, from);
        const there = crossingTotal(index, mirrored, to);
        const unseen = crossingTotal(index, mirrored);
        edges += here + there;
        fromEntered ||= there > 0;
        toEntered ||= here > 0;
        fromEntries += shapeEntries(index, code, fromSets) + here + unseen;
        toEntries += shapeEntries(index, mirrored, toSets) + there + crossingTotal(index, code);
        if (here + there > 0) crossing = true;
      }
    });
    return { edges, crossing, entries: [fromEntries, toEntries], entered: [fromEntered, toEntered] };
  }
}

/** Per pattern node: nodes of the graph whose labels fit. */
export function nodeTotals(
  nodes: readonly PatternNode[],
  index: FeatureIndex,
  setsOf: (node: PatternNode) => Uint8Array,
): number[] {
  return oncePer(nodes.map(labelsAsked), (i) => totalOf(setsOf(nodes[i]!), index));
}

/** A text that is equal for nodes with the same label tests. */
export function labelsAsked({ label, known, leastTruth }: PatternNode): string {
  if (!label && !known) return '';
  return `${leastTruth} ${nameOfTest(label)} ${nameOfTest(known)}`;
}

/** Calculates something once for all places with the same name. */
function oncePer<T>(names: readonly string[], calculate: (i: number) => T): T[] {
  const known = new Map<string, T>();
  return names.map((name, i) => {
    let value = known.get(name);
    if (value === undefined) {
      value = calculate(i);
      known.set(name, value);
    }
    return value;
  });
}

function totalOf(truths: Uint8Array, index: FeatureIndex): number {
  let sum = 0;
  for (const set of fittingSets(truths)) sum += index.nodes[set]?.total ?? 0;
  return sum;
}

/** By tables of label sets, which queries share. */
const fittingKept = new WeakMap<Uint8Array, readonly number[]>();

/** Label sets that fit, which are few among many when a label is asked for. */
export function fittingSets(truths: Uint8Array): readonly number[] {
  let sets = fittingKept.get(truths);
  if (!sets) {
    const fitting: number[] = [];
    for (let set = 0; set < truths.length; set++) if (truths[set] !== 0) fitting.push(set);
    sets = fitting;
    fittingKept.set(truths, sets);
  }
  return sets;
}

function shapeTotal(
  index: FeatureIndex,
  code: number,
  from: readonly number[],
  to: readonly number[],
): number {
  let sum = 0;
  for (const { postings } of index.shapesBetween(code, from, to)) sum += postings.total;
  return sum;
}

/** Edges inside segments with an adjacency code, seen from nodes of some label sets. */
function shapeEntries(index: FeatureIndex, code: number, at: readonly number[]): number {
  const label = Math.floor(code / 3);
  const direction = code % 3;
  let sum = 0;
  const add = (bySet: Map<number, Shape[]> | undefined) => {
    if (!bySet) return;
    for (const set of at) sum += index.edgesOf(bySet.get(set));
  };
  if (direction !== IN) add(index.shapes[direction === OUT ? label * 2 : label * 2 + 1]);
  if (direction !== OUT) add(index.shapesByTo[direction === IN ? label * 2 : label * 2 + 1]);
  return sum;
}

/** @param from label sets of the near end; all when not given */
function crossingTotal(index: FeatureIndex, code: number, from?: Uint8Array): number {
  let sum = 0;
  for (const [set, { postings }] of index.crossings[code] ?? [])
    if (!from || set < 0 || from[set] !== 0) sum += postings.total;
  return sum;
}
