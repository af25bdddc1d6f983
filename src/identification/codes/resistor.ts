import { resistorTolerance, TOLERANCE_SOURCE, toleranceText } from '../../model/tolerance.ts';
import { doubtOfValue } from './magnitudes.ts';
import { type CodeReading, type CodeRule, engineeringText, withoutRoundingError } from './reading.ts';

const SOURCE = `IEC 60062, marking codes for resistors and capacitors; ${TOLERANCE_SOURCE}`;
const MULTIPLIER_LETTERS: Readonly<Record<string, number>> = { R: 1, K: 1e3, M: 1e6, G: 1e9 };

function readings(rule: string, value: number, letter = '', digits?: number): readonly CodeReading[] {
  const ohm = withoutRoundingError(value);
  const tolerance = letter === '' ? undefined : resistorTolerance(letter);
  if (letter !== '' && tolerance === undefined) return [];
  const doubt = doubtOfValue('resistor', ohm, digits);
  return [
    {
      rule,
      source: SOURCE,
      description: `resistor, ${engineeringText(ohm, 'Ω')}${toleranceText(tolerance)}`,
      meaning: { kind: 'resistance', ohm, ...(tolerance && { tolerance }) },
      ...(doubt === undefined ? {} : { doubt }),
    },
  ];
}

/** Two significant digits and a power of ten: `472` is 4700 Ω, `100` is 10 Ω. A lone `0` is a jumper. */
export const resistorThreeDigit: CodeRule = (line) => {
  if (line === '0') return readings('iec-60062-three-digit', 0);
  const match = /^(\d\d)(\d)$/u.exec(line);
  if (!match) return [];
  const digits = Number(match[1]);
  return readings('iec-60062-three-digit', digits * 10 ** Number(match[2]), '', digits);
};

/** Three significant digits and a power of ten: `4702` is 47 kΩ. */
export const resistorFourDigit: CodeRule = (line) => {
  const match = /^(\d{3})(\d)$/u.exec(line);
  return match ? readings('iec-60062-four-digit', Number(match[1]) * 10 ** Number(match[2])) : [];
};

/** The multiplier's letter replaces the decimal point: `4R7`, `R22`, `4K7`, `1M0`, then a tolerance. */
export const resistorLetter: CodeRule = (line) => {
  const match = /^(\d*)([RKMG])(\d*)([A-Z]?)$/u.exec(line);
  if (!match || match[1].length + match[3].length === 0 || match[1].length + match[3].length > 4) return [];
  const [, whole, letter, fraction, tolerance] = match;
  const ohm = Number(`${whole || '0'}.${fraction || '0'}`) * MULTIPLIER_LETTERS[letter];
  return readings('iec-60062-letter', ohm, tolerance);
};
