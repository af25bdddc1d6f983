import type { Device } from '../model/dossier.ts';
import type { DeviceFilter } from '../state/lists/device-list.ts';
import type { Direction } from '../statistics/direction.ts';
import type { Interval } from '../statistics/proportion.ts';
import type { FiveNumbers } from '../statistics/quantile.ts';
import type { FacetName, PeriodLength } from './asked.ts';
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

export interface TrendQuestion {
  readonly of: Measure;
  /** @default 'year' */
  readonly per?: PeriodLength;
  /** Also measures each group of this facet separately. */
  readonly by?: FacetName;
  /** For the facet of price: the edges between bands, rising. @default terciles of the devices in question */
  readonly edges?: readonly number[];
  /** Currency of price bands and of the quantity price, ISO 4217. @default the most common */
  readonly currency?: string;
  readonly where?: DeviceFilter;
}

/**
 * Figures for one group of devices, such as those of one year. `devices` is always
 * n + `notObserved` for shares and counts, and n + `notObserved` + `absent` for quantities.
 */
export interface TrendCell {
  readonly devices: number;
  /** Devices that `value` is calculated over. */
  readonly n: number;
  /** Devices where it was not observed, or without a recorded value. */
  readonly notObserved: number;
  /** Devices where it is absent, as `presence/` defines it. They count in `n`. */
  readonly absent: number;
  /** Expected share (0 to 1), expected components a device, or median in the answer's unit; null without a device. */
  readonly value: number | null;
  /**
   * 95 % interval of `value` from the sample alone: Wilson's for a share, Garwood's exact Poisson for a count, order
   * statistics for a median (null where too few devices have a value).
   */
  readonly interval: Interval | null;
  /** Product lines among `n`; a device of none is one of its own. */
  readonly productLines: number;
  /**
   * `interval` with the devices of a product line taken as alike: the number of devices is that of independent ones which
   * would tell as much (statistics/cluster-interval.ts). Equal to `interval` where each device is of another line.
   */
  readonly productLineInterval: Interval | null;
  /**
   * `value` if only the certain counted, and if all the possible did. For a share, devices where it was not observed
   * are among the possible. Null for quantities.
   */
  readonly band: Interval | null;
  /** Both doubts at once, for a share: Wilson's lower limit of the certain, upper limit of the possible share. */
  readonly outer: Interval | null;
  /**
   * Devices that have the subject (share) or components of the category (count): with probability 0.95 or more, with
   * 0.5 or more, the sum of probabilities over `n`, and with 0.05 or more. Of a quantity: devices whose value is
   * supported by identifications of 0.95 or more (`certain`); the others null.
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

/** The test of a series with product lines as clusters (statistics/cluster-slope.ts). */
export interface LineTest {
  readonly productLines: number;
  readonly t: number;
  /** Satterthwaite's: low where few lines carry the slope. */
  readonly degreesOfFreedom: number;
  /** Two-sided. */
  readonly p: number;
  /** Variance by lines over that of independent devices. */
  readonly designEffect: number;
  /** 95 % interval of the slope of the series; null where it has none. */
  readonly slopeInterval: Interval | null;
}

/** Outcome of the test of one series. */
export interface TrendTest {
  readonly name: 'Cochran–Armitage' | 'Mann–Kendall';
  /** Devices, and periods with devices, that went into it. */
  readonly n: number;
  readonly periods: number;
  readonly z: number;
  /** Two-sided, devices independent; exact where the test has an exact one. */
  readonly p: number;
  /** The same with product lines as clusters; null where no two devices share a line, or all do. */
  readonly byProductLine: LineTest | null;
  /** Which of the two counts for `q` and the verdict: that with the larger p. */
  readonly basis: 'devices' | 'product lines';
  /** The p that counts, adjusted for all series tested in the same answer (Benjamini–Hochberg). */
  readonly q: number;
  /**
   * The largest that q may be, whichever way doubtful and unobserved devices turn out: each certain one (0.95 or more) has the
   * subject, each absent one has not, all others may. Exact, or a bound that may be too large, never too small.
   */
  readonly qAtMost: number;
  /** Change of the value per year: weighted least squares for shares, Theil–Sen otherwise. */
  readonly slope: number | null;
  /**
   * 95 % interval of the slope, devices independent: by the standard error of the test for shares, Sen's otherwise; null
   * where it has none.
   */
  readonly slopeInterval: Interval | null;
  readonly direction: Direction;
  /** Whether the direction would be named whichever way doubtful and unobserved devices turn out. */
  readonly holdsUnderDoubt: boolean;
}

/** What may be concluded from a series. */
export interface TrendVerdict {
  /** Whether there are enough devices and periods to name a direction at all. */
  readonly enough: boolean;
  readonly direction: 'rising' | 'falling' | 'no clear direction' | null;
  /** In plain words. */
  readonly sentence: string;
}

/** One series: everything asked about, or one group of a facet. */
export interface TrendSeries {
  /** Value of the facet; null for the total. */
  readonly group: string | null;
  /** Display name. */
  readonly label: string;
  /** All periods together, with devices whose date is too rough for a period. */
  readonly total: TrendCell;
  /** Devices dated too roughly for a period. */
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
  /** Probability that it has the subject and no device listed and certainly released before it has. */
  readonly probabilityFirst: number;
}

export interface TrendAnswer {
  /** What was measured, in words. */
  readonly of: string;
  /** UCUM code, ISO 4217 currency, `1` for shares, or `components a device`. */
  readonly unit: string;
  readonly per: PeriodLength;
  readonly by: FacetName | null;
  /** Devices that were asked about, in words that follow "devices"; null for all. */
  readonly only: string | null;
  readonly total: TrendSeries;
  /** One for each group of the facet; their devices add up to the total. */
  readonly groups: readonly TrendSeries[];
  /** For a share: the first certain device and all that may have come before or with it, by release. */
  readonly firstAdopters: readonly Adopter[];
  /** Cautions that go with the figures. */
  readonly cautions: readonly string[];
}
