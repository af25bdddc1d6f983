import { doubtOfValue } from './magnitudes.ts';
import { type CodeReading, type CodeRule, engineeringText, withoutRoundingError } from './reading.ts';

function reading(henry: number, digits?: number): CodeReading {
  const value = withoutRoundingError(henry);
  const doubt = doubtOfValue('inductor', value, digits);
  return {
    rule: 'inductor-three-place',
    source: 'common practice, no source',
    description: `inductor, ${engineeringText(value, 'H')}`,
    meaning: { kind: 'inductance', henry: value },
    ...(doubt === undefined ? {} : { doubt }),
  };
}

/** Three digits in microhenry (`101` is 100 µH); R as decimal point in microhenry, N in nanohenry. */
export const inductorThreePlace: CodeRule = (line) => {
  const digits = /^(\d\d)(\d)$/u.exec(line);
  if (digits) return [reading(Number(digits[1]) * 10 ** Number(digits[2]) * 1e-6, Number(digits[1]))];
  const point = /^(\d{0,2})([RN])(\d{0,2})$/u.exec(line);
  if (!point || point[1].length + point[3].length < 1 || line.length > 3) return [];
  return [reading(Number(`${point[1] || '0'}.${point[3] || '0'}`) * (point[2] === 'R' ? 1e-6 : 1e-9))];
};
