import { LRUCache } from 'lru-cache';
import { CasebackError } from '../model/problems.ts';
import type { State } from '../state/state.ts';
import type { TrendAnswer, TrendQuestion } from './answer.ts';
import { judged, measured, type Unjudged } from './trend.ts';

/** Questions in one request. */
export const MAX_QUESTIONS = 50;
/** Answers kept; each holds a few hundred cells and no dossier. */
const KEPT = 64;

/**
 * A measure over time with its verdict, over the devices that the state may see.
 * @throws CasebackError BAD_INPUT, NOT_FOUND or OUT_OF_BUDGET, with the fix; PatternError for an invalid pattern
 */
export async function trend(
  state: State,
  question: TrendQuestion,
  signal?: AbortSignal,
): Promise<TrendAnswer> {
  const [answer] = await trends(state, [question], signal);
  return answer;
}

/**
 * Several questions at once: their tests are corrected together, since asking more finds more by chance.
 * @throws CasebackError as {@link trend}, and for more than 50 questions
 */
export async function trends(
  state: State,
  questions: readonly TrendQuestion[],
  signal?: AbortSignal,
): Promise<readonly TrendAnswer[]> {
  if (questions.length === 0 || questions.length > MAX_QUESTIONS) {
    throw new CasebackError('BAD_INPUT', `${questions.length} questions given; give 1 to ${MAX_QUESTIONS}`);
  }
  const answers: Unjudged[] = [];
  for (const question of questions) answers.push(await keptOrMeasured(state, question, signal));
  return judged(answers);
}

async function keptOrMeasured(
  state: State,
  question: TrendQuestion,
  signal: AbortSignal | undefined,
): Promise<Unjudged> {
  signal?.throwIfAborted();
  const kept = state.derived(keptAnswers);
  const key = JSON.stringify(question);
  const known = kept.get(key);
  if (known) return known;
  const answer = await measured(state, question, signal);
  kept.set(key, answer);
  return answer;
}

const keptAnswers = (_: State) => new LRUCache<string, Unjudged>({ max: KEPT });
