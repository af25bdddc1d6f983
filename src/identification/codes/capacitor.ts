import { type CodeReading, type CodeRule, engineeringText, withoutRoundingError } from './reading.ts';
import { TOLERANCE_PERCENT, toleranceText } from './tolerance.ts';

const SOURCE = 'IEC 60062, marking codes for resistors and capacitors';
const PICO = 1e-12;
const LETTERS: Readonly<Record<string, number>> = { p: 1e-12, n: 1e-9, u: 1e-6, µ: 1e-6, m: 1e-3 };

function reading(rule: string, farad: number, tolerancePercent?: number): CodeReading {
  const value = withoutRoundingError(farad);
  return {
    rule,
    source: SOURCE,
    description: `capacitor, ${engineeringText(value, 'F')}${toleranceText(tolerancePercent)}`,
    meaning: {
      kind: 'capacitance',
      farad: value,
      ...(tolerancePercent === undefined ? {} : { tolerancePercent }),
    },
  };
}

/** Two digits and a power of ten in picofarad, 8 and 9 standing for a hundredth and a tenth: `104K`, `229`. */
export const capacitorThreeDigit: CodeRule = (line) => {
  const match = /^(\d\d)(\d)([A-Z]?)$/u.exec(line);
  if (!match) return [];
  const [, digits, power, tolerance] = match;
  if (tolerance && TOLERANCE_PERCENT[tolerance] === undefined) return [];
  const exponent = power === '9' ? -1 : power === '8' ? -2 : Number(power);
  const farad = Number(digits) * 10 ** exponent * PICO;
  return [reading('iec-60062-capacitor-digits', farad, tolerance ? TOLERANCE_PERCENT[tolerance] : undefined)];
};

/** The prefix of the unit replaces the decimal point: `4n7`, `3p3`, `u47`. */
export const capacitorLetter: CodeRule = (line) => {
  const match = /^(\d{0,3})([pnuµm])(\d{0,2})([A-Z]?)$/u.exec(line);
  if (!match || match[1].length + match[3].length === 0) return [];
  const [, whole, letter, fraction, tolerance] = match;
  if (tolerance && TOLERANCE_PERCENT[tolerance] === undefined) return [];
  const farad = Number(`${whole || '0'}.${fraction || '0'}`) * LETTERS[letter];
  return [reading('iec-60062-capacitor-letter', farad, tolerance ? TOLERANCE_PERCENT[tolerance] : undefined)];
};
