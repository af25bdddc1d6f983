/**
 * What a match owes to labels that are only probably true.
 */
import { FALSE, type LabelTest, labelsIn, TRUE, truthOf, UNKNOWN } from './plan/label-test.ts';
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

interface Test {
  readonly node: number;
  readonly label: LabelTest;
}

/** The uncertain memberships that the node patterns of a match test, and what follows from them. */
export function uncertainOf(
  store: Store,
  clauses: readonly PlannableClause[],
  row: Int32Array,
  values: readonly unknown[],
): {
  uncertain: readonly Uncertain[];
  definite: boolean;
  holdsIn: (isTrue: (node: number, label: string) => boolean) => boolean;
} {
  const tests: Test[] = [];
  for (const match of matchesOf(clauses)) {
    for (const { slot, label } of match.pattern.nodes)
      if (label && row[slot]! >= 0) tests.push({ node: row[slot]!, label });
    for (const { slot, label } of match.labelledGroups) {
      const nodes = values[slot];
      if (Array.isArray(nodes)) for (const node of nodes.flat(8)) tests.push({ node, label });
      else if (row[slot]! >= 0) tests.push({ node: row[slot]!, label });
    }
  }
  const uncertain: Uncertain[] = [];
  const open: Test[] = [];
  for (const test of tests) {
    const weights = new Map(store.nodeLabels(test.node).map(({ label, weight }) => [label, weight]));
    const truth = truthWith(test, weights, (weight) => (weight >= 1 ? TRUE : weight > 0 ? UNKNOWN : FALSE));
    if (truth === TRUE) continue;
    open.push(test);
    const named = labelsIn(test.label);
    for (const label of named.length > 0 ? named : weights.keys()) {
      const weight = weights.get(label) ?? 0;
      const known = uncertain.some((other) => other.node === test.node && other.label === label);
      if (weight > 0 && weight < 1 && !known) uncertain.push({ node: test.node, label, weight });
    }
  }
  return {
    uncertain,
    definite: open.length === 0,
    holdsIn: (isTrue) =>
      open.every((test) => {
        const weights = new Map(store.nodeLabels(test.node).map(({ label, weight }) => [label, weight]));
        const truth = truthWith(test, weights, (weight, label) =>
          weight >= 1 || (weight > 0 && isTrue(test.node, label)) ? TRUE : FALSE,
        );
        return truth === TRUE;
      }),
  };
}

function truthWith(
  { label }: Test,
  weights: ReadonlyMap<string, number>,
  truth: (weight: number, label: string) => number,
): number {
  let any = FALSE;
  for (const [name, weight] of weights) any = Math.max(any, truth(weight, name));
  return truthOf(label, (name) => truth(weights.get(name) ?? 0, name), any);
}
