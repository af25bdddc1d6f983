import type { MarkingCharacter, MarkingText } from '../model/marking.ts';
import { ALPHABET, believed, type Confusion } from './confusion.ts';
import { DIGIT, SYMBOLS } from './template.ts';

// A marking as a noisy reading of a true text: each true character is read right, confused or overlooked, and now
// and then one is imagined. Everything is a natural logarithm of a likelihood ratio: this text against "some text
// nobody knows", whose characters are drawn one by one, digits a little more often than letters. The best alignment stands for the sum over
// all (Viterbi), which is the weighted edit distance of Ristad & Yianilos 1998 (IEEE PAMI 20, 522-532), section 2.

const DIGITS = new Set(Array.from({ length: 10 }, (_, digit) => ALPHABET.indexOf(String(digit))));
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
/** How many more characters may be overlooked than imagined up to any place, or the other way round. */
export const BAND = 4;

/** A read marking made ready for comparing. */
export interface Reading {
  /** Characters read, all lines. */
  readonly length: number;
  /** Log-ratio of character j under symbol s, at [s * length + j]. */
  readonly emit: Float64Array;
  /** Log-ratio of character j when it was imagined. */
  readonly imagined: Float64Array;
  readonly overlooked: number;
  /** The most that the characters from j on can still add, length + 1 values. */
  readonly gainFrom: Float64Array;
  /** The most that one character can add, under an exact symbol and under a date field's digit. */
  readonly gain: number;
  readonly digitGain: number;
  /** The least that a character imagined or overlooked costs; not above nought. */
  readonly slip: number;
}

/** One read character held against every symbol. */
interface Column {
  /** Log-ratios by symbol. */
  readonly emit: Float64Array;
  readonly imagined: number;
  readonly gain: number;
}

/** Columns already made: markings are written with few different characters. */
const columns = new WeakMap<Confusion, Map<string, Column>>();

function columnOf(character: MarkingCharacter, confusion: Confusion): Column {
  let made = columns.get(confusion);
  if (!made) {
    made = new Map();
    columns.set(confusion, made);
  }
  const { options } = character;
  // Doubtful characters come in any number of ways and are not kept.
  if (options.length > 1) return makeColumn(character, confusion);
  const key = options[0] ?? '';
  let column = made.get(key);
  if (!column) {
    column = makeColumn(character, confusion);
    made.set(key, column);
  }
  return column;
}

function makeColumn(character: MarkingCharacter, confusion: Confusion): Column {
  const size = ALPHABET.length;
  const emit = new Float64Array(SYMBOLS);
  const read = believed(character);
  // An unread character looks the same whatever was there: all its ratios are 1.
  if (!read) return { emit, imagined: confusion.logImagined + Math.log(size), gain: 0 };
  let chance = 0;
  for (const [place, weight] of read) chance += weight * CHANCE[place];
  const logChance = Math.log(chance);
  let anyDigit = 0;
  for (let truth = 0; truth < size; truth++) {
    let likelihood = 0;
    for (const [place, weight] of read) likelihood += weight * confusion.read[truth * size + place];
    emit[truth] = Math.log(likelihood) - logChance;
    if (DIGITS.has(truth)) anyDigit += likelihood / DIGITS.size;
  }
  emit[DIGIT] = Math.log(anyDigit) - logChance;
  return {
    emit,
    imagined: confusion.logImagined - logChance,
    gain: Math.max(0, ...emit.subarray(0, size)),
  };
}

/** Prepares a marking. Blanks and characters that no marking has are passed over. */
export function prepare(marking: MarkingText, confusion: Confusion): Reading {
  const characters = marking
    .flat()
    .filter((one) => one.options.length === 0 || believed(one) !== undefined)
    .slice(0, MAX_READ);
  const length = characters.length;
  const emit = new Float64Array(SYMBOLS * length);
  const imagined = new Float64Array(length);
  const gains = new Float64Array(length);
  characters.forEach((character, j) => {
    const read = columnOf(character, confusion);
    imagined[j] = read.imagined;
    gains[j] = read.gain;
    for (let symbol = 0; symbol < SYMBOLS; symbol++) emit[symbol * length + j] = read.emit[symbol];
  });
  const gainFrom = new Float64Array(length + 1);
  for (let j = length - 1; j >= 0; j--) gainFrom[j] = gainFrom[j + 1] + gains[j];
  return {
    length,
    emit,
    imagined,
    overlooked: confusion.logOverlooked,
    slip: Math.min(0, Math.max(confusion.logOverlooked, ...imagined)),
    gainFrom,
    gain: Math.max(0, ...gains),
    digitGain: Math.max(0, ...emit.subarray(DIGIT * length, (DIGIT + 1) * length)),
  };
}

/** First row of the alignment: everything read so far was imagined. */
export function firstRow(reading: Reading, row: Float64Array): void {
  row[0] = 0;
  for (let j = 0; j < reading.length; j++) row[j + 1] = row[j] + reading.imagined[j];
}

/**
 * One step of the alignment: the row after `symbol`, the `depth`-th of the true text, given the row before it.
 * Element j is the best log-ratio of the first j characters read.
 * @param most the most that the symbols still to come can add
 * @param near how far on the last exact symbol to come lies, at most
 * @param dated the most that digits of dates still to come can add
 * @returns an upper bound of what any continuation can reach
 */
export function nextRow(
  reading: Reading,
  symbol: number,
  depth: number,
  most: number,
  before: Float64Array,
  beforeAt: number,
  after: Float64Array,
  afterAt: number,
  near = MAX_READ,
  dated = 0,
): number {
  const { length, emit, overlooked, imagined, gainFrom, slip } = reading;
  const from = Math.max(0, depth - BAND - 1);
  if (from > length) return Number.NEGATIVE_INFINITY;
  const to = Math.min(length, depth + BAND);
  const emitAt = symbol * length;
  let left = from === 0 ? before[beforeAt] + overlooked : Number.NEGATIVE_INFINITY;
  after[afterAt + from] = left;
  let bound = left + Math.min(most, gainFrom[from]);
  for (let j = from; j < to; j++) {
    let value = before[beforeAt + j] + emit[emitAt + j];
    const skipped = before[beforeAt + j + 1] + overlooked;
    if (skipped > value) value = skipped;
    const added = left + imagined[j];
    if (added > value) value = added;
    after[afterAt + j + 1] = value;
    left = value;
    // Without a slip, all exact symbols to come fall on the next characters; any other way costs a slip.
    const rest = gainFrom[j + 1];
    const straight = rest - gainFrom[Math.min(length, j + 1 + near)] + dated;
    const reach = value + Math.min(most, rest, Math.max(straight, rest + slip));
    if (reach > bound) bound = reach;
  }
  // Cells beyond the band are read by the next row.
  if (to < length) after[afterAt + to + 1] = Number.NEGATIVE_INFINITY;
  return bound;
}
