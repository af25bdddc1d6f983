import type { Device } from '../model/dossier.ts';
import type { Interval } from '../statistics/proportion.ts';

/**
 * What joins two components of a structure: the edges that patterns see, all that `nets/` derives and connections as traced.
 */
export const RELATIONS = ['feeds', 'signal-path', 'shares-net', 'shares-bus', 'connects'] as const;
export type Relation = (typeof RELATIONS)[number];

/**
 * How what joins components is distinguished: by relation and bus where known, by relation and medium, or not at all. A traced
 * connection of unknown bus goes by its medium.
 */
export const LINK_LABELS = ['bus', 'medium', 'none'] as const;
export type LinkLabels = (typeof LINK_LABELS)[number];

/** What is looked for. */
export interface StructureQuestion {
  /** Minimum number of devices that have a structure. @default a tenth of the devices looked into, at least 3 */
  readonly minSupport?: number;
  /** Minimum number of components of a structure. @default 3 */
  readonly minSize?: number;
  /** Maximum number of components of a structure. @default 4 */
  readonly maxSize?: number;
  /** Steps under `Component` down to which kinds are distinguished; the most specific kind when not given. */
  readonly level?: number;
  /** Kinds left out, with all under them. @default ['Passive'] */
  readonly without?: readonly string[];
  /**
   * What joins components. Beside other relations, `connects` means only those traced connections that these do not hold:
   * those that carry no current, and those between components that none of the others joins.
   * @default feeding, signal paths and connections, with passives shared nets, too; by medium, connections alone
   */
  readonly relations?: readonly Relation[];
  /** How these are distinguished. @default 'bus' */
  readonly links?: LinkLabels;
  /** Whether connections within a board and from board to board are distinguished. @default false */
  readonly boards?: boolean;
  /** Number of structures to return, the most significant first. @default 20 */
  readonly first?: number;
  /** Order in which they are given. @default 'surprise' */
  readonly order?: Order;
  /** Whether variants of a structure given before are given as well, see `places.ts`. @default false */
  readonly variants?: boolean;
  /** Whether to return only structures that no named pattern describes. @default false */
  readonly unwritten?: boolean;
}

/**
 * By surprise: devices times the logarithm of the lift, half the term that the structure adds to the likelihood ratio
 * G² (Dunning, "Accurate Methods for the Statistics of Surprise and Coincidence", Computational Linguistics 19, 1993,
 * 61-74); by lift alone, by number of devices, or by how clearly it goes with the years.
 */
export const ORDERS = ['surprise', 'lift', 'support', 'year'] as const;
export type Order = (typeof ORDERS)[number];

/** What joins two components of a structure: places of its ends among the components, and what it is. */
export interface StructureLink {
  /** The source where it has a direction. */
  readonly from: number;
  readonly to: number;
  /** Left out where relations are not distinguished. */
  readonly relation?: Relation;
  readonly bus?: string;
  /** Said of connections whose bus is not known, or where media alone count. */
  readonly medium?: string;
  /** Said of a connection that counts because no other relation asked for joins the two. */
  readonly alone?: true;
  /** Said where boards count: one board, two boards, or a board that is not on record. */
  readonly boards?: 'one' | 'two' | 'unknown';
}

/** Components of given kinds joined by given connections. */
export interface Structure {
  /** Term of the taxonomy of each component. */
  readonly kinds: readonly string[];
  readonly links: readonly StructureLink[];
}

/** What chance alone would give, see `chance.ts`. */
export interface Chance {
  /** Expected number of devices. */
  readonly expected: number;
  /** Share of devices, among those that hold all its links, in which shuffled links meet in this way. */
  readonly meeting: number;
  /** Standard error of `meeting` from the finite number of shuffles. */
  readonly meetingError: number;
  /** Devices that have it over those expected; null when chance was never seen to give any. */
  readonly lift: number | null;
  /** 95 %: Wilson's interval of the share over the expected share. */
  readonly liftInterval: Interval | null;
}

/** Whether the share of devices with a structure goes with their year of release. */
export interface YearTrend {
  /** Devices and years it is based on. */
  readonly n: number;
  readonly years: number;
  /** Two-sided p of Cochran and Armitage, and the same corrected over all structures found. */
  readonly p: number;
  readonly q: number;
  /** Change of the share a year. */
  readonly slope: number;
}

/** A named pattern that describes the same components. */
export interface KnownAs {
  readonly id: string;
  readonly name: string;
  /** Share of the devices with the structure in which a match of the pattern and it have two components in common. */
  readonly share: number;
}

/** A structure that recurs, with what is known of it. */
export interface FoundStructure extends Structure {
  /** In words, such as `Accelerometer I2C Microcontroller`. */
  readonly words: string;
  /** The structure as a pattern (GQL), which finds at least the devices that support it. */
  readonly text: string;
  /** Visible devices in which it lies with every kind certain (probability 0.95 or more each), by id. */
  readonly devices: readonly Device[];
  readonly support: number;
  /** Share of the devices looked into, and its 95 % interval (Wilson). */
  readonly share: number;
  readonly shareInterval: Interval;
  /** Devices that may have it, doubtful identifications included; of these the expected number. */
  readonly possible: number;
  readonly expected: number;
  readonly chance: Chance;
  /** Null where there are too few devices or years for a test. */
  readonly year: YearTrend | null;
  readonly knownAs: readonly KnownAs[];
  /** Structures left out of the list as variants of this one, as far as they were looked at. */
  readonly variants: number;
  /** Whether a structure of more components than were allowed has the same devices. */
  readonly growsFurther: boolean;
}

export interface StructureAnswer {
  /** The most significant ones, in the order asked for. */
  readonly structures: readonly FoundStructure[];
  /** Closed structures found in all. */
  readonly found: number;
  /** Devices looked into: those with a component on record. */
  readonly devices: number;
  /** Minimum number of devices that a structure had to have. */
  readonly minSupport: number;
  /** What joined components. */
  readonly relations: readonly Relation[];
  /** False when the time limit or the caller ended the search early; then there may be more. */
  readonly complete: boolean;
  readonly cautions: readonly string[];
}
