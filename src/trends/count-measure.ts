import type { Device } from '../model/dossier.ts';
import { knownCategory } from '../presence/asked.ts';
import { type DevicePresence, presenceOf } from '../presence/presence.ts';
import type { State } from '../state/state.ts';
import { medianInterval } from '../statistics/median-interval.ts';
import { poissonRate } from '../statistics/poisson-interval.ts';
import { fiveNumbers } from '../statistics/quantile.ts';
import { tidy } from '../statistics/tidy.ts';
import type { TrendCell } from './answer.ts';
import { directionStays } from './doubt.ts';
import { EMPTY_CELL, limits, type ReadyMeasure } from './measure.ts';
import { valueTest } from './value-test.ts';
import { unidentifiedCaution } from './visible-devices.ts';

/** Components of a category a device. Of several specimens of a device the highest expected number counts. */
export async function countMeasure(
  state: State,
  category: string,
  signal?: AbortSignal,
): Promise<ReadyMeasure> {
  knownCategory(category);
  const counts = await countsOf(state, category, signal);
  const observed = ({ id }: Device) => counts.has(id);
  return {
    of: `components of the category ${category} a device`,
    unit: 'components a device',
    cell: (devices) => countCell(devices, counts),
    test: (placed) => {
      const doubtful = placed.map(({ device, start }) => {
        const { expected, variance } = counts.get(device.id) as DevicePresence;
        return { start, expected, variance };
      });
      return valueTest(
        doubtful.map(({ start, expected }) => ({ start, value: expected })),
        (direction) => directionStays(direction, doubtful),
      );
    },
    observed,
    cautions: (devices) => (category === 'Component' ? [] : unidentifiedCaution(state, devices)),
  };
}

/** What each visible device has of a category, where that was observed. */
async function countsOf(
  state: State,
  category: string,
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DevicePresence>> {
  const presence = await presenceOf(state, signal);
  return new Map([...presence.of(category)].filter(([, { verdict }]) => verdict !== 'NOT_OBSERVED'));
}

function countCell(devices: readonly Device[], counts: ReadonlyMap<string, DevicePresence>): TrendCell {
  const held = devices.flatMap(({ id }) => counts.get(id) ?? []);
  const n = held.length;
  const sum = (of: (device: DevicePresence) => number) =>
    tidy(held.reduce((total, device) => total + of(device), 0));
  const certain = sum(({ certain }) => certain);
  const expected = sum(({ expected }) => expected);
  const possible = sum(({ possible }) => possible);
  const cell = {
    ...EMPTY_CELL,
    devices: devices.length,
    n,
    notObserved: devices.length - n,
    notPresent: held.filter(({ verdict }) => verdict === 'ABSENT').length,
    certain,
    likely: sum(({ likely }) => likely),
    expected,
    possible,
  };
  if (n === 0) return cell;
  const each = held.map((device) => device.expected);
  const middle = medianInterval(each);
  return {
    ...cell,
    value: tidy(expected / n),
    // Garwood's interval is for a count: the integer nearest to the expectation.
    interval: limits(poissonRate(Math.round(expected), n)),
    band: { low: certain / n, high: possible / n },
    distribution: fiveNumbers(each),
    median:
      middle.kind === 'no-data'
        ? null
        : { value: middle.median, interval: middle.kind === 'median' ? limits(middle) : null },
  };
}
