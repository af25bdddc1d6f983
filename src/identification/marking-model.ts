import type { MarkingCharacter, MarkingText } from '../model/marking.ts';
import { ALPHABET, believed, type Column, type Confusion, placeOf } from './confusion.ts';
import { BREAK, DIGIT, FREE, KINDS, kindOf, LETTER, SYMBOLS } from './template.ts';

// A marking as a noisy reading of a true text: each true character is read right, confused, overlooked, written down twice or
// in the wrong order with its neighbour, and now and then one is imagined; lines are run together or broken; lots and other
// fields are longer or shorter than listed; and how many characters were not read is not known for certain. Everything is a natural logarithm of a likelihood ratio: this text against "some text
// nobody knows", whose characters are drawn one by one, digits a little more often than letters. The best alignment
// approximates the sum over all (Viterbi), which is the weighted edit distance of Ristad & Yianilos 1998 (IEEE PAMI 20,
// 522-532), section 2, with transpositions after Damerau 1964 (Communications of the ACM 7, 171-176).

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
export const BAND = 5;

const NEVER = Number.NEGATIVE_INFINITY;

/**
 * How often a line that ends is run together with the next, how often one is broken that does not end, and how often a line
 * ends after a character of a text that nobody knows (common practice, no source).
 */
const LINE_LOST = 0.1;
const LINE_BROKEN = 0.03;
export const CHANCE_LINE = 0.15;
/** How often a lot or another free field has a character more than listed, or one fewer (common practice, no source). */
const FIELD_DIFFERS = 0.08;
/** How often what was not read is a character more or fewer than was written down (common practice, no source). */
const UNREAD_DIFFERS = 0.3;
const LOG_LINE_READ = Math.log((1 - LINE_LOST) / CHANCE_LINE);
const LOG_LINE_LOST = Math.log(LINE_LOST / (1 - CHANCE_LINE));
const LOG_LINE_BROKEN = Math.log(LINE_BROKEN / CHANCE_LINE);
const LOG_FIELD_DIFFERS = Math.log(FIELD_DIFFERS);
const LOG_UNREAD_DIFFERS = Math.log(UNREAD_DIFFERS);

/** What stands between two lines of a marking. */
const LINE_END: MarkingCharacter = { options: ['\n'] };

/** A read marking made ready for comparing. */
export interface Reading {
  /** Characters read, all lines, with the breaks between them. */
  readonly length: number;
  /** Log-ratio of character j under symbol s, or under the best symbol of kind s, at [j * KINDS + s]. */
  readonly emit: Float64Array;
  /** Log-ratio of character j when it was imagined, or the one before it was written down twice. */
  readonly imagined: Float64Array;
  /** The same after a character of a field. */
  readonly fieldLonger: Float64Array;
  /** Log-ratio of a character that was overlooked before character j. */
  readonly overlooked: Float64Array;
  readonly transposed: number;
}

/** Log-ratio of a symbol that was overlooked before character j. */
export function lost({ overlooked }: Reading, symbol: number, j: number): number {
  if (symbol === BREAK) return LOG_LINE_LOST;
  return symbol === FREE ? Math.max(LOG_FIELD_DIFFERS, overlooked[j]) : overlooked[j];
}

