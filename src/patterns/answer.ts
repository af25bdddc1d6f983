/** What is asked of the pattern engine. */
export interface PatternQuestion {
  /** The pattern, in the read-only subset of ISO/IEC 39075 (GQL). */
  readonly text: string;
  /** Values of the `$parameters` in the text, by name. */
  readonly parameters?: Readonly<Record<string, unknown>>;
  /** Whether different node patterns stand for different things. @default true */
  readonly distinctNodes?: boolean;
  readonly signal?: AbortSignal;
  /** Whether a match lies within one specimen or may span the archive. @default 'device' */
  readonly scope?: 'device' | 'archive';
  /** Ids of the specimens whose matches are wanted; a match may reach into others. All when not given. */
  readonly specimens?: ReadonlySet<string>;
}

/** Which visible devices show a pattern, and how sure that is. */
export interface PatternAnswer {
  /** Variables of the pattern, in the order of the text. */
  readonly variables: readonly string[];
  /** Devices that certainly or possibly show it, with probability 0.05 or more, by device id. */
  readonly devices: readonly PatternDevice[];
  /** Probability of devices with a match that are less likely to show it, by device id: nothing lists or counts them. */
  readonly unlikely: ReadonlyMap<string, number>;
  /** False when a budget ended the search before everything was looked at. */
  readonly complete: boolean;
}

/** One device and its matches. */
export interface PatternDevice {
  readonly deviceId: string;
  /** True when some match is certain: every label and condition in it holds with probability 0.95 or more. */
  readonly certain: boolean;
  /** Probability, 0 to 1, that the device has at least one match. */
  readonly probability: number;
  /** Whether `probability` is exact or an estimate: sampled with bounds, or blind to labels inside EXISTS. */
  readonly method: 'exact' | 'estimate';
  readonly matches: readonly PatternMatch[];
}

/** One way in which the pattern fits. */
export interface PatternMatch {
  readonly specimenId: string;
  readonly bindings: readonly PatternBinding[];
  readonly certain: boolean;
  /** Probability, 0 to 1, that everything in this match is what the pattern asks for. */
  readonly probability: number;
}

/** What a variable stands for: global ids of nodes, one unless the variable stands in a repeated path. */
export interface PatternBinding {
  readonly variable: string;
  readonly ids: readonly string[];
}
