import type { Device } from '../model/dossier.ts';
import type { View } from '../state/view.ts';
import { medianInterval } from '../statistics/median-interval.ts';
import { poissonRate } from '../statistics/poisson-interval.ts';
import { fiveNumbers } from '../statistics/quantile.ts';
import { tidy } from '../statistics/tidy.ts';
import type { TrendCell } from './answer.ts';
import { directionStays } from './doubt.ts';
import { unidentifiedCaution } from './ground.ts';
import { type Held, holdingsOf } from './holdings.ts';
import { EMPTY_CELL, limits, type ReadyMeasure } from './measure.ts';
import { knownCategory } from './subject.ts';
import { valueTest } from './value-test.ts';

/** Components of a category a device. Of several specimens of a device the one with most speaks. */
export async function countMeasure(
  view: View,
  category: string,
  signal?: AbortSignal,
): Promise<ReadyMeasure> {
  knownCategory(category);
  const counts = await countsOf(view, category, signal);
  const observed = ({ id }: Device) => counts.has(id);
  return {
    of: `components of the category ${category} a device`,
    unit: 'components a device',
    cell: (devices) => countCell(devices, counts),
    test: (placed) => {
      const doubtful = placed.map(({ device, start }) => {
        const { expected, variance } = counts.get(device.id) as Held;
        return { start, expected, variance };
      });
      return valueTest(
        doubtful.map(({ start, expected }) => ({ start, value: expected })),
        (direction) => directionStays(direction, doubtful),
      );
    },
    observed,
    cautions: (devices) => (category === 'Component' ? [] : unidentifiedCaution(view, devices)),
  };
}

/** What each visible device somebody looked into holds of a category. */
async function countsOf(
  view: View,
  category: string,
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, Held>> {
  const holdings = await holdingsOf(view, signal);
  const number = holdings.find(category);
  const counts = new Map<string, Held>();
  for (const row of view.specimenRows()) {
    const { deviceId, columns } = row;
    if (columns.length === 0) continue;
    const held = holdings.of(row, number);
    const before = counts.get(deviceId);
    if (!before || held.expected > before.expected) counts.set(deviceId, held);
  }
  return counts;
}

function countCell(devices: readonly Device[], counts: ReadonlyMap<string, Held>): TrendCell {
  const held = devices.flatMap(({ id }) => counts.get(id) ?? []);
  const n = held.length;
  const sum = (of: (one: Held) => number) => tidy(held.reduce((total, one) => total + of(one), 0));
  const certain = sum((one) => one.certain);
  const expected = sum((one) => one.expected);
  const possible = sum((one) => one.possible);
  const cell = {
    ...EMPTY_CELL,
    devices: devices.length,
    n,
    notObserved: devices.length - n,
    notPresent: held.filter((one) => one.possible === 0).length,
    certain,
    likely: sum((one) => one.likely),
    expected,
    possible,
  };
  if (n === 0) return cell;
  const each = held.map((one) => one.expected);
  const middle = medianInterval(each);
  return {
    ...cell,
    value: tidy(expected / n),
    // Garwood's interval is one of a count: the whole number nearest to the expectation.
    interval: limits(poissonRate(Math.round(expected), n)),
    band: { low: certain / n, high: possible / n },
    distribution: fiveNumbers(each),
    median:
      middle.kind === 'no-data'
        ? null
        : { value: middle.median, interval: middle.kind === 'median' ? limits(middle) : null },
  };
}
