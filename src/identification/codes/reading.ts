import type { Tolerance } from '../../model/tolerance.ts';
import { significant } from '../../text/rounding.ts';

/** What a code means, by one rule. Rival rules may read the same characters differently. */
export interface CodeReading {
  /** Name of the rule that read it, such as `iec-60062-three-digit`. */
  readonly rule: string;
  /** The standard, and what of it is from memory; or "common practice, no source". */
  readonly source: string;
  /** What the code would mean, in words with units. */
  readonly description: string;
  readonly meaning: CodeMeaning;
  /** Why it is hardly so, such as a date after the device's release or a magnitude that no part has. */
  readonly doubt?: string;
}

export type CodeMeaning =
  | { readonly kind: 'resistance'; readonly ohm: number; readonly tolerance?: Tolerance }
  | { readonly kind: 'capacitance'; readonly farad: number; readonly tolerance?: Tolerance }
  | { readonly kind: 'inductance'; readonly henry: number }
  /** First and last day meant, `YYYY-MM-DD`. */
  | { readonly kind: 'date'; readonly from: string; readonly to: string }
  | {
      readonly kind: 'cell';
      readonly thicknessMm: number;
      readonly widthMm: number;
      readonly lengthMm: number;
    }
  | { readonly kind: 'round-cell'; readonly diameterMm: number; readonly heightMm: number };

/** What the reader knows of the thing that carries the code; it narrows dates. */
export interface CodeContext {
  /** Release of the device, ISO 8601 at any precision: nothing in it was made after its last day. */
  readonly released?: string;
  /** Year of today, for codes without a device. */
  readonly thisYear: number;
}

/** A rule of one code: its readings of a line of marking, none when the line is not such a code. */
export type CodeRule = (line: string, context: CodeContext) => readonly CodeReading[];

const PREFIXES: readonly (readonly [factor: number, prefix: string])[] = [
  [1e9, 'G'],
  [1e6, 'M'],
  [1e3, 'k'],
  [1, ''],
  [1e-3, 'm'],
  [1e-6, 'µ'],
  [1e-9, 'n'],
  [1e-12, 'p'],
];

/** `4.7 kΩ`, `100 nF`: a value in the prefix of engineering notation. */
export function engineeringText(value: number, unit: string): string {
  if (value === 0) return `0 ${unit}`;
  const [factor, prefix] =
    PREFIXES.find(([size]) => value >= size * 0.999999) ?? PREFIXES[PREFIXES.length - 1];
  return `${significant(value / factor, 6)} ${prefix}${unit}`;
}

/** A decimal value without the rounding error of repeated multiplication. */
export function withoutRoundingError(value: number): number {
  return Number(value.toPrecision(12));
}
