import { armitageRange } from '../statistics/armitage-range.ts';
import { leastClusterT } from '../statistics/cluster-range.ts';
import { slopeDesign } from '../statistics/cluster-slope.ts';
import { cochranArmitage } from '../statistics/cochran-armitage.ts';
import type { Direction } from '../statistics/direction.ts';
import { normalQuantile, normalTwoSided, studentTwoSided } from '../statistics/distributions.ts';
import { type NoData, noData } from '../statistics/no-data.ts';
import type { Interval } from '../statistics/proportion.ts';
import { careful, type Placed, type RawTest } from './measure.ts';
import { areGrouped, linesOf, lineTest } from './product-lines.ts';
import type { DeviceWeight } from './subject.ts';

/** Below this expected number in a cell, chi-square is a rough approximation (common practice after Cochran 1954). */
const MIN_EXPECTED = 5;

/**
 * Cochran–Armitage over periods; a device counts when it has the subject at least as likely as not. Beside it the slope by
 * product lines (product-lines.ts), and both for the worst way in which doubtful and unobserved devices may turn out.
 * @param placed every device with a period, observed or not
 * @param weights of the observed ones
 */
export function shareTest(
  placed: readonly Placed[],
  weights: ReadonlyMap<string, DeviceWeight>,
): RawTest | NoData {
  const observed = placed.filter(({ device }) => weights.has(device.id));
  if (observed.length === 0) return noData('no device has both a value and a period');
  const groups = [...Map.groupBy(observed, ({ start }) => start)].sort(([a], [b]) => a - b);
  const isLikely = ({ device }: Placed) => (weights.get(device.id)?.probability ?? 0) >= 0.5;
  const test = cochranArmitage(
    groups.map(([score, members]) => ({
      score,
      trials: members.length,
      successes: members.filter(isLikely).length,
    })),
  );
  if (test.kind === 'no-data') return test;
  const { n, z, p, slope, direction, smallestExpected } = test;
  const byProductLine = lineTest(
    observed.map((one) => Number(isLikely(one))),
    observed.map(({ start }) => start),
    linesOf(observed.map(({ device }) => device)),
  );
  return careful(
    {
      name: 'Cochran–Armitage',
      n,
      periods: groups.length,
      z,
      p,
      slope,
      slopeInterval: slopeLimits(slope, z),
      byProductLine,
      direction,
    },
    worstOf(direction, placed, weights),
    smallestExpected < MIN_EXPECTED,
  );
}

/** The largest p that a direction may have, whichever way doubtful and unobserved devices turn out; 1 where it may be lost. */
function worstOf(
  direction: Direction,
  placed: readonly Placed[],
  weights: ReadonlyMap<string, DeviceWeight>,
): number {
  if (direction === 'level') return 1;
  const outcomes = placed.map(({ device }) => outcomesOf(weights.get(device.id)));
  const groups = [...Map.groupBy(placed.keys(), (at) => placed[at].start)].map(([score, members]) => {
    const count = (low: number, high: number) =>
      Array.from(members).filter((at) => outcomes[at].low === low && outcomes[at].high === high).length;
    return { score, successes: count(1, 1), failures: count(0, 0), open: count(0, 1) };
  });
  const range = armitageRange(groups);
  if (range.kind === 'no-data') return 1;
  const sign = direction === 'rising' ? 1 : -1;
  const least = sign > 0 ? range.low : -range.high;
  if (!(least > 0)) return 1;
  const p = normalTwoSided(least);
  const lines = linesOf(placed.map(({ device }) => device));
  const design = areGrouped(lines)
    ? slopeDesign(
        placed.map(({ start }) => start),
        lines,
      )
    : undefined;
  if (design?.kind !== 'slope-design') return p;
  const ends = outcomes.map(({ low, high }) => (sign > 0 ? [low, high] : [-high, -low]));
  const t = leastClusterT(
    design,
    ends.map(([low]) => low),
    ends.map(([, high]) => high),
    true,
  );
  return Math.max(p, studentTwoSided(t, design.freedom));
}

/** Whether a device has the subject, as 0 and 1, when what is certain or absent is taken as settled. */
function outcomesOf(weight: DeviceWeight | undefined): Interval {
  if (weight?.verdict === 'CERTAIN') return { low: 1, high: 1 };
  return weight?.verdict === 'ABSENT' ? { low: 0, high: 0 } : { low: 0, high: 1 };
}

/**
 * 95 % interval of a share's slope: its standard error is that of the test itself, with the variance of the
 * pooled proportion (Fleiss, Statistical Methods for Rates and Proportions, 2nd ed. 1981, section 9.3), so that the
 * interval includes 0 exactly where p is above 0.05. Null for a slope of 0, where z gives no error.
 */
function slopeLimits(slope: number, z: number): Interval | null {
  if (z === 0) return null;
  const reach = normalQuantile(0.975) * Math.abs(slope / z);
  return { low: slope - reach, high: slope + reach };
}
