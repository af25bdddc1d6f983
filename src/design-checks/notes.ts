import type { CheckedValue } from './box.ts';
import { formatValue, shortNumber } from './format-value.ts';

// What a reader must be told of the figures that went into a check and came out of it.

/** Of two inputs of one unit, `lower` cannot be above `upper`. */
export interface Tie<Name extends string> {
  readonly lower: Name;
  readonly upper: Name;
  /** Why not, in a clause. */
  readonly because: string;
}

/** Where the values of an output lie, and what to say of one outside. */
export interface Plausible {
  readonly low?: number;
  readonly high?: number;
  readonly note: string;
}

interface InputEnds {
  readonly name: string;
  readonly min?: number;
  readonly max?: number;
  readonly typical?: { readonly low: number; readonly high: number; readonly note: string };
  readonly whole?: true;
}

/** Values this many times outside the usual range are told of: a slip of a prefix is a factor of 1000. */
const FAR = 10;

/** That an uncertain input was cut off at a physical end, and that its value is far from usual. */
export function notesOnInput(
  { name, min, max, typical, whole }: InputEnds,
  { value, unit, low, high }: CheckedValue,
  stated: CheckedValue,
): readonly string[] {
  const ends = [
    ...(min !== undefined && stated.low < min ? [min] : []),
    ...(max !== undefined && stated.high > max ? [max] : []),
  ];
  const notes = ends.map(
    (end) =>
      `${name} is cut off at ${formatValue({ value: end, unit, low: end, high: end })}, its physical end.`,
  );
  if (typical && !whole && value !== 0 && (value < typical.low / FAR || value > typical.high * FAR)) {
    const range = `${shortNumber(typical.low)} to ${formatValue({ value: typical.high, unit, low: 0, high: 0 })}`;
    notes.push(
      `${name} is ${formatValue({ value, unit, low, high })}; usual are ${range} (${typical.note}). Is the unit right?`,
    );
  }
  return notes;
}

/** That a value lies where none is known to. */
export function notesOnOutput(
  { name, plausible }: { readonly name: string; readonly plausible?: Plausible },
  value: CheckedValue | undefined,
): readonly string[] {
  if (!plausible || !value) return [];
  const { low = -Infinity, high = Infinity, note } = plausible;
  return value.value < low || value.value > high ? [`${name} is ${formatValue(value)}: ${note}.`] : [];
}

/**
 * Two intervals without the part where the lower is above the upper, and whether anything was left out. Undefined where nothing
 * remains.
 */
export function keptInOrder(
  lower: CheckedValue,
  upper: CheckedValue,
): { readonly lower: CheckedValue; readonly upper: CheckedValue; readonly cut: boolean } | undefined {
  if (lower.low > upper.high) return undefined;
  if (lower.high <= upper.low) return { lower, upper, cut: false };
  const above = inside(upper.value, Math.max(upper.low, lower.low), upper.high);
  const below = inside(lower.value, lower.low, Math.min(lower.high, upper.high));
  return {
    lower: { ...lower, ...below, value: Math.min(below.value, above.value) },
    upper: { ...upper, ...above },
    cut: true,
  };
}

function inside(value: number, low: number, high: number) {
  return { value: Math.min(high, Math.max(low, value)), low, high };
}
