import type { Expression, MatchingClause } from '../language/ast.ts';
import type { LabelTest } from './label-test.ts';
import type { Condition, RowState } from './pattern.ts';
import type { Earlier, Scope } from './scope.ts';

/** What the translation asks of its surroundings. */
export interface TranslateContext {
  /** Whether nodes that a clause binds anew must differ from all other nodes of its own clause and those before. */
  readonly distinctNodes: boolean;
  /** Lowest label truth that counts as having a label. */
  readonly leastTruth: number;
  /** Makes the test of a condition; `slots` and `late` are known. */
  readonly condition: (expression: Expression, scope: Scope, slots: readonly number[]) => Condition;
  /** Makes the reader of a value; `readsLabels`: whether it depends on labels that are uncertain, or on edges. */
  readonly value: (
    expression: Expression,
    scope: Scope,
  ) => { readonly evaluate: (state: RowState) => unknown; readonly readsLabels: boolean };
  /** The clauses of an OPTIONAL as bodies of EXISTS in both readings; undefined where nothing is uncertain. */
  readonly readings: (
    clauses: readonly MatchingClause[],
    scope: Scope,
    earlier: Earlier,
  ) => Readings | undefined;
  /** Per node kind, 0 for those that do not fit; for nodes inside quantified paths. */
  readonly nodeTable: (label: LabelTest | undefined) => Uint8Array | undefined;
  /** Accepted adjacency codes of an edge pattern. */
  readonly codes: (label: LabelTest | undefined, directions: number, reversed: boolean) => readonly number[];
}

/** Numbers of bodies that say whether something certainly or possibly has a match, and the reading in which it is asked. */
export interface Readings {
  readonly certain: number;
  readonly possible: number;
  readonly isPossible: boolean;
}
