import type { Device } from '../model/dossier.ts';
import { knownCategory } from '../presence/asked.ts';
import { type DevicePresence, presenceOf } from '../presence/presence.ts';
import type { State } from '../state/state.ts';
import { clusteredRate, effectiveSize } from '../statistics/cluster-interval.ts';
import { medianInterval } from '../statistics/median-interval.ts';
import { poissonRate } from '../statistics/poisson-interval.ts';
import { fiveNumbers } from '../statistics/quantile.ts';
import { tidy } from '../statistics/tidy.ts';
import type { TrendCell } from './answer.ts';
import { EMPTY_CELL, limits, type ReadyMeasure } from './measure.ts';
import { linesOf } from './product-lines.ts';
import { type Point, valueTest } from './value-test.ts';
import { unidentifiedCaution } from './visible-devices.ts';

/** Components of a category a device. Of several specimens of a device the highest expected number counts. */
export async function countMeasure(
  state: State,
  category: string,
  signal?: AbortSignal,
): Promise<ReadyMeasure> {
  knownCategory(category);
  const presence = await presenceOf(state, signal);
  const counts = new Map([...presence.of(category)].filter(([, { verdict }]) => verdict !== 'NOT_OBSERVED'));
  const most = presence.most(category);
  const observed = ({ id }: Device) => counts.has(id);
  return {
    of: `components of the category ${category} a device`,
    unit: 'components a device',
    cell: (devices) => countCell(devices, counts),
    test: (placed) => {
      const lines = linesOf(placed.map(({ device }) => device));
      return valueTest(
        placed.map(({ device: { id }, start }, at): Point => {
          const found = counts.get(id);
          const high = Math.max(most.get(id) ?? Number.POSITIVE_INFINITY, found?.likely ?? 0);
          return { start, value: found?.likely, low: found?.certain ?? 0, high, line: lines[at] };
        }),
      );
    },
    observed,
    cautions: (devices) => (category === 'Component' ? [] : unidentifiedCaution(state, devices)),
  };
}

function countCell(devices: readonly Device[], counts: ReadonlyMap<string, DevicePresence>): TrendCell {
  const members = devices.filter(({ id }) => counts.has(id));
  const held = members.flatMap(({ id }) => counts.get(id) ?? []);
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
    absent: held.filter(({ verdict }) => verdict === 'ABSENT').length,
    certain,
    likely: sum(({ likely }) => likely),
    expected,
    possible,
  };
  if (n === 0) return cell;
  const each = held.map((device) => device.expected);
  const middle = medianInterval(each);
  // Garwood's interval is for a count: the integer nearest to the expectation.
  const interval = limits(poissonRate(Math.round(expected), n));
  const { size, clusters } = effectiveSize(each, linesOf(members), expected / n);
  return {
    ...cell,
    value: tidy(expected / n),
    interval,
    productLines: clusters,
    productLineInterval: clusters === n ? interval : clusteredRate(expected / n, size),
    band: { low: certain / n, high: possible / n },
    distribution: fiveNumbers(each),
    median:
      middle.kind === 'no-data'
        ? null
        : { value: middle.median, interval: middle.kind === 'median' ? limits(middle) : null },
  };
}
