import { significant } from '../text/rounding.ts';

/** What a letter of tolerance stands for; of an asymmetrical one the ends below and above. */
export type Tolerance =
  | { readonly percent: number }
  | { readonly percentBelow: number; readonly percentAbove: number }
  | { readonly farad: number };

/** Where the letters come from, for the reader of an answer. */
export const TOLERANCE_SOURCE =
  'letters of tolerance from memory of the standard, and as guides of the trade have them';

/** Symmetrical tolerances of IEC 60062 in per cent; from memory. */
const PERCENT: Readonly<Record<string, number>> = {
  E: 0.005,
  L: 0.01,
  P: 0.02,
  W: 0.05,
  B: 0.1,
  C: 0.25,
  D: 0.5,
  F: 1,
  G: 2,
  H: 3,
  J: 5,
  K: 10,
  M: 20,
  N: 30,
};

/** Asymmetrical tolerances of capacitors in IEC 60062, per cent below and above; from memory. */
const ASYMMETRICAL: Readonly<Record<string, readonly [below: number, above: number]>> = {
  Q: [10, 30],
  S: [20, 50],
  T: [10, 50],
  Z: [20, 80],
};

/** Tolerances of capacitors below 10 pF in IEC 60062, symmetrical and in fixed values of pF; from memory. */
const PICOFARAD: Readonly<Record<string, number>> = { B: 0.1, C: 0.25, D: 0.5, F: 1, G: 2 };
const TEN_PICOFARAD = 10e-12;

/** What a letter says of a resistor, or undefined. */
export function resistorTolerance(letter: string): Tolerance | undefined {
  return letter in PERCENT ? { percent: PERCENT[letter] } : undefined;
}

/** What a letter says of a capacitor of so many farad, or undefined. */
export function capacitorTolerance(letter: string, farad: number): Tolerance | undefined {
  if (letter in PICOFARAD && farad < TEN_PICOFARAD * (1 - 1e-9))
    return { farad: Number(`${PICOFARAD[letter]}e-12`) };
  if (letter in ASYMMETRICAL) {
    const [percentBelow, percentAbove] = ASYMMETRICAL[letter];
    return { percentBelow, percentAbove };
  }
  return resistorTolerance(letter);
}

/** `, ±5 %`, `, -20 % to +80 %`, `, ±0.25 pF`, or nothing. */
export function toleranceText(tolerance: Tolerance | undefined): string {
  if (tolerance === undefined) return '';
  if ('percent' in tolerance) return `, ±${tolerance.percent} %`;
  if ('farad' in tolerance) return `, ±${significant(tolerance.farad * 1e12, 6)} pF`;
  return `, -${tolerance.percentBelow} % to +${tolerance.percentAbove} %`;
}
