import type { PeriodLength } from '../trends/asked.ts';
import { SMALL } from './house-style.ts';
import { widthOf } from './text-width.ts';

/** Steps at which periods are named, so that names stay at the same place of the year, or at round years. */
const STEPS: Readonly<Record<PeriodLength, readonly number[]>> = {
  year: [1, 2, 5, 10, 20, 50, 100],
  'half-year': [1, 2, 4, 10, 20, 40, 100, 200],
  quarter: [1, 2, 4, 8, 20, 40, 80, 200, 400],
};

/**
 * The periods that have room for a text under them, in their order: all, or every second, and so on.
 * @param width of the axis, px
 * @param text what is written under a period
 */
export function namedPeriods(
  periods: readonly string[],
  per: PeriodLength,
  width: number,
  text: (period: string) => string = (period) => period,
): readonly string[] {
  const widest = Math.max(0, ...periods.map((period) => widthOf(text(period), SMALL)));
  const room = Math.max(1, Math.floor(width / Math.max(1, periods.length)));
  const step = STEPS[per].find((one) => one * room >= widest + 8) ?? periods.length;
  const start = startOf(periods, step, per);
  return periods.filter((_, i) => i >= start && (i - start) % step === 0);
}

/** The first period at a round place: a year that the step divides, the first part of a year. */
function startOf(periods: readonly string[], step: number, per: PeriodLength): number {
  const inYear = { year: 1, 'half-year': 2, quarter: 4 }[per];
  const years = Math.max(1, step / inYear);
  const isRound = (period: string) => {
    const [year, part = ''] = period.split('-');
    return Number(year) % years === 0 && (step === 1 || part === '' || part.endsWith('1'));
  };
  const found = periods.findIndex(isRound);
  return found >= 0 && found < step ? found : 0;
}
