import { describeInLine, type Explanation, explainPattern, runPattern } from '../gql/gql.ts';
import type { State } from '../state/state.ts';
import type { PatternQuestion } from './answer.ts';
import { queryOptions } from './find.ts';
import { patternIndexOf } from './pattern-index.ts';
import { preparedPattern } from './prepared.ts';

/** Result of a pattern's RETURN over the complete archive. */
export interface PatternRows {
  readonly columns: readonly string[];
  /** Values as plain data: nodes and edges by their ids. */
  readonly rows: readonly (readonly unknown[])[];
  readonly complete: boolean;
  /** Why it is not complete, in a sentence. */
  readonly note: string | undefined;
  /** What the text means other than its writer may think, a sentence each. */
  readonly warnings: readonly string[];
}

/** Maximum number of rows. */
const MAX_ROWS = 10_000;

/** Rows of a pattern's RETURN over everything visible; every possible label counts. */
export async function patternRows(state: State, question: PatternQuestion): Promise<PatternRows> {
  const index = patternIndexOf(state);
  const pattern = await preparedPattern(question);
  const options = await queryOptions(index, state, question, pattern);
  const { columns, rows, complete, note, warnings } = await runPattern(index.graph, pattern, {
    ...options,
    budgets: { rows: MAX_ROWS },
  });
  return {
    columns,
    rows: rows.map((row) => row.map(plain)),
    complete,
    note,
    warnings: warnings.map(describeInLine),
  };
}

/** How a pattern is searched: the plan with estimated and real counts. */
export async function explainRows(state: State, question: PatternQuestion): Promise<Explanation> {
  const index = patternIndexOf(state);
  const pattern = await preparedPattern(question);
  return explainPattern(index.graph, pattern, await queryOptions(index, state, question, pattern));
}

/** A value of the pattern language as JSON: elements by id. */
function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  const { id, elements } = value as { readonly id?: unknown; readonly elements?: readonly unknown[] };
  if (elements) return elements.map(plain);
  if (typeof id === 'string') return id;
  return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, plain(member)]));
}
