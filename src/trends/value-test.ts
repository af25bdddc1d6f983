import { leastClusterT } from '../statistics/cluster-range.ts';
import { clusterSlope, slopeDesign } from '../statistics/cluster-slope.ts';
import type { Direction } from '../statistics/direction.ts';
import {
  normalQuantile,
  normalTwoSided,
  studentQuantile,
  studentTwoSided,
} from '../statistics/distributions.ts';
import { kendallRange } from '../statistics/kendall-range.ts';
import { mannKendall } from '../statistics/mann-kendall.ts';
import type { NoData } from '../statistics/no-data.ts';
import { noData } from '../statistics/no-data.ts';
import { pairOrder } from '../statistics/pair-order.ts';
import { median } from '../statistics/quantile.ts';
import { midRanks, rankRange } from '../statistics/ranks.ts';
import { theilSen } from '../statistics/theil-sen.ts';
import { careful, limits, type RawTest } from './measure.ts';
import { areGrouped, lineTest } from './product-lines.ts';

/** A device's value, and the start of its period in years. */
export interface Point {
  readonly start: number;
  /** Likeliest value; undefined where it was not observed. */
  readonly value: number | undefined;
  /** Ends of what it may be when what is doubtful or was not observed is settled; −∞ and ∞ where nothing bounds it. */
  readonly low: number;
  readonly high: number;
  /** Number of its product line. */
  readonly line: number;
}

/** All pairs of this many points are half a million slopes, some 40 ms; above it the slope is that of medians. */
const MAX_POINTS = 1_000;

/**
 * Mann–Kendall over devices, several in a period (ties in time), with the Theil–Sen slope over devices, or over the
 * medians of periods when there are more than 1,000.
 *
 * Beside it the same question by product lines: the slope of the ranks of values on the ranks of years (Conover & Iman, The
 * American Statistician 35, 1981, 124-129) with lines as clusters. Sen's interval is then widened by the root of the design
 * effect on the ranks of what the line leaves. Both tests also for the worst of what doubtful and unobserved values may be.
 */
export function valueTest(points: readonly Point[]): RawTest | NoData {
  const known = points.flatMap((point) =>
    point.value === undefined ? [] : [{ ...point, value: point.value }],
  );
  if (known.length === 0) return noData('no device has both a value and a period');
  const values = known.map(({ value }) => value);
  const starts = known.map(({ start }) => start);
  const test = mannKendall(values, starts);
  if (test.kind === 'no-data') return test;
  const line = slopeOf(known);
  const lines = known.map((point) => point.line);
  const byProductLine = lineTest(midRanks(values), midRanks(starts), lines, () =>
    line.kind === 'no-data' ? null : widerInterval(known, line.slope, lines),
  );
  return careful(
    {
      name: 'Mann–Kendall',
      n: test.n,
      periods: new Set(starts).size,
      z: test.z,
      p: test.exactP ?? test.p,
      slope: line.kind === 'no-data' ? null : line.slope,
      slopeInterval: line.kind === 'no-data' ? null : limits(line.interval),
      byProductLine,
      direction: test.direction,
    },
    worstOf(test.direction, points),
    false,
  );
}

/** The largest p that a direction may have over all that the values may be; 1 where it may be lost, 0 where nothing is open. */
function worstOf(direction: Direction, points: readonly Point[]): number {
  if (direction === 'level') return 1;
  if (points.every(({ low, high, value }) => low === high && value === low)) return 0;
  const starts = points.map(({ start }) => start);
  const rises = direction === 'rising';
  const lows = points.map(({ low, high }) => (rises ? low : -high));
  const highs = points.map(({ low, high }) => (rises ? high : -low));
  if (mayBeUndone(starts, lows, highs)) return 1;
  const { s, variance } = kendallRange(starts, lows, highs);
  if (!(s.low > 0)) return 1;
  const p = normalTwoSided((s.low - 1) / Math.sqrt(variance));
  const lines = points.map(({ line }) => line);
  const design = areGrouped(lines) ? slopeDesign(midRanks(starts), lines) : undefined;
  if (design?.kind !== 'slope-design') return p;
  const ranks = rankRange(lows, highs);
  return Math.max(p, studentTwoSided(leastClusterT(design, ranks.low, ranks.high, false), design.freedom));
}

/**
 * Whether one choice of values, early ones high and late ones low, leaves no rise: found in n log n steps, where a bound over
 * all choices takes a step for each open value and device.
 */
function mayBeUndone(starts: readonly number[], lows: readonly number[], highs: readonly number[]): boolean {
  const middle = median(starts);
  const values = starts.map((start, at) => {
    const value = start < middle ? highs[at] : lows[at];
    return Math.max(-Number.MAX_VALUE, Math.min(Number.MAX_VALUE, value));
  });
  return pairOrder(starts, values).s <= 0;
}

type Known = Omit<Point, 'value'> & { readonly value: number };

function slopeOf(points: readonly Known[], widening = 1) {
  const few = points.length > MAX_POINTS ? medians(points) : points;
  return theilSen(
    few.map(({ value }) => value),
    few.map(({ start }) => start),
    { widening },
  );
}

function widerInterval(points: readonly Known[], slope: number, lines: readonly number[]) {
  const left = points.map(({ value, start }) => value - slope * start);
  const found = clusterSlope(midRanks(left), midRanks(points.map(({ start }) => start)), lines);
  if (found.kind === 'no-data') return null;
  const quantile = studentQuantile(0.975, found.freedom) / normalQuantile(0.975);
  const wider = slopeOf(points, Math.max(1, Math.sqrt(found.designEffect) * quantile));
  return wider.kind === 'no-data' ? null : limits(wider.interval);
}

function medians(points: readonly Known[]): readonly Pick<Known, 'start' | 'value'>[] {
  return [...Map.groupBy(points, ({ start }) => start)].map(([start, group]) => ({
    start,
    value: median(group.map(({ value }) => value)),
  }));
}
