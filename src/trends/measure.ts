import type { Device } from '../model/dossier.ts';
import type { NoData } from '../statistics/no-data.ts';
import type { Interval } from '../statistics/proportion.ts';
import type { LineTest, TrendCell, TrendTest } from './answer.ts';

/** A device and the start of its period, in years. */
export interface Placed {
  readonly device: Device;
  readonly start: number;
}

/** A test before the correction for others in the same answer. */
export type RawTest = Omit<TrendTest, 'q' | 'qAtMost' | 'holdsUnderDoubt'> & {
  /** The p that counts: of devices or of product lines, whichever is larger. */
  readonly careful: number;
  /** The largest that p may be, whichever way what is doubtful or was not observed turns out; 1 where the direction may be lost. */
  readonly atMost: number;
  /** Set when counts are too small for the test's approximation of p. */
  readonly rough: boolean;
};

/** A test with the p that counts, and the largest that it may be. */
export function careful(
  test: Omit<RawTest, 'careful' | 'atMost' | 'rough' | 'basis'>,
  worst: number,
  rough: boolean,
): RawTest {
  const byLines = test.byProductLine !== null && test.byProductLine.p > test.p;
  const p = byLines ? (test.byProductLine as LineTest).p : test.p;
  const basis = byLines ? 'product lines' : 'devices';
  return { ...test, basis, careful: p, atMost: Math.max(p, worst), rough };
}

/** A measure prepared for a state: for any group of devices the rest is plain arithmetic. */
export interface ReadyMeasure {
  /** What is measured, such as `share of devices with a PressureSensor`. */
  readonly of: string;
  readonly unit: string;
  cell(devices: readonly Device[]): TrendCell;
  /** Tests devices for a change over time; those that were not observed are given too, since they may turn out either way. */
  test(placed: readonly Placed[]): RawTest | NoData;
  /** Devices that {@link TrendCell.n} counts. */
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
  absent: 0,
  value: null,
  interval: null,
  band: null,
  outer: null,
  productLines: 0,
  productLineInterval: null,
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
