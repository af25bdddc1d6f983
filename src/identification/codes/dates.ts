import { dateRange } from '../../model/dates.ts';
import type { CodeContext, CodeReading, CodeRule } from './reading.ts';

const WEEKS = 'ISO 8601 week dates; year-week codes themselves are common practice, no source';
const LETTERS = 'IEC 60062, two-character date code (20-year cycle; letters from memory)';
/** Year letters of IEC 60062 from 2010 on; the cycle is 20 years and leaves out G, I, O, Q, Y, Z. */
const YEAR_LETTERS = 'ABCDEFHJKLMNPRSTUVWX';
const MONTHS = '123456789OND';
const DAY = 86_400_000;
/** Nothing worn on the body today was made before; older readings are offered but doubted. */
const EARLIEST_YEAR = 1990;

/** Monday of an ISO 8601 week, or undefined when the year has no such week. */
export function mondayOf(year: number, week: number): Date | undefined {
  // 4 January always lies in week 1.
  const fourth = new Date(Date.UTC(year, 0, 4));
  const first = fourth.getTime() - ((fourth.getUTCDay() + 6) % 7) * DAY;
  const monday = new Date(first + (week - 1) * 7 * DAY);
  const thursday = new Date(monday.getTime() + 3 * DAY);
  return week >= 1 && thursday.getUTCFullYear() === year ? monday : undefined;
}

function iso(date: Date): string {
  return date.toISOString().slice(0, 10);
}

function weekReading(rule: string, year: number, week: number, context: CodeContext): CodeReading[] {
  const monday = mondayOf(year, week);
  if (!monday) return [];
  const from = iso(monday);
  const to = iso(new Date(monday.getTime() + 6 * DAY));
  return [
    {
      rule,
      source: WEEKS,
      description: `made in week ${week} of ${year} (${from} to ${to})`,
      meaning: { kind: 'date', from, to },
      ...doubtOf(from, context),
    },
  ];
}

function doubtOf(from: string, { released, thisYear }: CodeContext): { readonly doubt?: string } {
  if (released !== undefined && from > dateRange(released).last) {
    return { doubt: `after the device's release (${released})` };
  }
  if (Number(from.slice(0, 4)) > thisYear) return { doubt: 'in the future' };
  return Number(from.slice(0, 4)) < EARLIEST_YEAR ? { doubt: `before ${EARLIEST_YEAR}` } : {};
}

/** The last year a code may mean: that of the device's release, else this year. */
function lastYear({ released, thisYear }: CodeContext): number {
  return released === undefined ? thisYear : Number(dateRange(released).last.slice(0, 4));
}

/** Four digits YYWW: `1952` is week 52 of 2019. */
export const dateYearYearWeekWeek: CodeRule = (line, context) => {
  const match = /^(\d\d)(\d\d)$/u.exec(line);
  return match ? weekReading('date-yyww', 2000 + Number(match[1]), Number(match[2]), context) : [];
};

/** Three digits YWW: the year's last digit and the week; every decade up to the device's release is a rival. */
export const dateYearWeekWeek: CodeRule = (line, context) => {
  const match = /^(\d)(\d\d)$/u.exec(line);
  if (!match) return [];
  const readings: CodeReading[] = [];
  const last = lastYear(context);
  for (let year = last - ((last - Number(match[1])) % 10); year >= 2000; year -= 10) {
    readings.push(...weekReading('date-yww', year, Number(match[2]), context));
  }
  return readings;
};

/** Letter for the year on a 20-year cycle, then month 1 to 9, O, N, D: `M5` is May 2020 (or 2000). */
export const dateLetters: CodeRule = (line, context) => {
  const match = /^([A-Z])([1-9OND])$/u.exec(line);
  const place = match ? YEAR_LETTERS.indexOf(match[1]) : -1;
  if (!match || place < 0) return [];
  const month = MONTHS.indexOf(match[2]) + 1;
  // The latest cycle that does not lie after the device, then the one before.
  const last = lastYear(context);
  const latest = 2010 + place + 20 * Math.floor((last - 2010 - place) / 20);
  return [latest, latest - 20]
    .filter((year) => year >= EARLIEST_YEAR)
    .map((year): CodeReading => {
      const { first, last: end } = dateRange(`${year}-${String(month).padStart(2, '0')}`);
      return {
        rule: 'iec-60062-date',
        source: LETTERS,
        description: `made in ${first.slice(0, 7)}`,
        meaning: { kind: 'date', from: first, to: end },
        ...doubtOf(first, context),
      };
    });
};
