import type { Budgets, Searched } from '../gql/gql.ts';

/** A question to the pattern engine. */
export interface PatternQuestion {
  /** The pattern, in the read-only subset of ISO/IEC 39075 (GQL). */
  readonly text: string;
  /** Values of the `$parameters` in the text, by name. */
  readonly parameters?: Readonly<Record<string, unknown>>;
  /** Whether different node patterns must match different things. @default true */
  readonly distinctNodes?: boolean;
  readonly signal?: AbortSignal;
  /** Whether a match lies within one specimen or may span the archive. @default 'device' */
  readonly scope?: 'device' | 'archive';
  /** Ids of the specimens to search; a match may reach into others. @default all */
  readonly specimens?: ReadonlySet<string>;
  /** Matches examined in each specimen at most. @default 200, or 24 where the scope is the archive */
  readonly matchesEach?: number;
  /** Limits of the search. @default those of the pattern engine */
  readonly budgets?: Budgets;
}

/** What a search that a budget ended has not done. */
export interface CutShort {
  /** Why it is not complete, and which of its numbers are bounds, in sentences; undefined when there is nothing to say. */
  readonly note: string | undefined;
  /** How many of the specimens in which something may be found were searched, when it is not complete and that is known. */
  readonly searched: Searched | undefined;
}

/** Visible devices that show a pattern, with probabilities. */
export interface PatternAnswer extends CutShort {
  /** Variables of the pattern, in the order of the text. */
  readonly variables: readonly string[];
  /** What the text means other than its writer may think, a sentence each. */
  readonly warnings: readonly string[];
  /** Devices that certainly or possibly show it, with probability 0.05 or more, by device id. */
  readonly devices: readonly PatternDevice[];
  /** Probability of devices with a less likely match, above 0, by device id; not listed, but in the number to expect. */
  readonly unlikely: ReadonlyMap<string, number>;
  /** False when a budget ended the search early. */
  readonly complete: boolean;
}

/** A device and its matches. */
export interface PatternDevice {
  readonly deviceId: string;
  /** Whether `probability`, of an estimate the lower bound, is 0.95 or more. */
  readonly certain: boolean;
  /** Probability, 0 to 1, that the device has at least one match. */
  readonly probability: number;
  /** Whether `probability` is exact, or an estimate that lies between `low` and `high`. */
  readonly method: 'exact' | 'estimate';
  /** Bounds of the probability: a 99 % interval where worlds were sampled, else strict ones; equal to it when exact. */
  readonly low: number;
  readonly high: number;
  readonly matches: readonly PatternMatch[];
}

/** A match of the pattern. */
export interface PatternMatch {
  readonly specimenId: string;
  readonly bindings: readonly PatternBinding[];
  readonly certain: boolean;
  /** Probability, 0 to 1, that everything in this match is what the pattern asks for, and its conditions hold. */
  readonly probability: number;
}

/** Nodes bound to a variable, by global id: a single node unless the variable is in a repeated path. */
export interface PatternBinding {
  readonly variable: string;
  readonly ids: readonly string[];
}
