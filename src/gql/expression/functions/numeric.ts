/** Numeric functions (ISO/IEC 39075:2024, 20.22 <numeric value function>; features GF01, GF02, GF03). */
import { finite, signed } from '../arithmetic.ts';
import type { FunctionDefinition } from './define.ts';

function real(
  name: string,
  doc: string,
  standard: string,
  compute: (x: number) => number,
): FunctionDefinition {
  return {
    name,
    parameters: [{ name: 'number', type: 'number' }],
    result: 'number',
    doc,
    standard,
    fn: ([x]) => finite(compute(x as number)),
  };
}

function binary(
  name: string,
  names: readonly [string, string],
  doc: string,
  standard: string,
  compute: (x: number, y: number) => number,
): FunctionDefinition {
  return {
    name,
    parameters: names.map((parameter) => ({ name: parameter, type: 'number' })),
    result: 'number',
    doc,
    standard,
    fn: ([x, y]) => finite(compute(x as number, y as number)),
  };
}

export const NUMERIC_FUNCTIONS: readonly FunctionDefinition[] = [
  {
    name: 'ABS',
    parameters: [{ name: 'number', type: ['number', 'duration'] }],
    result: 'any',
    doc: 'The size of a number or duration without its sign.',
    standard: 'GF01',
    fn: ([x]) => {
      if (typeof x === 'number') return Math.abs(x);
      return (x as { amount: number }).amount < 0 ? signed('-', x!) : x!;
    },
  },
  binary(
    'MOD',
    ['number', 'divisor'],
    'The rest of a division, with the sign of the number.',
    'GF01',
    (x, y) => x % y,
  ),
  real('FLOOR', 'The next lower whole number.', 'GF01', Math.floor),
  real('CEIL', 'The next higher whole number.', 'GF01', Math.ceil),
  real('CEILING', 'The next higher whole number.', 'GF01', Math.ceil),
  real('SQRT', 'The square root; null for a negative number.', 'GF01', Math.sqrt),
  binary('POWER', ['base', 'exponent'], 'The base to the power of the exponent.', 'GF03', (x, y) => x ** y),
  real('EXP', 'e to the power of the number.', 'GF03', Math.exp),
  real('LN', 'The natural logarithm.', 'GF03', Math.log),
  real('LOG10', 'The decimal logarithm.', 'GF03', Math.log10),
  binary('LOG', ['base', 'number'], 'The logarithm to a base.', 'GF03', (base, x) =>
    base > 0 && base !== 1 ? Math.log(x) / Math.log(base) : Number.NaN,
  ),
  real('SIN', 'The sine of an angle in radians.', 'GF02', Math.sin),
  real('COS', 'The cosine of an angle in radians.', 'GF02', Math.cos),
  real('TAN', 'The tangent of an angle in radians.', 'GF02', Math.tan),
  real('COT', 'The cotangent of an angle in radians.', 'GF02', (x) => 1 / Math.tan(x)),
  real('SINH', 'The hyperbolic sine.', 'GF02', Math.sinh),
  real('COSH', 'The hyperbolic cosine.', 'GF02', Math.cosh),
  real('TANH', 'The hyperbolic tangent.', 'GF02', Math.tanh),
  real('ASIN', 'The angle in radians with this sine.', 'GF02', Math.asin),
  real('ACOS', 'The angle in radians with this cosine.', 'GF02', Math.acos),
  real('ATAN', 'The angle in radians with this tangent.', 'GF02', Math.atan),
  real('DEGREES', 'Radians in degrees.', 'GF02', (x) => (x * 180) / Math.PI),
  real('RADIANS', 'Degrees in radians.', 'GF02', (x) => (x * Math.PI) / 180),
];
