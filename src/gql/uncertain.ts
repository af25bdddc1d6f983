/**
 * The uncertain labels that a match depends on.
 */
import {
  FALSE,
  type LabelTest,
  labelSetTruths,
  labelsIn,
  TRUE,
  truthOf,
  UNKNOWN,
} from './plan/label-test.ts';
import type { PlannableClause } from './plan/match.ts';
import { matchesOf } from './search/clauses.ts';
import type { Store } from './storage/store.ts';

/** A membership whose weight is below 1. */
export interface Uncertain {
  /** Number of the node in the graph. */
  readonly node: number;
  readonly label: string;
  /** Above 0 and below 1. */
  readonly weight: number;
}

/** A label test of one node that its uncertain memberships decide. */
export interface OpenTest {
  /** Number of the node in the graph, and its id. */
  readonly node: number;
  readonly id: string;
  readonly uncertain: readonly Uncertain[];
  /**
   * Whether the test holds if exactly those uncertain memberships of the node are true for which `isTrue` returns true.
   */
  readonly holdsIn: (isTrue: (label: string) => boolean) => boolean;
}

/** A label expression of a query, and the place of its node in a row. */
export interface LabelPlace {
  readonly slot: number;
  readonly label: LabelTest;
  /** Whether a list may be there instead of a node. */
  readonly group: boolean;
  /** Truth by label set. */
  readonly truths: Uint8Array;
}

/** The label expressions of node patterns, those of quantified paths included. */
export function labelPlaces(store: Store, clauses: readonly PlannableClause[]): LabelPlace[] {
  const places: LabelPlace[] = [];
  const add = (slot: number, label: LabelTest | undefined, group: boolean) => {
    if (label) places.push({ slot, label, group, truths: labelSetTruths(label, store.catalog) });
  };
  for (const { pattern, labelledGroups } of matchesOf(clauses)) {
    for (const { slot, label } of pattern.nodes) add(slot, label, false);
    for (const { slot, label } of labelledGroups) add(slot, label, true);
  }
  return places;
}

/** The open tests of the matches of a segment; results for a node are shared by all matches that use it. */
export class OpenTests {
  readonly #store: Store;
  readonly #places: readonly LabelPlace[];
  /** By place and node; null for a test that certainly holds. */
  readonly #found: Map<number, OpenTest | null>[] = [];

  constructor(store: Store, places: readonly LabelPlace[]) {
    this.#store = store;
    this.#places = places;
  }

  /** The uncertain tests of a row. */
  of(row: Int32Array, values: readonly unknown[]): readonly OpenTest[] {
    const open: OpenTest[] = [];
    this.#places.forEach(({ slot, group }, place) => {
      const listed = group ? values[slot] : undefined;
      const nodes = Array.isArray(listed) ? (listed.flat(8) as number[]) : [row[slot]!];
      for (const node of nodes) {
        const test = node >= 0 ? this.#testOf(place, node) : null;
        if (test) open.push(test);
      }
    });
    return open;
  }

  #testOf(place: number, node: number): OpenTest | null {
    const { catalog, nodeRow } = this.#store;
    const { label, truths } = this.#places[place]!;
    if (truths[catalog.nodeKinds[nodeRow.view[node * 4]!]!.labelSet] === TRUE) return null;
    this.#found[place] ??= new Map();
    const found = this.#found[place];
    let test = found.get(node);
    if (test === undefined) {
      test = openTest(this.#store, node, label);
      found.set(node, test);
    }
    return test;
  }
}

function openTest(store: Store, node: number, test: LabelTest): OpenTest | null {
  const weights = new Map(store.nodeLabels(node).map(({ label, weight }) => [label, weight]));
  const truth = truthWith(test, weights, (weight) => (weight >= 1 ? TRUE : weight > 0 ? UNKNOWN : FALSE));
  if (truth === TRUE) return null;
  const named = labelsIn(test);
  const uncertain: Uncertain[] = [];
  for (const label of new Set(named.length > 0 ? named : weights.keys())) {
    const weight = weights.get(label) ?? 0;
    if (weight > 0 && weight < 1) uncertain.push({ node, label, weight });
  }
  const holdsIn: OpenTest['holdsIn'] = (isTrue) =>
    truthWith(test, weights, (weight, label) =>
      weight >= 1 || (weight > 0 && isTrue(label)) ? TRUE : FALSE,
    ) === TRUE;
  return { node, id: store.nodeId(node), uncertain, holdsIn };
}

/** The uncertain memberships that tests use, without duplicates. */
export function uncertainIn(tests: readonly OpenTest[]): readonly Uncertain[] {
  const found: Uncertain[] = [];
  for (const { uncertain } of tests)
    for (const one of uncertain)
      if (!found.some(({ node, label }) => node === one.node && label === one.label)) found.push(one);
  return found;
}

function truthWith(
  test: LabelTest,
  weights: ReadonlyMap<string, number>,
  truth: (weight: number, label: string) => number,
): number {
  let any = FALSE;
  for (const [name, weight] of weights) any = Math.max(any, truth(weight, name));
  return truthOf(test, (name) => truth(weights.get(name) ?? 0, name), any);
}
