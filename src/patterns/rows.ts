import { describeInLine, type Explanation, explainPattern, runPattern } from '../gql/gql.ts';
import { preparedPattern } from '../pattern-texts/prepared.ts';
import type { State } from '../state/state.ts';
import type { CutShort, PatternQuestion } from './answer.ts';
import { cutShort, queryOptions } from './find.ts';
import { patternIndexOf } from './pattern-index.ts';
import { plainValue } from './plain-value.ts';

/** Result of a pattern's RETURN over the complete archive. */
export interface PatternRows extends CutShort {
  readonly columns: readonly string[];
  /** Values as plain data: see {@link plainValue}. */
  readonly rows: readonly (readonly unknown[])[];
  readonly complete: boolean;
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
  const answer = await runPattern(index.graph, pattern, {
    ...options,
    budgets: { rows: MAX_ROWS, ...question.budgets },
  });
  const { columns, rows, complete, warnings } = answer;
  return {
    columns,
    rows: rows.map((row) => row.map(plainValue)),
    complete,
    ...cutShort(answer),
    warnings: warnings.map(describeInLine),
  };
}

/** How a pattern is searched: the plan with estimated and real counts. */
export async function explainRows(state: State, question: PatternQuestion): Promise<Explanation> {
  const index = patternIndexOf(state);
  const pattern = await preparedPattern(question);
  return explainPattern(index.graph, pattern, await queryOptions(index, state, question, pattern));
}
