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
import { matchesOf } from './search/prepared-clauses.ts';
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
  /** The same object for all tests of a search that hold under the same memberships, whatever their nodes. */
  readonly alike: object;
}

/** An edge that a match uses. The same object for all matches of a segment that use it. */
export interface MatchedEdge {
  readonly id: string | undefined;
  /** Empty when it has none. */
  readonly label: string;
  /** Number of the node, and its id: -1 and empty for a node that is missing. */
  readonly source: number;
  readonly sourceId: string;
  readonly target: number;
  readonly targetId: string;
  /** A property, null when it has none of the name. To be read during the search. */
  readonly property: (key: string) => unknown;
}

/**
 * Under which circumstances a match holds, besides its open tests and its edges that may not be there: that of its
 * conditions.
 */
export type Requirement =
  | boolean
  | { readonly kind: 'test'; readonly test: OpenTest }
  | { readonly kind: 'edge'; readonly edge: MatchedEdge }
  | { readonly kind: 'all' | 'any'; readonly of: readonly Requirement[] }
  | { readonly kind: 'not'; readonly of: Requirement }
  /** Too long to be written down: it may hold or not. */
  | { readonly kind: 'open' };

/** A label expression of a query, and the place of its node in a row. */
export interface LabelPlace {
  readonly slot: number;
  readonly label: LabelTest;
  /** Whether a list may be there instead of a node. */
  readonly group: boolean;
  /** Truth by label set. */
  readonly truths: Uint8Array;
  /** Number of the MATCH among all of the query. */
  readonly clause: number;
}

/** The label expressions of node patterns, those of quantified paths included. */
export function labelPlaces(store: Store, clauses: readonly PlannableClause[]): LabelPlace[] {
  const places: LabelPlace[] = [];
  matchesOf(clauses).forEach(({ pattern, labelledGroups }, clause) => {
    const add = (slot: number, label: LabelTest | undefined, group: boolean) => {
      if (label) places.push({ slot, label, group, clause, truths: labelSetTruths(label, store.catalog) });
    };
    for (const { slot, label } of pattern.nodes) add(slot, label, false);
    for (const { slot, label } of labelledGroups) add(slot, label, true);
  });
  return places;
}

/** What tests of a search have in common: their label expression, and the labels of their nodes. */
export class AlikeTests {
  readonly #known = new Map<LabelTest, Map<number, object>>();

  of(label: LabelTest, labelSet: number): object {
    let bySet = this.#known.get(label);
    if (!bySet) {
      bySet = new Map();
      this.#known.set(label, bySet);
    }
    let alike = bySet.get(labelSet);
    if (!alike) {
      alike = {};
      bySet.set(labelSet, alike);
    }
    return alike;
  }
}

/** The open tests of the matches of a segment; results for a node are shared by all matches that use it. */
export class OpenTests {
  readonly #store: Store;
  readonly #places: readonly LabelPlace[];
  readonly #alike: AlikeTests;
  /** By label expression and node; null for a test that certainly holds. */
  readonly #found = new Map<LabelTest, Map<number, OpenTest | null>>();

  constructor(store: Store, places: readonly LabelPlace[], alike: AlikeTests) {
    this.#store = store;
    this.#places = places;
    this.#alike = alike;
  }

  /** The uncertain tests of a row, but for those of clauses that were left out. */
  of(row: Int32Array, values: readonly unknown[], skipped: readonly number[]): readonly OpenTest[] {
    const open: OpenTest[] = [];
    for (const { slot, group, label, truths, clause } of this.#places) {
      if (skipped.includes(clause)) continue;
      const listed = group ? values[slot] : undefined;
      const nodes = Array.isArray(listed) ? (listed.flat(8) as number[]) : [row[slot]!];
      for (const node of nodes) {
        if (node < 0 || this.#truth(truths, node) === TRUE) continue;
        const test = this.testOf(label, node);
        if (test) open.push(test);
      }
    }
    return open;
  }

  /** The test of a node; null when it certainly holds. */
  testOf(label: LabelTest, node: number): OpenTest | null {
    let tests = this.#found.get(label);
    if (!tests) {
      tests = new Map();
      this.#found.set(label, tests);
    }
    let test = tests.get(node);
    if (test === undefined) {
      test = openTest(this.#store, node, label, this.#alike);
      tests.set(node, test);
    }
    return test;
  }

  #truth(truths: Uint8Array, node: number): number {
    const { catalog, nodeRow } = this.#store;
    return truths[catalog.nodeKinds[nodeRow.view[node * 4]!]!.labelSet]!;
  }
}

function openTest(store: Store, node: number, test: LabelTest, known: AlikeTests): OpenTest | null {
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
  const { nodeKinds } = store.catalog;
  const isPlain = [...weights.values()].every((weight) => weight > 0);
  const alike = isPlain ? known.of(test, nodeKinds[store.nodeRow.view[node * 4]!]!.labelSet) : {};
  return { node, id: store.nodeId(node), uncertain, holdsIn, alike };
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
