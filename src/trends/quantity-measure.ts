import type { Device } from '../model/dossier.ts';
import type { State } from '../state/state.ts';
import { medianInterval } from '../statistics/median-interval.ts';
import { type Reading, sift } from '../statistics/missing.ts';
import { fiveNumbers, median } from '../statistics/quantile.ts';
import type { TrendCell } from './answer.ts';
import { EMPTY_CELL, limits, type Placed, type ReadyMeasure } from './measure.ts';
import { type DeviceReading, type Quantity, quantityReadings } from './quantity.ts';
import { mannKendallOf, valueTest } from './value-test.ts';

/** Median of a quantity over devices with a recorded value. */
export async function quantityMeasure(
  state: State,
  quantity: Quantity,
  options: { readonly devices: readonly Device[]; readonly currency?: string; readonly signal?: AbortSignal },
): Promise<ReadyMeasure> {
  const { unit, of } = await quantityReadings(state, quantity, options);
  const readings = new Map(options.devices.map((device) => [device.id, of(device)] as const));
  const reading = ({ id }: Device) => readings.get(id) as DeviceReading;
  return {
    of:
      'device' in quantity
        ? `median ${quantity.device} of a device`
        : `median ${quantity.parameter} of parts of the category ${quantity.of}`,
    unit,
    cell: (devices) => quantityCell(devices.map(reading)),
    test: (placed) => {
      const sure = placed.filter(({ device }) => reading(device).sure);
      return valueTest(pointsOf(placed, reading), (direction) => {
        if (sure.length === placed.length) return true;
        const alone = mannKendallOf(pointsOf(sure, reading));
        return alone.kind === 'monotone-trend' && alone.direction === direction;
      });
    },
    observed: (device) => reading(device).reading.kind === 'known',
    cautions: (devices) =>
      'device' in quantity && quantity.device === 'price' ? otherCurrencies(devices, unit) : [],
  };
}

function pointsOf(placed: readonly Placed[], of: (device: Device) => DeviceReading) {
  return placed.flatMap(({ device, start }) => {
    const { reading } = of(device);
    return reading.kind === 'known' ? [{ start, value: reading.value }] : [];
  });
}

function otherCurrencies(devices: readonly Device[], currency: string): readonly string[] {
  const others = devices.filter(({ price }) => price && price.currency !== currency).length;
  return others === 0
    ? []
    : [`Devices priced in a currency other than ${currency}: ${others}; nothing is converted.`];
}

function quantityCell(readings: readonly DeviceReading[]): TrendCell {
  const { values, notPresent, notObserved } = sift(readings.map(({ reading }): Reading => reading));
  const sure = readings.flatMap(({ reading, sure }) =>
    sure && reading.kind === 'known' ? [reading.value] : [],
  );
  const cell = {
    ...EMPTY_CELL,
    devices: readings.length,
    n: values.length,
    notPresent,
    notObserved,
    certain: sure.length,
  };
  const middle = medianInterval(values);
  if (middle.kind === 'no-data') return cell;
  const interval = middle.kind === 'median' ? limits(middle) : null;
  return {
    ...cell,
    value: middle.median,
    interval,
    distribution: fiveNumbers(values),
    median: { value: middle.median, interval },
    certainMedian: sure.length === 0 ? null : median(sure),
  };
}
