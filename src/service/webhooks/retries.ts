import { httpDate } from '../feeds/conditional.ts';

const SECOND = 1_000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;

/**
 * Pauses after each failed try, ms: the example schedule of Standard Webhooks 1.0.0 ("Deliverability and reliability"), three days in
 * all. After the last one a message is given up.
 */
export const PAUSES: readonly number[] = [
  5 * SECOND,
  5 * MINUTE,
  30 * MINUTE,
  2 * HOUR,
  5 * HOUR,
  10 * HOUR,
  14 * HOUR,
  20 * HOUR,
  24 * HOUR,
];
/** Share of a pause by which it is drawn longer, so that many that failed at once do not come back at once. */
const JITTER = 0.1;
/** Longest that a receiver may put messages off with Retry-After, ms. */
export const LONGEST_HOLD = 24 * HOUR;

/**
 * The pause after a failed try, ms; undefined where it was the last.
 * @param tries made so far, from 1
 * @param random from 0 to 1
 */
export function pauseAfter(tries: number, random = Math.random()): number | undefined {
  const pause = PAUSES[tries - 1];
  return pause === undefined ? undefined : Math.round(pause * (1 + JITTER * random));
}

/** What Retry-After asks for (RFC 9110, section 10.2.3), ms from now, bounded; undefined for what is neither seconds nor a date. */
export function retryAfter(field: string | undefined, now: number): number | undefined {
  const written = field?.trim() ?? '';
  const date = httpDate(written, now);
  const wait = /^\d+$/u.test(written)
    ? Number(written) * SECOND
    : date === undefined
      ? undefined
      : date - now;
  return wait === undefined ? undefined : Math.min(Math.max(wait, 0), LONGEST_HOLD);
}
