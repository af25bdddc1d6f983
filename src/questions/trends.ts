// Measures over time. The code is loaded on first use.

import type { State } from '../state/state.ts';
import type { TrendAnswer, TrendQuestion } from '../trends/answer.ts';
import { mistakesTold, parseable } from './pattern-mistakes.ts';

/** A measure over time with intervals, a test and a verdict. @throws CasebackError NOT_FOUND, BAD_INPUT */
export function trendOf(state: State, question: TrendQuestion, signal?: AbortSignal): Promise<TrendAnswer> {
  return mistakesTold(async () => {
    await checkText(question);
    const { trend } = await import('../trends/trends.ts');
    return trend(state, question, signal);
  });
}

/** Several measures, their tests corrected together. @throws CasebackError NOT_FOUND, BAD_INPUT */
export function trendsOf(
  state: State,
  questions: readonly TrendQuestion[],
  signal?: AbortSignal,
): Promise<readonly TrendAnswer[]> {
  return mistakesTold(async () => {
    for (const question of questions) await checkText(question);
    const { trends } = await import('../trends/trends.ts');
    return trends(state, questions, signal);
  });
}

/** A pattern as text is parsed before anything is measured, so that every mistake in it is listed. */
async function checkText({ of }: TrendQuestion): Promise<void> {
  if ('share' in of && 'text' in of.share) await parseable(of.share.text);
}
