import { type CodeReading, type CodeRule, engineeringText, withoutRoundingError } from './reading.ts';
import { TOLERANCE_PERCENT, toleranceText } from './tolerance.ts';

const SOURCE = 'IEC 60062, marking codes for resistors and capacitors';
const MULTIPLIER_LETTERS: Readonly<Record<string, number>> = { R: 1, K: 1e3, M: 1e6, G: 1e9 };

function reading(rule: string, ohm: number, tolerancePercent?: number): CodeReading {
  const value = withoutRoundingError(ohm);
  return {
    rule,
    source: SOURCE,
    description: `resistor, ${engineeringText(value, 'Ω')}${toleranceText(tolerancePercent)}`,
    meaning: {
      kind: 'resistance',
      ohm: value,
      ...(tolerancePercent === undefined ? {} : { tolerancePercent }),
    },
  };
}

/** Two significant digits and a power of ten: `472` is 4700 Ω, `100` is 10 Ω. A lone `0` is a jumper. */
export const resistorThreeDigit: CodeRule = (line) => {
  if (line === '0') return [reading('iec-60062-three-digit', 0)];
  const match = /^(\d\d)(\d)$/u.exec(line);
  return match ? [reading('iec-60062-three-digit', Number(match[1]) * 10 ** Number(match[2]))] : [];
};

/** Three significant digits and a power of ten: `4702` is 47 kΩ. */
export const resistorFourDigit: CodeRule = (line) => {
  const match = /^(\d{3})(\d)$/u.exec(line);
  return match ? [reading('iec-60062-four-digit', Number(match[1]) * 10 ** Number(match[2]))] : [];
};

/** The multiplier's letter replaces the decimal point: `4R7`, `R22`, `4K7`, `1M0`, then a tolerance. */
export const resistorLetter: CodeRule = (line) => {
  const match = /^(\d*)([RKMG])(\d*)([A-Z]?)$/u.exec(line);
  if (!match || match[1].length + match[3].length === 0 || match[1].length + match[3].length > 4) return [];
  const [, whole, letter, fraction, tolerance] = match;
  if (tolerance && TOLERANCE_PERCENT[tolerance] === undefined) return [];
  const ohm = Number(`${whole || '0'}.${fraction || '0'}`) * MULTIPLIER_LETTERS[letter];
  return [reading('iec-60062-letter', ohm, tolerance ? TOLERANCE_PERCENT[tolerance] : undefined)];
};
