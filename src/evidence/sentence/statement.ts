/** What a sentence says in particular. */
export const STATEMENT_KINDS = [
  'quantity',
  'component',
  'count',
  'quantifier',
  'part',
  'maker',
  'device',
  'date',
] as const;
export type StatementKind = (typeof STATEMENT_KINDS)[number];

/**
 * How a statement compares with what is under the sentence. CARRIED: something there says so. CONTRADICTED: something there says
 * otherwise. UNSUPPORTED: nothing there says so.
 */
export const STATEMENT_RESULTS = ['carried', 'contradicted', 'unsupported'] as const;
export type StatementResult = (typeof STATEMENT_RESULTS)[number];

/** One thing that a sentence says in particular, compared with what is under it. */
export interface Statement {
  readonly kind: StatementKind;
  /** The words of the sentence. */
  readonly text: string;
  readonly result: StatementResult;
  /** What it was compared with, in words; with the fix where it does not fit. */
  readonly message: string;
}
