import { doubtOfValue } from './magnitudes.ts';
import { type CodeRule, engineeringText, withoutRoundingError } from './reading.ts';

const MULTIPLIERS: Readonly<Record<string, number>> = {
  Z: 0.001,
  Y: 0.01,
  R: 0.01,
  X: 0.1,
  S: 0.1,
  A: 1,
  B: 10,
  H: 10,
  C: 100,
  D: 1000,
  E: 10_000,
  F: 100_000,
};

/** Significant value of the E96 series at a 1-based place (IEC 60063: 100 · 10^(i/96), rounded). */
export function e96Value(place: number): number {
  return Math.round(100 * 10 ** ((place - 1) / 96));
}

/** EIA-96: two digits give a place in the E96 series, a letter the multiplier; 1 % resistors. */
export const eia96: CodeRule = (line) => {
  const match = /^(\d\d)([A-Z])$/u.exec(line);
  const place = match ? Number(match[1]) : 0;
  if (!match || place < 1 || place > 96 || MULTIPLIERS[match[2]] === undefined) return [];
  const ohm = withoutRoundingError(e96Value(place) * MULTIPLIERS[match[2]]);
  const doubt = doubtOfValue('resistor', ohm);
  return [
    {
      rule: 'eia-96',
      source: 'EIA-96, letters as guides of the trade have them, with the E96 series of IEC 60063',
      description: `resistor, ${engineeringText(ohm, 'Ω')}, ±1 %`,
      meaning: { kind: 'resistance', ohm, tolerance: { percent: 1 } },
      ...(doubt === undefined ? {} : { doubt }),
    },
  ];
};
