import { QuantityError, valueIn } from '../model/quantity.ts';

type Stated = {
  readonly value?: Parameters<typeof valueIn>[0] | undefined;
  readonly text?: string | undefined;
};

const ONES = [
  ...[
    'zero',
    'one',
    'two',
    'three',
    'four',
    'five',
    'six',
    'seven',
    'eight',
    'nine',
    'ten',
    'eleven',
    'twelve',
  ],
  ...['thirteen', 'fourteen', 'fifteen', 'sixteen', 'seventeen', 'eighteen', 'nineteen'],
];
const TENS = ['twenty', 'thirty', 'forty'];
/** Highest number of terminals written as a word. */
const LAST_WORD = 48;

/** English number words from one to forty-eight. */
const NUMBER_WORDS: ReadonlyMap<string, number> = new Map(
  Array.from({ length: LAST_WORD }, (_, i): readonly [string, number] => {
    const number = i + 1;
    if (number < ONES.length) return [ONES[number], number];
    const tens = TENS[Math.floor(number / 10) - 2];
    return [number % 10 === 0 ? tens : `${tens}-${ONES[number % 10]}`, number];
  }),
);

/**
 * A number of terminals: the value, or a text that is nothing but a number, in digits or as an English word up to
 * forty-eight ("Five."). Any other text gives undefined: "Ten a side" is not a total.
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