function columnOf(character: MarkingCharacter, confusion: Confusion): Column {
  const { options } = character;
  if (character === LINE_END) return LINE_COLUMN;
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

const LINE_COLUMN: Column = {
  emit: Float64Array.from({ length: KINDS }, (_, kind) => (kindOf[kind] === BREAK ? LOG_LINE_READ : NEVER)),
  imagined: LOG_LINE_BROKEN,
};

function makeColumn(character: MarkingCharacter, confusion: Confusion): Column {
  const size = ALPHABET.length;
  const emit = new Float64Array(KINDS);
  const read = believed(character);
  // An unread character looks the same whatever was there: all its ratios are 1.
  if (!read) {
    emit[BREAK] = NEVER;
    return { emit, imagined: LOG_UNREAD_DIFFERS };
  }
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
  emit.fill(NEVER, SYMBOLS);
  emit[BREAK] = NEVER;
  for (let symbol = 0; symbol < size; symbol++)
    if (emit[symbol] > emit[kindOf[symbol]]) emit[kindOf[symbol]] = emit[symbol];
  // A character that is not there looks like any character.
  return { emit, imagined: Math.log(confusion.slips.imagined / size) - logChance };
}

/**
 * What of a marking is compared: its characters, and what stands between two lines. Blanks and characters that no marking has
 * are passed over.
 */
export function readable(marking: MarkingText): readonly MarkingCharacter[] {
  const lines = marking
    .map((line) =>
      line.filter(({ options }) => options.length === 0 || options.some((one) => placeOf(one) >= 0)),
    )
    .filter((line) => line.length > 0);
  return lines.flatMap((line, at) => (at > 0 ? [LINE_END, ...line] : line)).slice(0, MAX_READ);
}

/** Whether a readable character is what stands between two lines. */
export const isLineEnd = (one: MarkingCharacter | undefined): boolean => one === LINE_END;

/** Memory of the marking prepared last: thousands are compared, one after another. */
const prepared = {
  emit: new Float64Array(KINDS * MAX_READ),
  imagined: new Float64Array(MAX_READ),
  fieldLonger: new Float64Array(MAX_READ),
  overlooked: new Float64Array(MAX_READ + 1),
};

/** Probability that two characters as read are the same. */
function same(one: MarkingCharacter, other: MarkingCharacter): number {
  if (one === LINE_END || other === LINE_END) return 0;
  const [a, b] = [believed(one), believed(other)];
  if (!a || !b) return 0;
  let sum = 0;
  for (const [place, weight] of a) sum += weight * (b.get(place) ?? 0);
  return sum;
}

/**
 * Prepares a marking. Blanks and characters that no marking has are passed over. What it answers holds until the next
 * marking is prepared.
 */
export function prepare(marking: MarkingText, confusion: Confusion): Reading {
  const characters = readable(marking);
  const length = characters.length;
  const { emit, imagined, fieldLonger, overlooked } = prepared;
  const { slips } = confusion;
  const logOverlooked = Math.log(slips.overlooked);
  const isUnread = (j: number) => characters[j]?.options.length === 0;
  characters.forEach((character, j) => {
    const read = columnOf(character, confusion);
    imagined[j] = read.imagined;
    const twice = j > 0 ? same(character, characters[j - 1]) : 0;
    if (twice > 0) {
      const chance = chanceOf(character);
      imagined[j] = Math.log(Math.exp(read.imagined) + (slips.doubled * twice) / chance);
    }
    fieldLonger[j] = character === LINE_END ? imagined[j] : Math.max(imagined[j], LOG_FIELD_DIFFERS);
    overlooked[j] = isUnread(j) || isUnread(j - 1) ? LOG_UNREAD_DIFFERS : logOverlooked;
    emit.set(read.emit, j * KINDS);
  });
  overlooked[length] = isUnread(length - 1) ? LOG_UNREAD_DIFFERS : logOverlooked;
  return { length, emit, imagined, fieldLonger, overlooked, transposed: Math.log(slips.transposed) };
}

function chanceOf(character: MarkingCharacter): number {
  let chance = 0;
  for (const [place, weight] of believed(character) ?? []) chance += weight * CHANCE[place];
  return chance;
}

/** Elements of a row: after each number of characters read, and the same with two of them in the wrong order, the second due. */
export const widthOf = ({ length }: Reading): number => 2 * (length + 1);

/** First row of the alignment: everything read so far was imagined. */
export function firstRow(reading: Reading, row: Float64Array): void {
  const { length, imagined } = reading;
  row[0] = 0;
  for (let j = 0; j < length; j++) row[j + 1] = row[j] + imagined[j];
  row.fill(NEVER, length + 1, widthOf(reading));
}

/** First and last element that the row written last holds; those outside are as good as never reached. */
export const span = new Int32Array(2);

/**
 * One step of the alignment: the row after `symbol`, the `depth`-th of the true text, given the row before it.
 * Element j is the best log-ratio of the first j characters read; element length + 1 + j that of the first j where the last
 * of them is `symbol` and the one before it is the next symbol. Elements that cannot reach the floor any more are
 * left out; {@link span} says which are there.
 * @param rows where both rows lie
 * @param before place of the row before, which holds elements `low` to `high`
 * @param after place of the row to be written
 * @param most at [rest + j], the most that symbols still to come can add to the characters from j on; at
 *   [rest + length + 1 + j] the same after a field; at
 *   [rest + 2 (length + 1) + j] the same where the next symbol is character j - 2
 * @returns an upper bound of what any continuation can reach
 */
export function nextRow(
  reading: Reading,
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
  const { length, emit, transposed } = reading;
  const longer = symbol === FREE ? reading.fieldLonger : reading.imagined;
  const turned = length + 1;
  const ahead = symbol === FREE ? rest + turned : rest;
  const from = Math.max(low, depth - BAND);
  const to = Math.min(length, depth + BAND);
  let previous = from - 1 > low ? rows[before + from - 2] : NEVER;
  let diagonal = from > low ? rows[before + from - 1] : NEVER;
  let left = NEVER;
  let bound = NEVER;
  let first = -1;
  let last = -2;
  for (let j = from; j <= to; j++) {
    const above = j <= high ? rows[before + j] : NEVER;
    let value = above + lost(reading, symbol, j);
    let due = NEVER;
    if (j > 0) {
      const here = emit[(j - 1) * KINDS + symbol];
      const read = diagonal + here;
      if (read > value) value = read;
      const added = left + longer[j - 1];
      if (added > value) value = added;
      if (j > 1) {
        due = previous + transposed + here;
        if (j <= high) {
          const second = rows[before + turned + j] + emit[(j - 2) * KINDS + symbol];
          if (second > value) value = second;
        }
      }
    }
    previous = diagonal;
    diagonal = above;
    const dueReach = due + most[rest + 2 * turned + j];
    if (dueReach < floor) due = NEVER;
    const reach = value + most[ahead + j];
    if (reach < floor) value = NEVER;
    else if (reach > bound) bound = reach;
    if (dueReach > bound) bound = dueReach;
    if (value > NEVER || due > NEVER) {
      if (first < 0) first = j;
      last = j;
    } else if (j > high + 1) break; // Nothing is left that an element farther on could come from.
    left = value;
    rows[after + j] = value;
    rows[after + turned + j] = due;
  }
  span[0] = first;
  span[1] = last;
  return bound;
}

/** Two rows, written in turn, and a bound of nothing. */
const twoRows = new Float64Array(4 * (MAX_READ + 1));
const unbounded = new Float64Array(3 * (MAX_READ + 1));

/** The last row of the alignment with one text alone, symbols as UTF-16 units: element j for j characters read. */
export function alignedRow(reading: Reading, symbols: string): readonly number[] {
  const { length } = reading;
  firstRow(reading, twoRows);
  let [row, other, low, high] = [0, 2 * (MAX_READ + 1), 0, length];
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
