import { NUMBER_WORDS } from '../model/number-words.ts';
import { QuantityError, valueIn } from '../model/quantity.ts';

type Stated = {
  readonly value?: Parameters<typeof valueIn>[0] | undefined;
  readonly text?: string | undefined;
};

/**
 * A number of terminals: the value, or a text that is nothing but a number, in digits or as an English word up to
 * ninety-nine ("Five."). Any other text gives undefined: "Ten a side" is not a total.
 */
export function parseCount({ value, text }: Stated): number | undefined {
  if (value) return value.unit === '1' ? valueIn(value, '1') : undefined;
  const said = text?.trim().replace(/\.$/u, '').toLowerCase() ?? '';
  const count = /^\d{1,4}$/u.test(said) ? Number(said) : NUMBER_WORDS.get(said.replace(' ', '-'));
  return count === 0 ? undefined : count;
}

const SIDES = /^(\d+(?:\.\d+)?)\s*(?:mm\s*)?[x×]\s*(\d+(?:\.\d+)?)(?:\s*mm)\.?$/iu;

/**
 * Sides of a body in mm, the longer first: a text such as "3.0 x 2.5 mm", else the value, which is the longer side
 * alone. Undefined where neither gives a size.
 */
export function parseSides({ value, text }: Stated): readonly [longer: number, shorter?: number] | undefined {
  const sides = SIDES.exec(text?.trim() ?? '');
  if (sides) {
    const [a, b] = [Number(sides[1]), Number(sides[2])];
    return a > 0 && b > 0 ? [Math.max(a, b), Math.min(a, b)] : undefined;
  }
  if (!value) return undefined;
  try {
    const longer = valueIn(value, 'mm');
    return longer > 0 ? [longer] : undefined;
  } catch (error) {
    // An area or a bare number is not a side.
    if (error instanceof QuantityError) return undefined;
    throw error;
  }
}
