import { ALPHABET, type Confusion } from './confusion.ts';

// A part that nobody has catalogued is mostly a sibling of one that somebody has: another memory size, another voltage,
// another suffix. Its marking is that of the catalogued part with some characters changed, so it is compared by the same
// alignment as a reading is, with a table of confusions that takes those changes in: maker and eye alter a text one after
// the other. Fields of a marking (lots, dates) mean any character either way.

/** How often a sibling has another digit in one place, or another letter (working values, common practice, no source). */
const OTHER_DIGIT = 0.1;
const OTHER_LETTER = 0.06;
/** How often it has a character more or fewer in one place (the same). */
const MORE_OR_FEWER = 0.05;

const IS_DIGIT = Array.from(ALPHABET, (one) => /\d/u.test(one));
const IS_LETTER = Array.from(ALPHABET, (one) => /[A-Z]/u.test(one));
const [DIGITS, LETTERS] = [IS_DIGIT, IS_LETTER].map((is) => is.filter(Boolean).length);

const known = new WeakMap<Confusion, Confusion>();

/** How the characters of a catalogued part are read on a sibling of it: changed by its maker, then confused by the eye. */
export function asReadOnSibling(confusion: Confusion): Confusion {
  let table = known.get(confusion);
  if (!table) {
    table = made(confusion);
    known.set(confusion, table);
  }
  return table;
}

function made({ read, slips }: Confusion): Confusion {
  const size = ALPHABET.length;
  const both = new Float64Array(size * size);
  const average = (is: readonly boolean[], count: number, seen: number) => {
    let sum = 0;
    for (let truth = 0; truth < size; truth++) if (is[truth]) sum += read[truth * size + seen];
    return sum / count;
  };
  for (let seen = 0; seen < size; seen++) {
    const [digit, letter] = [average(IS_DIGIT, DIGITS, seen), average(IS_LETTER, LETTERS, seen)];
    for (let truth = 0; truth < size; truth++) {
      const own = read[truth * size + seen];
      // Another one of the same sort, all equally likely.
      const mixed = (rate: number, count: number, any: number) =>
        (1 - rate) * own + (rate * (count * any - own)) / (count - 1);
      both[truth * size + seen] = IS_DIGIT[truth]
        ? mixed(OTHER_DIGIT, DIGITS, digit)
        : IS_LETTER[truth]
          ? mixed(OTHER_LETTER, LETTERS, letter)
          : own;
    }
  }
  return {
    read: both,
    columns: new Map(),
    slips: {
      ...slips,
      overlooked: slips.overlooked + MORE_OR_FEWER,
      imagined: slips.imagined + MORE_OR_FEWER,
    },
  };
}

/**
 * Natural logarithm of how often a sibling of a part with one known text has another, both with symbols as UTF-16 units;
 * with the same text twice, how often it has just that. Texts that differ by more than a character in length are none of siblings.
 */
export function logOfChange(from: string, to: string): number {
  if (from.length === to.length) return straight(from, to);
  const [longer, shorter] = from.length > to.length ? [from, to] : [to, from];
  if (longer.length - shorter.length > 1) return Number.NEGATIVE_INFINITY;
  let at = 0;
  while (at < shorter.length && longer[at] === shorter[at]) at++;
  const rest =
    straight(longer.slice(at + 1), shorter.slice(at)) + straight(shorter.slice(0, at), shorter.slice(0, at));
  return rest + Math.log(from.length > to.length ? MORE_OR_FEWER : MORE_OR_FEWER / ALPHABET.length);
}

function straight(from: string, to: string): number {
  let log = 0;
  for (let i = 0; i < from.length; i++) {
    const [a, b] = [from.charCodeAt(i), to.charCodeAt(i)];
    if (IS_DIGIT[a] && IS_DIGIT[b]) log += a === b ? SAME_DIGIT : ANOTHER_DIGIT;
    else if (IS_LETTER[a] && IS_LETTER[b]) log += a === b ? SAME_LETTER : ANOTHER_LETTER;
    else if (a !== b) return Number.NEGATIVE_INFINITY;
  }
  return log;
}

const SAME_DIGIT = Math.log(1 - OTHER_DIGIT);
const ANOTHER_DIGIT = Math.log(OTHER_DIGIT / (DIGITS - 1));
const SAME_LETTER = Math.log(1 - OTHER_LETTER);
const ANOTHER_LETTER = Math.log(OTHER_LETTER / (LETTERS - 1));
