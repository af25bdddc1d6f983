import type { Device } from '../model/dossier.ts';
import type { State } from '../state/state.ts';
import { clusteredMedian, effectiveSize } from '../statistics/cluster-interval.ts';
import { medianInterval } from '../statistics/median-interval.ts';
import { type Reading, sift } from '../statistics/missing.ts';
import { fiveNumbers, median } from '../statistics/quantile.ts';
import type { TrendCell } from './answer.ts';
import { EMPTY_CELL, limits, type Placed, type ReadyMeasure } from './measure.ts';
import { linesOf } from './product-lines.ts';
import { type DeviceReading, type Quantity, quantityReadings } from './quantity.ts';
import { type Point, valueTest } from './value-test.ts';

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
    cell: (devices) => quantityCell(devices, reading),
    test: (placed) => valueTest(pointsOf(placed, reading)),
    observed: (device) => reading(device).reading.kind === 'known',
    cautions: (devices) =>
      'device' in quantity && quantity.device === 'price' ? otherCurrencies(devices, unit) : [],
  };
}

/** A value on record is what it is; one that hangs on a doubtful part, or is not on record, may be any. */
function pointsOf(placed: readonly Placed[], of: (device: Device) => DeviceReading): readonly Point[] {
  const lines = linesOf(placed.map(({ device }) => device));
  return placed.flatMap(({ device, start }, at): Point[] => {
    const { reading, sure } = of(device);
    const line = lines[at];
    if (reading.kind === 'absent') return [];
    const value = reading.kind === 'known' ? reading.value : undefined;
    if (value !== undefined && sure) return [{ start, value, low: value, high: value, line }];
    return [{ start, value, low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY, line }];
  });
}

function otherCurrencies(devices: readonly Device[], currency: string): readonly string[] {
  const others = devices.filter(({ price }) => price && price.currency !== currency).length;
  return others === 0
    ? []
    : [`Devices priced in a currency other than ${currency}: ${others}; nothing is converted.`];
}

function quantityCell(devices: readonly Device[], of: (device: Device) => DeviceReading): TrendCell {
  const readings = devices.map(of);
  const { values, absent, notObserved } = sift(readings.map(({ reading }): Reading => reading));
  const sure = readings.flatMap(({ reading, sure }) =>
    sure && reading.kind === 'known' ? [reading.value] : [],
  );
  const cell = {
    ...EMPTY_CELL,
    devices: readings.length,
    n: values.length,
    absent,
    notObserved,
    certain: sure.length,
  };
  const middle = medianInterval(values);
  if (middle.kind === 'no-data') return cell;
  const interval = middle.kind === 'median' ? limits(middle) : null;
  const lines = linesOf(devices.filter((device) => of(device).reading.kind === 'known'));
  // The share of values up to the median is what a median's interval is that of.
  const below = values.map((value) => Number(value <= middle.median));
  const share = below.reduce((sum, one) => sum + one, 0) / below.length;
  const { size, clusters } = effectiveSize(below, lines, share * (1 - share));
  return {
    ...cell,
    value: middle.median,
    interval,
    productLines: clusters,
    productLineInterval: clusters === values.length ? interval : clusteredMedian(values, size),
    distribution: fiveNumbers(values),
    median: { value: middle.median, interval },
    certainMedian: sure.length === 0 ? null : median(sure),
  };
}
