/**
 * How many nodes and edges a pattern's elements can match, from the totals of the inverted index. Edge counts are
 * exact per pair of label sets, so the correlation between a label and its neighbours' labels is in them (the point
 * of Neumann and Moerkotte, "Characteristic sets", ICDE 2011, at the length of one edge).
 */
import type { FeatureIndex, Shape } from '../index/feature-index.ts';
import type { Catalog } from '../storage/catalog.ts';
import { codeOf, IN, OUT, UNDIRECTED } from '../storage/catalog.ts';
import { edgeLabelTruths, labelSetTruths, nameOfTest } from './label-test.ts';
import { BACKWARD, FORWARD, type Pattern, type PatternEdge, type PatternNode, SIDEWAYS } from './pattern.ts';
import type { ValueAsked } from './step.ts';

/** Nodes thought to have a value that none has, so that costs stay comparable. */
const LEAST = 0.1;
/** Largest fraction of nodes for which a list of them is better than going through all. */
const LISTED = 0.4;

export class Estimates {
  /** Per pattern node: nodes whose labels fit. */
  readonly nodes: readonly number[];
  /** Per pattern edge: edges whose label and ends fit, counted once for each way it fits. */
  readonly edges: readonly number[];
  /**
   * Per pattern edge: entries that walks from `from`, and from `to`, have to look at, over all such nodes: edges of
   * the label whatever is at the other end.
   */
  readonly entries: readonly (readonly [number, number])[];
  /** Per pattern edge: whether walks from `from`, and from `to`, enter through handles. */
  readonly entered: readonly (readonly [boolean, boolean])[];
  /** Per pattern edge: whether it may join two segments. */
  readonly crossing: readonly boolean[];
  /** Per pattern node: truth of its label expression for every label set. */
  readonly sets: readonly Uint8Array[];
  readonly segments: number;
  /** Per condition: fraction of the bindings that are thought to pass. */
  readonly selectivity: readonly number[];
  /** Per pattern node: the value of a property that leads to few of its nodes, and their fraction. */
  readonly lists: readonly ({ readonly asked: ValueAsked; readonly fraction: number } | undefined)[];

  constructor(
    pattern: Pattern,
    index: FeatureIndex,
    catalog: Catalog,
    segments: number,
    setsOf: (node: PatternNode) => Uint8Array = (node) => labelSetTruths(node.label, catalog),
  ) {
    this.segments = Math.max(1, segments);
    const labels = pattern.nodes.map(labelsAsked);
    this.sets = oncePer(labels, (i) => setsOf(pattern.nodes[i]!));
    this.nodes = oncePer(labels, (i) => totalOf(this.sets[i]!, index));
    const places = new Map(pattern.nodes.map(({ slot }, node) => [slot, node]));
    const lists: Estimates['lists'][number][] = pattern.nodes.map(() => undefined);
    this.selectivity = pattern.conditions.map(({ equals, selectivity }) => {
      const node = equals && places.get(equals.slot);
      if (!equals || node === undefined) return selectivity;
      const key = catalog.findKey(equals.key);
      const { storage, value } = equals;
      const fraction =
        storage === 'number' ? selectivity : this.#having(index, key, value, this.nodes[node]!);
      if (key >= 0 && !pattern.nodes[node]!.bound && fraction <= (lists[node]?.fraction ?? LISTED))
        lists[node] = { asked: { key, storage, value }, fraction };
      return fraction;
    });
    this.lists = lists;
    const asked = pattern.edges.map(
      ({ label, directions, leastTruth, from, to }) =>
        `${nameOfTest(label)} ${directions} ${leastTruth} ${labels[from]} > ${labels[to]}`,
    );
    const counted = oncePer(asked, (i) => this.#count(pattern.edges[i]!, index, catalog));
    this.edges = counted.map(({ edges }) => edges);
    this.crossing = counted.map(({ crossing }) => crossing);
    this.entered = counted.map(({ entered }) => entered);
    this.entries = counted.map(({ entries }) => entries);
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
    const every = new Uint8Array(catalog.labelSets.length).fill(1);
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
      if (edge.directions & FORWARD) edges += shapeTotal(index, label * 2, fromSets, to);
      if (edge.directions & BACKWARD) edges += shapeTotal(index, label * 2, toSets, from);
      if (edge.directions & SIDEWAYS)
        edges +=
          shapeTotal(index, label * 2 + 1, fromSets, to) + shapeTotal(index, label * 2 + 1, toSets, from);
      for (const [direction, code] of [
        [FORWARD, codeOf(label, OUT)],
        [BACKWARD, codeOf(label, IN)],
        [SIDEWAYS, codeOf(label, UNDIRECTED)],
      ] as const) {
        if (!(edge.directions & direction)) continue;
        const mirrored = code % 3 === UNDIRECTED ? code : code % 3 === OUT ? code + 1 : code - 1;
        const here = crossingTotal(index, code, from);
        const there = crossingTotal(index, mirrored, to);
        const unseen = crossingTotal(index, mirrored, every);
        edges += here + there;
        fromEntered ||= there > 0;
        toEntered ||= here > 0;
        fromEntries += shapeEntries(index, code, fromSets) + here + unseen;
        toEntries += shapeEntries(index, mirrored, toSets) + there + crossingTotal(index, code, every);
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
  truths.forEach((truth, set) => {
    if (truth > 0) sum += index.nodes[set]?.total ?? 0;
  });
  return sum;
}

/** Label sets that fit, which are few among many when a label is asked for. */
export function fittingSets(truths: Uint8Array): number[] {
  const sets: number[] = [];
  for (let set = 0; set < truths.length; set++) if (truths[set] !== 0) sets.push(set);
  return sets;
}

function shapeTotal(index: FeatureIndex, code: number, from: readonly number[], to: Uint8Array): number {
  const byFrom = index.shapes[code];
  if (!byFrom) return 0;
  let sum = 0;
  for (const set of from)
    for (const shape of byFrom.get(set) ?? []) if (to[shape.to] !== 0) sum += shape.postings.total;
  return sum;
}

/** Edges inside segments with an adjacency code, seen from nodes of some label sets. */
function shapeEntries(index: FeatureIndex, code: number, at: readonly number[]): number {
  const label = Math.floor(code / 3);
  const direction = code % 3;
  let sum = 0;
  const add = (bySet: Map<number, Shape[]> | undefined) => {
    if (!bySet) return;
    for (const set of at) for (const shape of bySet.get(set) ?? []) sum += shape.postings.total;
  };
  if (direction !== IN) add(index.shapes[direction === OUT ? label * 2 : label * 2 + 1]);
  if (direction !== OUT) add(index.shapesByTo[direction === IN ? label * 2 : label * 2 + 1]);
  return sum;
}

function crossingTotal(index: FeatureIndex, code: number, from: Uint8Array): number {
  let sum = 0;
  for (const [set, { postings }] of index.crossings[code] ?? [])
    if (set < 0 || from[set] !== 0) sum += postings.total;
  return sum;
}
