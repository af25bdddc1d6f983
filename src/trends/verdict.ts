import { benjaminiHochberg } from '../statistics/benjamini-hochberg.ts';
import type { NoData } from '../statistics/no-data.ts';
import type { TrendTest, TrendVerdict } from './answer.ts';
import type { RawTest } from './measure.ts';

/**
 * Fewest devices, and fewest periods with devices among them, from which a direction is spoken of (chosen, no source):
 * with 20 devices Wilson's interval of a share of one half still spans 40 percentage points; with three periods
 * six orders are possible, so that chance alone puts one time in three all of them in a row.
 */
export const MIN_DEVICES = 20;
export const MIN_PERIODS = 4;

/** A direction is spoken of at this q or below. */
export const SIGNIFICANT = 0.05;

/** A series with its test, before it is known what stands beside it. */
export interface Tested {
  /** Devices with a value and a period, and the periods they lie in. */
  readonly n: number;
  readonly periods: number;
  readonly test: RawTest | NoData;
  /** What a change of 1 in the slope is called, such as `g`; null for shares, which are said in percentage points. */
  readonly unit: string | null;
}

/** Test and verdict of each series, corrected for all that were tested together. */
export function judge(
  series: readonly Tested[],
): readonly { readonly test: TrendTest | null; readonly verdict: TrendVerdict }[] {
  const tested = series.flatMap((one, at) =>
    isEnough(one) && 'p' in one.test ? [{ at, test: one.test }] : [],
  );
  const adjusted = benjaminiHochberg(tested.map(({ test }) => test.p));
  const q = new Map(tested.map(({ at }, place) => [at, adjusted[place]]));
  return series.map((one, at) => {
    const corrected = q.get(at);
    if (corrected === undefined || !('p' in one.test)) return { test: null, verdict: untested(one) };
    const { rough: _, ...plain } = one.test;
    const test = { ...plain, q: corrected };
    return { test, verdict: verdictOf(test, one.unit) };
  });
}

function isEnough({ n, periods }: Tested): boolean {
  return n >= MIN_DEVICES && periods >= MIN_PERIODS;
}

function untested(one: Tested): TrendVerdict {
  const base = basis(one);
  if (!isEnough(one)) {
    return {
      enough: false,
      direction: null,
      sentence: `Too few to speak of a direction: ${base}; it takes at least ${MIN_DEVICES} devices in ${MIN_PERIODS} periods.`,
    };
  }
  const reason = 'reason' in one.test ? one.test.reason : 'it could not be tested';
  return {
    enough: true,
    direction: 'no clear direction',
    sentence: `No clear direction: ${reason} (${base}).`,
  };
}

function verdictOf(test: TrendTest, unit: string | null): TrendVerdict {
  const said = `${saidQ(test.q)}, ${basis(test)}`;
  const { direction } = test;
  if (test.q > SIGNIFICANT || direction === 'level') {
    return { enough: true, direction: 'no clear direction', sentence: `No clear direction (${said}).` };
  }
  if (!test.holdsUnderDoubt) {
    return {
      enough: true,
      direction: 'no clear direction',
      sentence: `No clear direction: the likeliest identifications say ${direction} (${said}), but that may turn with those that are doubtful.`,
    };
  }
  const trend = direction === 'rising' ? 'Rising' : 'Falling';
  return { enough: true, direction, sentence: `${trend} trend: ${saidSlope(test, unit)}${said}.` };
}

function saidSlope({ slope, slopeInterval }: TrendTest, unit: string | null): string {
  // Where most values are equal the middle slope is 0 though the series moves.
  if (slope === null || slope === 0) return '';
  const [times, name] = unit === null ? [100, 'percentage points'] : [1, unit];
  const said = (value: number) => signed(value * times);
  const limits = slopeInterval ? ` (95 % ${said(slopeInterval.low)} to ${said(slopeInterval.high)})` : '';
  return `${said(slope)} ${name} a year${limits}, `;
}

function signed(value: number): string {
  return `${value >= 0 ? '+' : '−'}${Math.abs(Number(value.toPrecision(2)))}`;
}

function saidQ(q: number): string {
  return q < 0.001 ? 'q < 0.001' : `q = ${Number(q.toPrecision(2))}`;
}

function basis({ n, periods }: { readonly n: number; readonly periods: number }): string {
  return `${n} device${n === 1 ? '' : 's'} in ${periods} period${periods === 1 ? '' : 's'}`;
}
