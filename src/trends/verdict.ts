import { benjaminiHochberg } from '../statistics/benjamini-hochberg.ts';
import type { NoData } from '../statistics/no-data.ts';
import type { TrendTest, TrendVerdict } from './answer.ts';
import type { RawTest } from './measure.ts';

/**
 * Minimum of devices, and of periods with devices, for naming a direction (chosen, no source): with 20 devices Wilson's
 * interval of a share of one half still spans 40 percentage points; of the six orders of three periods two are in a
 * row, so chance alone gives a row in a third of cases.
 */
export const MIN_DEVICES = 20;
export const MIN_PERIODS = 4;

/** A direction is named at this q or below. */
export const SIGNIFICANT = 0.05;

/** A series with its test, before the correction for the others. */
export interface Tested {
  /** Devices with a value and a period, and the periods they lie in. */
  readonly n: number;
  readonly periods: number;
  readonly test: RawTest | NoData;
  /** Unit of the slope, such as `g`; null for shares, which are given in percentage points. */
  readonly unit: string | null;
}

/** Test and verdict of each series, corrected for all that were tested together. */
export function judge(
  series: readonly Tested[],
): readonly { readonly test: TrendTest | null; readonly verdict: TrendVerdict }[] {
  const tested = series.flatMap((item, at) =>
    isEnough(item) && 'p' in item.test ? [{ at, test: item.test }] : [],
  );
  const adjusted = benjaminiHochberg(tested.map(({ test }) => test.p));
  const q = new Map(tested.map(({ at }, place) => [at, adjusted[place]]));
  return series.map((item, at) => {
    const corrected = q.get(at);
    if (corrected === undefined || !('p' in item.test)) return { test: null, verdict: untested(item) };
    const { rough: _, ...plain } = item.test;
    const test = { ...plain, q: corrected };
    return { test, verdict: verdictOf(test, item.unit) };
  });
}

function isEnough({ n, periods }: Tested): boolean {
  return n >= MIN_DEVICES && periods >= MIN_PERIODS;
}

function untested(item: Tested): TrendVerdict {
  const base = basis(item);
  if (!isEnough(item)) {
    return {
      enough: false,
      direction: null,
      sentence: `Too few for a direction: ${base}; at least ${MIN_DEVICES} devices in ${MIN_PERIODS} periods are needed.`,
    };
  }
  const reason = 'reason' in item.test ? item.test.reason : 'it could not be tested';
  return {
    enough: true,
    direction: 'no clear direction',
    sentence: `No clear direction: ${reason} (${base}).`,
  };
}

function verdictOf(test: TrendTest, unit: string | null): TrendVerdict {
  const figures = `${qText(test.q)}, ${basis(test)}`;
  const { direction } = test;
  if (test.q > SIGNIFICANT || direction === 'level') {
    return { enough: true, direction: 'no clear direction', sentence: `No clear direction (${figures}).` };
  }
  if (!test.holdsUnderDoubt) {
    return {
      enough: true,
      direction: 'no clear direction',
      sentence: `No clear direction: the likeliest identifications give ${direction} (${figures}), but the doubtful ones could change that.`,
    };
  }
  const trend = direction === 'rising' ? 'Rising' : 'Falling';
  return { enough: true, direction, sentence: `${trend} trend: ${slopeText(test, unit)}${figures}.` };
}

function slopeText({ slope, slopeInterval }: TrendTest, unit: string | null): string {
  // Where most values are equal the middle slope is 0 though the series moves.
  if (slope === null || slope === 0) return '';
  const [times, name] = unit === null ? [100, 'percentage points'] : [1, unit];
  const text = (value: number) => signed(value * times);
  const limits = slopeInterval ? ` (95 % ${text(slopeInterval.low)} to ${text(slopeInterval.high)})` : '';
  return `${text(slope)} ${name} a year${limits}, `;
}

function signed(value: number): string {
  return `${value >= 0 ? '+' : '−'}${Math.abs(Number(value.toPrecision(2)))}`;
}

function qText(q: number): string {
  return q < 0.001 ? 'q < 0.001' : `q = ${Number(q.toPrecision(2))}`;
}

function basis({ n, periods }: { readonly n: number; readonly periods: number }): string {
  return `${n} device${n === 1 ? '' : 's'} in ${periods} period${periods === 1 ? '' : 's'}`;
}
