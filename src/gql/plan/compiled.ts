/** What compiling a query takes and makes. */
import type { Aggregate, Exists, Expression, ValueQuery } from '../language/ast.ts';
import type { LabelTest } from './label-test.ts';
import type { Asking } from './lineage.ts';
import type { PlannableClause } from './match.ts';
import type { Place, RowState } from './pattern.ts';
import type { Accumulator, Evaluate, ResultPlan } from './projection.ts';
import type { Scope, Slots } from './scope.ts';

/** How labels with a weight below 1 are read. */
export type LabelReading = 'possible' | 'certain';

export interface CompileSettings {
  readonly distinctNodes: boolean;
  readonly labels: LabelReading;
  readonly parameters: Readonly<Record<string, unknown>>;
  readonly stringNumber: (text: string) => number;
}

/** Values and how trees are evaluated, which this file leaves to others. */
export interface Expressions {
  /** Where label tests ask while the cases of an expression are followed. */
  readonly asking: Asking;
  /** Whether the result of a function depends on labels. */
  readsLabels(name: string): boolean;
  compile(
    expression: Expression,
    scope: Scope,
    exists: (node: Exists) => (state: RowState) => boolean,
    query: (node: ValueQuery) => Evaluate,
  ): Evaluate;
  accumulator(node: Aggregate, scope: Scope): () => Accumulator;
  /** A text that is equal for equal values, and for those only. */
  keyOf(value: unknown): string;
  /** Negative, zero or positive; neither is null. */
  compare(a: unknown, b: unknown): number;
  /** A value as it is handed to the caller. */
  output(value: unknown): unknown;
}

/** The query of a VALUE: its result, and whether it is the same for all rows outside. */
export interface Answering {
  readonly result: ResultPlan;
  readonly isConstant: boolean;
  readonly place: Place;
}

/** A label expression, and the lowest truth of it that counts as a match. */
export interface LabelAsked {
  readonly label: LabelTest | undefined;
  readonly leastTruth: number;
}

export interface Compiled {
  readonly result: ResultPlan;
  readonly clauses: readonly PlannableClause[];
  /** Bodies of EXISTS, by the number that their conditions call them by. */
  readonly inner: readonly (readonly PlannableClause[])[];
  /** By the same number: slots of the elements around it that a body reads; undefined when it reads anything else. */
  readonly innerReads: readonly (readonly number[] | undefined)[];
  /** Those that are queries of VALUE, by the same number. */
  readonly answers: ReadonlyMap<number, Answering>;
  readonly scope: Scope;
  readonly slots: Slots;
  readonly settings: CompileSettings;
  readonly nodeTable: (node: LabelAsked) => Uint8Array | undefined;
  readonly setTable: (node: LabelAsked) => Uint8Array | undefined;
  /** EXISTS inside further expressions (RETURN, ORDER BY) adds to `inner`. */
  readonly compile: (expression: Expression, scope: Scope) => Evaluate;
}
