import { type PartialDate, yearOf } from '../model/dates.ts';
import type { PeriodLength } from './asked.ts';

/** A stretch of the calendar, by its number since year 0. */
export interface Period {
  readonly number: number;
  /** `2019`, `2019-H1` or `2019-Q3`. */
  readonly label: string;
  /** Start in years: 2019.5 for the second half of 2019. */
  readonly start: number;
}

const A_YEAR: Readonly<Record<PeriodLength, number>> = { year: 1, 'half-year': 2, quarter: 4 };
const LETTER: Readonly<Record<PeriodLength, string>> = { year: '', 'half-year': 'H', quarter: 'Q' };

/** The period that certainly holds a date; undefined when the date is too rough. */
export function periodNumber(date: PartialDate, length: PeriodLength): number | undefined {
  const parts = A_YEAR[length];
  const year = yearOf(date) * parts;
  if (parts === 1) return year;
  if (date.length === 4) return undefined;
  return year + Math.floor(((Number(date.slice(5, 7)) - 1) * parts) / 12);
}

/** The period of a number. */
export function periodOf(number: number, length: PeriodLength): Period {
  const parts = A_YEAR[length];
  const year = String(Math.floor(number / parts)).padStart(4, '0');
  const label = length === 'year' ? year : `${year}-${LETTER[length]}${(number % parts) + 1}`;
  return { number, label, start: number / parts };
}

/** Beyond this many periods from first to last, empty periods are left out: some date must be far off. */
const MAX_PERIODS = 200;

/** Periods from the first to the last of these numbers, those without a device included. */
export function axisOf(numbers: Iterable<number>, length: PeriodLength): readonly Period[] {
  const held = [...new Set(numbers)].sort((a, b) => a - b);
  if (held.length === 0) return [];
  const [first] = held;
  const count = held[held.length - 1] - first + 1;
  const all = count > MAX_PERIODS ? held : Array.from({ length: count }, (_, at) => first + at);
  return all.map((number) => periodOf(number, length));
}
