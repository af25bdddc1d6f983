// Patterns as text. The engine is loaded on first use: most commands and every start do without.

import type { PatternAnswer, PatternQuestion } from '../patterns/answer.ts';
import type { NearAnswer } from '../patterns/near-find.ts';
import type { PatternRows } from '../patterns/rows.ts';
import type { State } from '../state/state.ts';
import { inSpan } from '../telemetry/spans.ts';
import { mistakesTold, parseable } from './pattern-mistakes.ts';

/** Visible devices that show a pattern, and how sure that is. @throws CasebackError BAD_PATTERN */
export function findPattern(state: State, question: PatternQuestion): Promise<PatternAnswer> {
  return inSpan('pattern.search', { 'caseback.question': 'devices' }, () =>
    mistakesTold(async () => {
      await parseable(question.text);
      const find = await import('../patterns/find.ts');
      return find.findPattern(state, question);
    }),
  );
}

/** Visible devices that would show a pattern but for one thing. @throws CasebackError BAD_PATTERN */
export function nearPattern(state: State, question: PatternQuestion): Promise<NearAnswer> {
  return inSpan('pattern.search', { 'caseback.question': 'near' }, () =>
    mistakesTold(async () => {
      await parseable(question.text);
      const { nearFind } = await import('../patterns/near-find.ts');
      return nearFind(state, question);
    }),
  );
}

/** Rows of a pattern over everything visible, RETURN and all. @throws CasebackError BAD_PATTERN */
export function patternRows(state: State, question: PatternQuestion): Promise<PatternRows> {
  return inSpan('pattern.search', { 'caseback.question': 'rows' }, () =>
    mistakesTold(async () => {
      await parseable(question.text);
      const rows = await import('../patterns/rows.ts');
      return rows.patternRows(state, question);
    }),
  );
}

/**
 * How a pattern is searched: the plan with estimated and real counts, as text; and warnings, a sentence each.
 * @throws CasebackError BAD_PATTERN
 */
export function explainPattern(
  state: State,
  question: PatternQuestion,
): Promise<{ readonly text: string; readonly warnings: readonly string[] }> {
  return inSpan('pattern.search', { 'caseback.question': 'explain' }, () =>
    mistakesTold(async () => {
      await parseable(question.text);
      const { explainRows } = await import('../patterns/rows.ts');
      const { describeInLine } = await import('../gql/gql.ts');
      const { text, warnings } = await explainRows(state, question);
      return { text, warnings: warnings.map(describeInLine) };
    }),
  );
}
