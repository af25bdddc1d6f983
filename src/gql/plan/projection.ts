/** What RETURN, GROUP BY, ORDER BY, OFFSET and LIMIT are when planned; `search/result.ts` does it. */
import type { RowState } from './pattern.ts';

/** An expression that is ready to be evaluated for what is bound now. */
export type Evaluate = (state: RowState) => unknown;

/** Collects the values of one aggregate over the rows of one group. */
export interface Accumulator {
  add(value: unknown): void;
  result(): unknown;
  /** What it keeps, roughly. */
  readonly bytes: number;
}

export interface AggregateColumn {
  /** Slot of `values` that the result goes to. */
  readonly slot: number;
  /** Undefined for COUNT(*). */
  readonly argument: Evaluate | undefined;
  readonly make: () => Accumulator;
}

export interface SortColumn {
  readonly value: Evaluate;
  readonly descending: boolean;
  readonly nullsFirst: boolean;
}

export interface ResultPlan {
  readonly columns: readonly string[];
  readonly items: readonly Evaluate[];
  /** Slots of `values` that the items go to before sort keys are evaluated, by position; -1 for none. */
  readonly aliasSlots: readonly number[];
  /** Undefined when rows are not grouped. Empty: a single group, which exists even without rows. */
  readonly groupBy: readonly Evaluate[] | undefined;
  readonly aggregates: readonly AggregateColumn[];
  readonly distinct: boolean;
  readonly orderBy: readonly SortColumn[];
  readonly offset: number;
  /** Infinity when there is none. */
  readonly limit: number;
  /** A text that is equal for equal values, and for those only. */
  readonly keyOf: (value: unknown) => string;
  readonly compare: (a: unknown, b: unknown) => number;
}
