import { engineeringText } from './reading.ts';

/** Kinds of part whose codes give a magnitude. */
export type PartKind = 'resistor' | 'capacitor' | 'inductor';

interface Range {
  readonly unit: string;
  readonly low: number;
  readonly high: number;
}

/** What such parts on a board of a wearable have, with a decade to spare; common practice, no source. */
const RANGES: Readonly<Record<PartKind, Range>> = {
  resistor: { unit: 'Ω', low: 1e-4, high: 1e9 },
  capacitor: { unit: 'F', low: 5e-14, high: 1e-2 },
  inductor: { unit: 'H', low: 1e-10, high: 0.1 },
};

/** Series E24, significant digits (IEC 60063). */
const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];
/** Small capacitors and inductors come in steps of a tenth of a unit beside the series. */
const SMALL: Readonly<Partial<Record<PartKind, number>>> = { capacitor: 10e-12, inductor: 100e-9 };

/**
 * Why a part is unlikely to have a value: nothing of its kind does, or its two digits are in no series; undefined where neither
 * is so. A resistance of 0 is a jumper.
 * @param digits significant digits of a code of two, where the value was given so
 */
export function doubtOfValue(kind: PartKind, value: number, digits?: number): string | undefined {
  const { unit, low, high } = RANGES[kind];
  if (value === 0) return kind === 'resistor' ? undefined : `no ${kind} has 0 ${unit}`;
  if (value < low || value > high)
    return `no ${kind} has that: ${engineeringText(low, unit)} to ${engineeringText(high, unit)} (common practice, no source)`;
  if (digits === undefined || value < (SMALL[kind] ?? 0)) return undefined;
  const significant = digits < 10 ? digits * 10 : digits;
  return E24.includes(significant) ? undefined : `${significant} is not in the series E24 (IEC 60063)`;
}
