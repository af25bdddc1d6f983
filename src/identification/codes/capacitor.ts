import {
  capacitorTolerance,
  TOLERANCE_SOURCE,
  type Tolerance,
  toleranceText,
} from '../../model/tolerance.ts';
import { doubtOfValue } from './magnitudes.ts';
import { type CodeReading, type CodeRule, engineeringText, withoutRoundingError } from './reading.ts';

const SOURCE = `IEC 60062, marking codes for resistors and capacitors; ${TOLERANCE_SOURCE}`;
const PICO = 1e-12;
const LETTERS: Readonly<Record<string, number>> = { p: 1e-12, n: 1e-9, u: 1e-6, µ: 1e-6, m: 1e-3 };

function readings(rule: string, value: number, letter: string, digits?: number): readonly CodeReading[] {
  const farad = withoutRoundingError(value);
  const tolerance = letter === '' ? undefined : capacitorTolerance(letter, farad);
  if (letter !== '' && tolerance === undefined) return [];
  const doubt = doubtOfValue('capacitor', farad, digits) ?? doubtOfTolerance(letter, tolerance);
  return [
    {
      rule,
      source: SOURCE,
      description: `capacitor, ${engineeringText(farad, 'F')}${toleranceText(tolerance)}`,
      meaning: { kind: 'capacitance', farad, ...(tolerance && { tolerance }) },
      ...(doubt === undefined ? {} : { doubt }),
    },
  ];
}

/** Part makers give B, C and D in picofarad above 10 pF as well, where a tolerance in per cent is hardly made. */
function doubtOfTolerance(letter: string, tolerance: Tolerance | undefined): string | undefined {
  return tolerance && 'percent' in tolerance && 'BCD'.includes(letter)
    ? `part makers mean ±${tolerance.percent} pF by ${letter} at any value (common practice, no source)`
    : undefined;
}

/** Two digits and a power of ten in picofarad, 8 and 9 standing for a hundredth and a tenth: `104K`, `229`. */
export const capacitorThreeDigit: CodeRule = (line) => {
  const match = /^(\d\d)(\d)([A-Z]?)$/u.exec(line);
  if (!match) return [];
  const [, digits, power, letter] = match;
  const exponent = power === '9' ? -1 : power === '8' ? -2 : Number(power);
  return readings(
    'iec-60062-capacitor-digits',
    Number(digits) * 10 ** exponent * PICO,
    letter,
    Number(digits),
  );
};

/** The prefix of the unit replaces the decimal point: `4n7`, `3p3`, `u47`. */
export const capacitorLetter: CodeRule = (line) => {
  const match = /^(\d{0,3})([pnuµm])(\d{0,2})([A-Z]?)$/u.exec(line);
  if (!match || match[1].length + match[3].length === 0) return [];
  const [, whole, prefix, fraction, letter] = match;
  const farad = Number(`${whole || '0'}.${fraction || '0'}`) * LETTERS[prefix];
  return readings('iec-60062-capacitor-letter', farad, letter);
};
