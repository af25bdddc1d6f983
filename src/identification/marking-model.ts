import type { MarkingCharacter, MarkingText } from '../model/marking.ts';
import { ALPHABET, believed, type Column, type Confusion, placeOf } from './confusion.ts';
import { DIGIT, KINDS, kindOf, LETTER, SYMBOLS } from './template.ts';

// A marking as a noisy reading of a true text: each true character is read right, confused or overlooked, and now
// and then one is imagined. Everything is a natural logarithm of a likelihood ratio: this text against "some text
// nobody knows", whose characters are drawn one by one, digits a little more often than letters. The best alignment
// approximates the sum over all (Viterbi), which is the weighted edit distance of Ristad & Yianilos 1998 (IEEE PAMI 20,
// 522-532), section 2.

const DIGITS = new Set(Array.from({ length: 10 }, (_, digit) => ALPHABET.indexOf(String(digit))));
const LETTERS = new Set([...ALPHABET].flatMap((one, place) => (/[A-Zl]/u.test(one) ? [place] : [])));
/** Shares of digits and letters in the markings of parts that nobody knows (common practice, no source). */
const CHANCE_DIGIT = 0.55;
const CHANCE_LETTER = 0.44;

/** Probability that a character of a marking nobody knows is read as the one at a place of ALPHABET. */
export const CHANCE: Float64Array = Float64Array.from(ALPHABET, (character) => {
  if (/\d/u.test(character)) return CHANCE_DIGIT / 10;
  return /[A-Zl]/u.test(character) ? CHANCE_LETTER / 27 : (1 - CHANCE_DIGIT - CHANCE_LETTER) / 4;
});

/** Longest marking that is looked at, in characters. */
export const MAX_READ = 48;
/**
 * How many more characters may be overlooked than imagined up to any place, or the other way round. The search does not
 * hold to it up to each place, but on the whole, where one text alone is left: more costs far too much to matter.
 */
export const BAND = 4;

const NEVER = Number.NEGATIVE_INFINITY;

/** A read marking made ready for comparing. */
export interface Reading {
  /** Characters read, all lines. */
  readonly length: number;
  /** Log-ratio of character j under symbol s, or under the best symbol of kind s, at [j * KINDS + s]. */
  readonly emit: Float64Array;
  /** Log-ratio of character j when it was imagined. */
  readonly imagined: Float64Array;
  readonly overlooked: number;
}

function columnOf(character: MarkingCharacter, confusion: Confusion): Column {
  const { options } = character;
  // Doubtful characters come in any number of ways and are not kept.
  if (options.length > 1) return makeColumn(character, confusion);
  const key = options[0] ?? '';
  let column = confusion.columns.get(key);
  if (!column) {
    column = makeColumn(character, confusion);
    confusion.columns.set(key, column);
  }
  return column;
}

function makeColumn(character: MarkingCharacter, confusion: Confusion): Column {
  const size = ALPHABET.length;
  const emit = new Float64Array(KINDS);
  const read = believed(character);
  // An unread character looks the same whatever was there: all its ratios are 1.
  if (!read) return { emit, imagined: confusion.logImagined + Math.log(size) };
  let chance = 0;
  for (const [place, weight] of read) chance += weight * CHANCE[place];
  const logChance = Math.log(chance);
  let anyDigit = 0;
  let anyLetter = 0;
  const [[only]] = read;
  for (let truth = 0; truth < size; truth++) {
    let likelihood = 0;
    if (read.size === 1) likelihood = confusion.read[truth * size + only];
    else for (const [place, weight] of read) likelihood += weight * confusion.read[truth * size + place];
    emit[truth] = Math.log(likelihood) - logChance;
    if (DIGITS.has(truth)) anyDigit += likelihood / DIGITS.size;
    if (LETTERS.has(truth)) anyLetter += likelihood / LETTERS.size;
  }
  emit[DIGIT] = Math.log(anyDigit) - logChance;
  emit[LETTER] = Math.log(anyLetter) - logChance;
  emit.fill(Number.NEGATIVE_INFINITY, SYMBOLS);
  for (let symbol = 0; symbol < size; symbol++)
    if (emit[symbol] > emit[kindOf[symbol]]) emit[kindOf[symbol]] = emit[symbol];
  return { emit, imagined: confusion.logImagined - logChance };
}

