import { benjaminiHochberg } from '../statistics/benjamini-hochberg.ts';
import type { NoData } from '../statistics/no-data.ts';
import { significant } from '../text/rounding.ts';
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
  const adjusted = benjaminiHochberg(tested.map(({ test }) => test.careful));
  // Adjusted values never fall when a p rises: the largest p's together give the largest q's.
  const largest = benjaminiHochberg(tested.map(({ test }) => test.atMost));
  const places = new Map(tested.map(({ at }, place) => [at, place]));
  return series.map((item, at) => {
    const place = places.get(at);
    if (place === undefined || !('p' in item.test)) return { test: null, verdict: untested(item) };
    const { rough: _, careful: __, atMost: ___, ...plain } = item.test;
    const [q, qAtMost] = [adjusted[place], largest[place]];
    const test = { ...plain, q, qAtMost, holdsUnderDoubt: qAtMost <= SIGNIFICANT };
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
  const figures = figuresText(test);
  const { direction } = test;
  if (test.q > SIGNIFICANT || direction === 'level') {
    return { enough: true, direction: 'no clear direction', sentence: `No clear direction (${figures}).` };
  }
  if (!test.holdsUnderDoubt) {
    return {
      enough: true,
      direction: 'no clear direction',
      sentence: `No clear direction: what is likeliest is ${direction} (${figures}), but devices in doubt or not observed could change that.`,
    };
  }
  const trend = direction === 'rising' ? 'Rising' : 'Falling';
  return { enough: true, direction, sentence: `${trend} trend: ${slopeText(test, unit)}${figures}.` };
}

/** Figures of a test: by product line where that is the test that counts, with the p of devices beside it. */
function figuresText({ q, p, basis: counts, byProductLine, n, periods }: TrendTest): string {
  if (byProductLine === null) return `${sizeText('q', q)}, ${basis({ n, periods })}`;
  const { productLines } = byProductLine;
  if (counts === 'devices')
    return `${sizeText('q', q)}, ${n} devices of ${productLines} product lines in ${periods} periods`;
  return `${sizeText('q', q)} by product line, of which there are ${productLines}; ${sizeText('p', p)} device by device; ${basis({ n, periods })}`;
}

function slopeText({ slope, slopeInterval, basis, byProductLine }: TrendTest, unit: string | null): string {
  // Where most values are equal the middle slope is 0 though the series moves.
  if (slope === null || slope === 0) return '';
  const [times, name] = unit === null ? [100, 'percentage points'] : [1, unit];
  const text = (value: number) => signed(value * times);
  const interval = basis === 'devices' ? slopeInterval : (byProductLine?.slopeInterval ?? null);
  const limits = interval ? ` (95 % ${text(interval.low)} to ${text(interval.high)})` : '';
  return `${text(slope)} ${name} a year${limits}, `;
}

function signed(value: number): string {
  return `${value >= 0 ? '+' : '−'}${Math.abs(significant(value, 2))}`;
}

function sizeText(name: string, p: number): string {
  return p < 0.001 ? `${name} < 0.001` : `${name} = ${significant(p, 2)}`;
}

function basis({ n, periods }: { readonly n: number; readonly periods: number }): string {
  return `${n} device${n === 1 ? '' : 's'} in ${periods} period${periods === 1 ? '' : 's'}`;
}
