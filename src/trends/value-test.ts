import type { Direction } from '../statistics/direction.ts';
import { mannKendall } from '../statistics/mann-kendall.ts';
import type { NoData } from '../statistics/no-data.ts';
import { median } from '../statistics/quantile.ts';
import { theilSen } from '../statistics/theil-sen.ts';
import { limits, type RawTest } from './measure.ts';

/** A device's value, and the start of its period in years. */
export interface Point {
  readonly start: number;
  readonly value: number;
}

/** All pairs of this many points are half a million slopes, some 40 ms; above it the slope is that of medians. */
const MAX_POINTS = 1_000;

/**
 * Mann–Kendall over devices, several in a period (ties in time), with the Theil–Sen slope over devices, or over the
 * medians of periods when there are more than 1,000.
 * @param stays whether a direction stays under the doubt of identifications
 */
export function valueTest(
  points: readonly Point[],
  stays: (direction: Direction) => boolean,
): RawTest | NoData {
  const test = mannKendallOf(points);
  if (test.kind === 'no-data') return test;
  const line = slopeOf(points.length > MAX_POINTS ? medians(points) : points);
  return {
    name: 'Mann–Kendall',
    n: test.n,
    periods: new Set(points.map(({ start }) => start)).size,
    z: test.z,
    p: test.exactP ?? test.p,
    slope: line.kind === 'no-data' ? null : line.slope,
    slopeInterval: line.kind === 'no-data' ? null : limits(line.interval),
    direction: test.direction,
    holdsUnderDoubt: stays(test.direction),
  };
}

/** Mann–Kendall over devices, with ties in time. */
export function mannKendallOf(points: readonly Point[]) {
  return mannKendall(
    points.map(({ value }) => value),
    points.map(({ start }) => start),
  );
}

function slopeOf(points: readonly Point[]) {
  return theilSen(
    points.map(({ value }) => value),
    points.map(({ start }) => start),
  );
}

function medians(points: readonly Point[]): readonly Point[] {
  return [...Map.groupBy(points, ({ start }) => start)].map(([start, group]) => ({
    start,
    value: median(group.map(({ value }) => value)),
  }));
}
