import type { Device } from '../model/dossier.ts';
import type { DeviceFilter } from '../state/device-list.ts';
import type { Direction } from '../statistics/direction.ts';
import type { Interval } from '../statistics/proportion.ts';
import type { FiveNumbers } from '../statistics/quantile.ts';
import type { Quantity } from './quantity.ts';
import type { Subject } from './subject.ts';

/** What is followed over time. */
export type Measure =
  /** Share of devices that have the subject. */
  | { readonly share: Subject }
  /** Components of a category (term of the taxonomy) a device. */
  | { readonly count: string }
  /** Median of a quantity over devices. */
  | { readonly quantity: Quantity };

export type PeriodLength = 'year' | 'half-year' | 'quarter';
export type FacetName = 'body-site' | 'maker' | 'price-band';

export interface TrendQuestion {
  readonly of: Measure;
  /** @default 'year' */
  readonly per?: PeriodLength;
  /** Asks the same of each group apart. */
  readonly by?: FacetName;
  /** For the facet of price: the edges between bands, rising. @default terciles of the devices asked about */
  readonly edges?: readonly number[];
  /** Currency of price bands and of the quantity price, ISO 4217. @default the one most devices have */
  readonly currency?: string;
  readonly where?: DeviceFilter;
}

/**
 * What is known of one group of devices, such as those of one year. `devices` is always
 * n + `notObserved` for shares and counts, and n + `notObserved` + `notPresent` for quantities.
 */
export interface TrendCell {
  readonly devices: number;
  /** Devices that `value` is taken over. */
  readonly n: number;
  /** Devices of which it was not observed, or whose value is not on record. */
  readonly notObserved: number;
  /** Devices that were looked at and have none: absent, as `presence/` has it. They count in `n`. */
  readonly notPresent: number;
  /** Expected share (0 to 1), expected components a device, or median in the answer's unit; null without a device. */
  readonly value: number | null;
  /**
   * 95 % interval of `value` from the sample alone: Wilson's for a share, Garwood's exact Poisson for a count, order
   * statistics for a median (null where too few devices have a value).
   */
  readonly interval: Interval | null;
  /**
   * `value` if only what is certain counted, and if all that is possible did. For a share the devices of which it was
   * not observed are among the possible. Null for quantities.
   */
  readonly band: Interval | null;
  /** Both doubts at once, for a share: Wilson's lower limit of the certain, upper limit of the possible share. */
  readonly outer: Interval | null;
  /**
   * Of devices (share) or components (count): those that are one with probability 0.95 or more, at least as likely as
   * not, the sum of probabilities over `n`, and those that are one with 0.05 or more. Of a quantity: devices whose value rests on identifications
   * of 0.95 or more (`certain`); the others null.
   */
  readonly certain: number;
  readonly likely: number | null;
  readonly expected: number | null;
  readonly possible: number | null;
  /** Of components a device, or of the quantity; null for shares. */
  readonly distribution: FiveNumbers | null;
  /** Median of components a device and its interval, or of the quantity; null for shares. */
  readonly median: { readonly value: number; readonly interval: Interval | null } | null;
  /** Median of a quantity over certain devices alone. */
  readonly certainMedian: number | null;
}

/** The devices of one period. */
export interface TrendPeriod extends TrendCell {
  /** `2019`, `2019-H1` or `2019-Q3`. */
  readonly period: string;
  /** Start of the period in years: 2019.5 for the second half of 2019. */
  readonly start: number;
}

/** Outcome of the test of one series. */
export interface TrendTest {
  readonly name: 'Cochran–Armitage' | 'Mann–Kendall';
  /** Devices and periods with devices that it rests on. */
  readonly n: number;
  readonly periods: number;
  readonly z: number;
  /** Two-sided; exact where the test has an exact one. */
  readonly p: number;
  /** Adjusted for all series tested in the same answer (Benjamini–Hochberg). */
  readonly q: number;
  /** Change of the value in a year: weighted least squares for shares, Theil–Sen otherwise. */
  readonly slope: number | null;
  /** 95 % interval of the slope: by the standard error of the test for shares, Sen's otherwise; null where it has none. */
  readonly slopeInterval: Interval | null;
  readonly direction: Direction;
  /**
   * Whether the direction stays in spite of doubtful identifications. For shares and counts: with probability 0.95 or
   * more, each being right or wrong independently with its own probability. For quantities: over the certain alone.
   */
  readonly holdsUnderDoubt: boolean;
}

/** What may be said of a series. */
export interface TrendVerdict {
  /** Whether there are enough devices and periods to speak of a direction at all. */
  readonly enough: boolean;
  readonly direction: 'rising' | 'falling' | 'no clear direction' | null;
  /** In plain words. */
  readonly sentence: string;
}

/** One series: everything asked about, or one group of a facet. */
export interface TrendSeries {
  /** Value of the facet; null for the whole. */
  readonly group: string | null;
  /** In words. */
  readonly label: string;
  /** All periods together, and devices whose date is too rough for a period. */
  readonly whole: TrendCell;
  /** Devices dated too roughly to be put into a period. */
  readonly undated: number;
  readonly periods: readonly TrendPeriod[];
  /** Null when there was nothing to test; the verdict says why. */
  readonly test: TrendTest | null;
  readonly verdict: TrendVerdict;
}

/** A device among the first. */
export interface Adopter {
  readonly device: Device;
  readonly probability: number;
  readonly certain: boolean;
  /** Probability that it has the subject and no device certainly released before it has. */
  readonly probabilityFirst: number;
}

export interface TrendAnswer {
  /** What was measured, in words. */
  readonly of: string;
  /** UCUM code, ISO 4217 currency, `1` for shares, or `components a device`. */
  readonly unit: string;
  readonly per: PeriodLength;
  readonly by: FacetName | null;
  readonly whole: TrendSeries;
  /** One for each group of the facet; their devices sum to the whole's. */
  readonly groups: readonly TrendSeries[];
  /** For a share: the first certain device and all that may have come before or with it, by release. */
  readonly firstAdopters: readonly Adopter[];
  /** What must be said beside the figures. */
  readonly cautions: readonly string[];
}
