import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { z } from 'zod';
import type { MarkingCharacter } from '../model/marking.ts';

const rate = z.number().gt(0).lt(0.5);
const confusionSchema = z.strictObject({
  confusions: z.array(
    z.strictObject({ a: z.string().length(1), b: z.string().length(1), probability: rate }),
  ),
  otherwise: rate,
  overlooked: rate,
  imagined: rate,
});

/** Letters and digits that markings are made of; case counts only for `l`. */
export const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789l.-+/';

/**
 * How likely a true character is read as another. Probabilities of one true character over all readings sum to 1:
 * named confusions as in the table, `otherwise` spread evenly, the rest on the right reading.
 */
export interface Confusion {
  /** P(read | true), a row for each true character, by place in ALPHABET. */
  readonly read: Float64Array;
  readonly logOverlooked: number;
  readonly logImagined: number;
}

/** Reads a confusion table in the form of schema/confusions.yaml. */
export function parseConfusion(yaml: string): Confusion {
  const { confusions, otherwise, overlooked, imagined } = confusionSchema.parse(parse(yaml));
  const size = ALPHABET.length;
  const table = new Float64Array(size * size).fill(otherwise / (size - 1));
  for (const { a, b, probability } of confusions) {
    const [i, j] = [placeOf(a), placeOf(b)];
    if (i < 0 || j < 0) throw new Error(`confusion table: "${a}" or "${b}" is no character of markings`);
    table[i * size + j] += probability;
    table[j * size + i] += probability;
  }
  for (let truth = 0; truth < size; truth++) {
    let wrong = 0;
    for (let read = 0; read < size; read++) if (read !== truth) wrong += table[truth * size + read];
    if (wrong >= 1)
      throw new Error(`confusion table: the confusions of "${ALPHABET[truth]}" sum to 1 or more`);
    table[truth * size + truth] = 1 - wrong;
  }
  return {
    read: table,
    logOverlooked: Math.log(overlooked),
    // A character that is not there looks like any character.
    logImagined: Math.log(imagined / size),
  };
}

/** What a table counts for against readings of settled parts: so many readings of each character. */
const TABLE_COUNTS = 100;

/** How often a true character was read as which. */
export type ReadingCounts = (truth: string) => ReadonlyMap<string, number>;

/**
 * The table drawn towards what readings of settled parts show: a row's probabilities are those of the table, counted
 * as a hundred readings, and the readings themselves (Dirichlet smoothing).
 * @param truths characters whose rows change; the others stay as they are in `table`
 * @param base the table as given, `table` itself where nothing was learnt yet
 */
export function learntConfusion(
  table: Confusion,
  base: Confusion,
  truths: Iterable<string>,
  readings: ReadingCounts,
): Confusion {
  const size = ALPHABET.length;
  const read = table.read.slice();
  for (const truth of truths) {
    const row = placeOf(truth) * size;
    const counts = readings(truth);
    let total = TABLE_COUNTS;
    for (const count of counts.values()) total += count;
    for (let place = 0; place < size; place++)
      read[row + place] =
        (TABLE_COUNTS * base.read[row + place] + (counts.get(ALPHABET[place]) ?? 0)) / total;
  }
  return { ...table, read };
}

/** The table that ships with the project. */
export const STANDARD_CONFUSION: Confusion = parseConfusion(
  readFileSync(new URL('../../schema/confusions.yaml', import.meta.url), 'utf8'),
);

/** Place of a character in ALPHABET, letters other than `l` in either case; -1 for a character markings lack. */
export function placeOf(character: string): number {
  return ALPHABET.indexOf(character === 'l' ? 'l' : character.toUpperCase());
}

/** Share of the first of several doubtful readings; the others share the rest. */
const FIRST_OPTION = 2 / 3;

/**
 * A read character as weights over ALPHABET: how much each reading is believed to be what was seen. An unread
 * character tells nothing and answers undefined.
 */
export function believed(character: MarkingCharacter): ReadonlyMap<number, number> | undefined {
  const places = character.options.map(placeOf).filter((place) => place >= 0);
  if (places.length === 0) return undefined;
  if (places.length === 1) return new Map([[places[0], 1]]);
  const rest = (1 - FIRST_OPTION) / (places.length - 1);
  return new Map(places.map((place, index) => [place, index === 0 ? FIRST_OPTION : rest]));
}