/** Characters of a marking that are compared: blanks and characters that no marking has are passed over. */
export function readable(marking: MarkingText): readonly MarkingCharacter[] {
  return marking
    .flat()
    .filter(({ options }) => options.length === 0 || options.some((one) => placeOf(one) >= 0))
    .slice(0, MAX_READ);
}

/** Memory of the marking prepared last: thousands are compared, one after another. */
const prepared = { emit: new Float64Array(KINDS * MAX_READ), imagined: new Float64Array(MAX_READ) };

/**
 * Prepares a marking. Blanks and characters that no marking has are passed over. What it answers holds until the next
 * marking is prepared.
 */
export function prepare(marking: MarkingText, confusion: Confusion): Reading {
  const characters = readable(marking);
  const length = characters.length;
  const { emit, imagined } = prepared;
  characters.forEach((character, j) => {
    const read = columnOf(character, confusion);
    imagined[j] = read.imagined;
    emit.set(read.emit, j * KINDS);
  });
  return { length, emit, imagined, overlooked: confusion.logOverlooked };
}

/** First row of the alignment: everything read so far was imagined. */
export function firstRow(reading: Reading, row: Float64Array): void {
  row[0] = 0;
  for (let j = 0; j < reading.length; j++) row[j + 1] = row[j] + reading.imagined[j];
}

/** First and last element that the row written last holds; those outside are as good as never reached. */
export const span = new Int32Array(2);

/**
 * One step of the alignment: the row after `symbol`, the `depth`-th of the true text, given the row before it.
 * Element j is the best log-ratio of the first j characters read. Elements that cannot reach the floor any more are
 * left out; {@link span} says which are there.
 * @param rows where both rows lie
 * @param before place of the row before, which holds elements `low` to `high`
 * @param after place of the row to be written
 * @param most at [rest + j], the most that symbols still to come can add to the characters from j on
 * @returns an upper bound of what any continuation can reach
 */
export function nextRow(
  { length, emit, overlooked, imagined }: Reading,
  symbol: number,
  depth: number,
  rows: Float64Array,
  before: number,
  low: number,
  high: number,
  after: number,
  most: Float64Array,
  rest: number,
  floor: number,
): number {
  const from = Math.max(low, depth - BAND);
  const to = Math.min(length, depth + BAND);
  let diagonal = from > low ? rows[before + from - 1] : NEVER;
  let left = NEVER;
  let bound = NEVER;
  let first = -1;
  let last = -2;
  for (let j = from; j <= to; j++) {
    const above = j <= high ? rows[before + j] : NEVER;
    let value = above + overlooked;
    if (j > 0) {
      const read = diagonal + emit[(j - 1) * KINDS + symbol];
      if (read > value) value = read;
      const added = left + imagined[j - 1];
      if (added > value) value = added;
    }
    diagonal = above;
    const reach = value + most[rest + j];
    if (reach >= floor) {
      if (first < 0) first = j;
      last = j;
      if (reach > bound) bound = reach;
    } else {
      value = NEVER;
      // Nothing is left that an element farther on could come from.
      if (j > high) break;
    }
    left = value;
    rows[after + j] = value;
  }
  span[0] = first;
  span[1] = last;
  return bound;
}

/** Two rows, written in turn, and a bound of nothing. */
const twoRows = new Float64Array(2 * (MAX_READ + 1));
const unbounded = new Float64Array(MAX_READ + 1);

/** The last row of the alignment with one text alone, symbols as UTF-16 units: element j for j characters read. */
export function alignedRow(reading: Reading, symbols: string): readonly number[] {
  const { length } = reading;
  firstRow(reading, twoRows);
  let [row, other, low, high] = [0, MAX_READ + 1, 0, length];
  for (let depth = 1; depth <= symbols.length; depth++) {
    const symbol = symbols.charCodeAt(depth - 1);
    nextRow(reading, symbol, depth, twoRows, row, low, high, other, unbounded, 0, NEVER);
    [row, other, low, high] = [other, row, span[0], span[1]];
  }
  return Array.from({ length: length + 1 }, (_, j) =>
    j >= low && j <= high && Math.abs(j - symbols.length) <= BAND ? twoRows[row + j] : NEVER,
  );
}

/** Log-ratio of a reading for a text of its own length, each character read as the one in its place. */
export function straightRatio({ length, emit }: Reading, symbols: string): number {
  let ratio = 0;
  for (let j = 0; j < length; j++) ratio += emit[j * KINDS + symbols.charCodeAt(j)];
  return ratio;
}
