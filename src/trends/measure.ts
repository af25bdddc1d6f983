import type { Device } from '../model/dossier.ts';
import type { NoData } from '../statistics/no-data.ts';
import type { Interval } from '../statistics/proportion.ts';
import type { TrendCell, TrendTest } from './answer.ts';

/** A device and the start of its period, in years. */
export interface Placed {
  readonly device: Device;
  readonly start: number;
}

/** A test before the correction for others in the same answer. */
export type RawTest = Omit<TrendTest, 'q'> & {
  /** Set when counts are too small for the test's approximation of p. */
  readonly rough?: boolean;
};

/** A measure prepared for a state: for any group of devices the rest is plain arithmetic. */
export interface ReadyMeasure {
  /** What is measured, such as `share of devices with a PressureSensor`. */
  readonly of: string;
  readonly unit: string;
  cell(devices: readonly Device[]): TrendCell;
  /** Tests devices that {@link TrendCell.n} counts for a change over time. */
  test(placed: readonly Placed[]): RawTest | NoData;
  /** Devices that `test` can use. */
  observed(device: Device): boolean;
  /** Probability that a device has the subject; for shares only. */
  weightOf?(device: Device): { readonly certain: boolean; readonly probability: number } | undefined;
  /** Cautions for figures over these devices. */
  cautions(devices: readonly Device[]): readonly string[];
}

/** A cell without data. */
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

/** The limits of an interval that has other fields too. */
export function limits({ low, high }: Interval): Interval {
  return { low, high };
}

/** Number of different periods. */
export function periodsIn(placed: readonly Placed[]): number {
  return new Set(placed.map(({ start }) => start)).size;
}
