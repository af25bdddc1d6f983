import type { Device } from '../model/dossier.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import type { State } from '../state/state.ts';
import { cochranArmitage } from '../statistics/cochran-armitage.ts';
import { normalQuantile } from '../statistics/distributions.ts';
import type { NoData } from '../statistics/no-data.ts';
import type { Interval } from '../statistics/proportion.ts';
import { shareBand } from '../statistics/share-band.ts';
import { tidy } from '../statistics/tidy.ts';
import type { TrendCell } from './answer.ts';
import { directionStays } from './doubt.ts';
import { EMPTY_CELL, type Placed, periodsIn, type RawTest, type ReadyMeasure } from './measure.ts';
import { type DeviceWeight, deviceWeights, mayHave, type Subject } from './subject.ts';
import { unidentifiedCaution } from './visible-devices.ts';

/** Below this expected number in a cell, chi-square is a rough approximation (common practice after Cochran 1954). */
const MIN_EXPECTED = 5;

/** Share of devices that have a subject. */
export async function shareMeasure(
  state: State,
  subject: Subject,
  signal?: AbortSignal,
): Promise<ReadyMeasure> {
  const weights = await deviceWeights(state, subject, signal);
  const observed = ({ id }: Device) => weights.has(id);
  return {
    of: `share of devices with ${subjectText(state, subject)}`,
    unit: '1',
    cell: (devices) => shareCell(devices, weights),
    test: (placed) => shareTest(placed, weights),
    observed,
    weightOf: ({ id }) => {
      const weight = weights.get(id);
      return mayHave(weight) ? weight : undefined;
    },
    cautions: (devices) => unidentifiedCaution(state, devices),
  };
}

function subjectText(state: State, subject: Subject): string {
  if ('pattern' in subject) return `the pattern "${state.pattern(subject.pattern)?.name ?? subject.pattern}"`;
  if ('decision' in subject)
    return `the decision "${state.pattern(subject.decision)?.name ?? subject.decision}"`;
  if ('text' in subject) return 'a match of the pattern given';
  if ('category' in subject) return `a component of the category ${subject.category}`;
  if ('maker' in subject) return `a part made by ${state.maker(subject.maker)?.name ?? subject.maker}`;
  return `the part ${subject.part}`;
}

function shareCell(devices: readonly Device[], weights: ReadonlyMap<string, DeviceWeight>): TrendCell {
  const observed = devices.flatMap(({ id }) => weights.get(id) ?? []);
  const probabilities = observed.map(({ probability }) => probability);
  const n = probabilities.length;
  const notObserved = devices.length - n;
  const notPresent = observed.filter(({ verdict }) => verdict === 'ABSENT').length;
  const found = shareBand(probabilities, { notObserved, certainFrom: CERTAIN, possibleFrom: POSSIBLE });
  const seen = { ...EMPTY_CELL, devices: devices.length, n, notObserved, notPresent };
  if (found.kind === 'no-data') return { ...seen, likely: 0, expected: 0, possible: 0 };
  return {
    ...seen,
    value: tidy(found.share),
    interval: found.sampling,
    band: found.band,
    outer: found.outer,
    certain: found.certain,
    likely: probabilities.filter((p) => p >= 0.5).length,
    expected: tidy(found.expected),
    possible: found.possible - notObserved,
  };
}

/** Cochran–Armitage over periods; a device counts when it has the subject at least as likely as not. */
export function shareTest(
  placed: readonly Placed[],
  weights: ReadonlyMap<string, DeviceWeight>,
): RawTest | NoData {
  const groups = [...Map.groupBy(placed, ({ start }) => start)].sort(([a], [b]) => a - b);
  const test = cochranArmitage(
    groups.map(([score, members]) => ({
      score,
      trials: members.length,
      successes: members.filter(({ device }) => (weights.get(device.id)?.probability ?? 0) >= 0.5).length,
    })),
  );
  if (test.kind === 'no-data') return test;
  const { n, z, p, slope, direction, smallestExpected } = test;
  return {
    name: 'Cochran–Armitage',
    n,
    periods: periodsIn(placed),
    z,
    p,
    slope,
    slopeInterval: slopeLimits(slope, z),
    direction,
    holdsUnderDoubt: directionStays(
      direction,
      placed.map(({ device, start }) => {
        const expected = weights.get(device.id)?.probability ?? 0;
        return { start, expected, variance: expected * (1 - expected) };
      }),
    ),
    rough: smallestExpected < MIN_EXPECTED,
  };
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
