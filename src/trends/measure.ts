import type { Device } from '../model/dossier.ts';
import type { NoData } from '../statistics/no-data.ts';
import type { Interval } from '../statistics/proportion.ts';
import type { TrendCell, TrendTest } from './answer.ts';

/** A device and the start of its period, in years. */
export interface Placed {
  readonly device: Device;
  readonly start: number;
}

/** A test before it is known how many others stand beside it. */
export type RawTest = Omit<TrendTest, 'q'> & {
  /** Set when the test's p is an approximation that the counts are small for. */
  readonly rough?: boolean;
};

/** A measure made ready for a view: asks of any group of devices are plain arithmetic from here on. */
export interface ReadyMeasure {
  /** In words, such as `share of devices with a PressureSensor`. */
  readonly of: string;
  readonly unit: string;
  cell(devices: readonly Device[]): TrendCell;
  /** Tests devices that {@link TrendCell.n} counts for a change over time. */
  test(placed: readonly Placed[]): RawTest | NoData;
  /** Devices that `test` can use. */
  observed(device: Device): boolean;
  /** How sure it is that a device has the subject; for shares alone. */
  weightOf?(device: Device): { readonly certain: boolean; readonly probability: number } | undefined;
  /** What must be said beside figures over these devices. */
  cautions(devices: readonly Device[]): readonly string[];
}

/** A cell of which nothing is known. */
export const EMPTY_CELL: TrendCell = {
  devices: 0,
  n: 0,
  notObserved: 0,
  notPresent: 0,
  value: null,
  interval: null,
  band: null,
  outer: null,
  certain: 0,
  likely: null,
  expected: null,
  possible: null,
  distribution: null,
  median: null,
  certainMedian: null,
};

/** Limits alone, of what also says other things. */
export function limits({ low, high }: Interval): Interval {
  return { low, high };
}

/** Number of different periods. */
export function periodsIn(placed: readonly Placed[]): number {
  return new Set(placed.map(({ start }) => start)).size;
}
