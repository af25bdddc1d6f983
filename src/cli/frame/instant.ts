import { dateRange, isPartialDate } from '../../model/dates.ts';
import { quoted, UsageError } from './exit.ts';

/**
 * A range of dates as two options give it.
 * @throws UsageError where its beginning is after its end
 */
export function checkRange(from: string | undefined, to: string | undefined): void {
  if (from === undefined || to === undefined || !isPartialDate(from) || !isPartialDate(to)) return;
  if (dateRange(from).first > dateRange(to).last)
    throw new UsageError(`--from ${from} is after --to ${to}; swap them`);
}

const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:\d{2})$/u;

/**
 * The instant that an option means, ISO 8601 in UTC with milliseconds. A plain date means the end of that day in
 * UTC, so that everything done on it counts; today's means now.
 * @throws UsageError for anything else and for what lies in the future
 */
export function pastInstant(text: string, name: string, now: Date): string {
  const day = /^\d{4}-\d{2}-\d{2}$/u.test(text) && isPartialDate(text);
  const milliseconds = day
    ? Date.parse(text) + 86_399_999
    : INSTANT.test(text)
      ? Date.parse(text)
      : Number.NaN;
  if (Number.isNaN(milliseconds))
    throw new UsageError(
      `${name} is ${quoted(text)}; write a date "2026-03-01" or an instant "2026-03-01T09:00:00Z" (ISO 8601)`,
    );
  if (day && text === now.toISOString().slice(0, 10)) return now.toISOString();
  if (milliseconds > now.getTime())
    throw new UsageError(`${name} is ${quoted(text)}, which is in the future`);
  return new Date(milliseconds).toISOString();
}
