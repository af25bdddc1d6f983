import { z } from 'zod';
import { readYamlFile } from '../text/yaml-file.ts';
import { ALPHABET, placeOf } from './confusion.ts';

// How the program that reads photos (photo-reading/) confuses characters: counted on rendered codes by
// tests/bench/photo-markings.ts, and never guessed.

/** Characters that the program reads: those of markings without the small l. */
export const READ_CHARACTERS = [...ALPHABET].filter((one) => one !== 'l').join('');

const count = z.number().int().nonnegative();
/** Counts by band of confidence. */
const byBand = z.array(count);

export const photoConfusionSchema = z.strictObject({
  /** Lower ends of the bands of confidence, 0 to 100. */
  bands: z.array(z.number().min(0).max(100)).min(1),
  conditions: z.record(
    z.string(),
    z.strictObject({
      markings: count,
      /** By true character and character read, as which it was read how often. */
      read: z.record(z.string(), z.record(z.string(), byBand)),
      /** By true character, how often it was not read at all. */
      dropped: z.record(z.string(), count),
      /** By character read, how often none stood there. */
      inserted: z.record(z.string(), byBand),
      /** Ends of lines that another line follows: all of them, those that were lost, and those where none is. */
      lineEnds: z.strictObject({ all: count, lost: count, inserted: count }),
    }),
  ),
});
export type PhotoConfusionCounts = z.infer<typeof photoConfusionSchema>;

/** Weight of what is read at large against the counts of one true character: so many characters. */
const AT_LARGE = 2;
/** Weight of no knowledge at all in what is read at large: so many characters, even over all of them and all bands. */
const EVEN = 20;
/** Weight of the rate at large against the drops of one character. */
const DROPS = 50;

/** The program as a noisy channel. */
export interface PhotoConfusion {
  /** Band of a confidence. */
  bandOf(confidence: number): number;
  /** Natural logarithm of P(read as so, in that band | a character that is read at all), by its place in ALPHABET. */
  logRead(truth: number, read: string, band: number): number;
  /** P(not read at all), by place in ALPHABET. */
  readonly dropped: Float64Array;
  /** P(one more character that is not there before the next, or at the end). */
  readonly inserted: number;
  /** Natural logarithm of P(it is this, in that band | one that is not there). */
  logInserted(read: string, band: number): number;
  /** P(the end of a line is not seen), and P(what is inserted is the end of a line). */
  readonly lineLost: number;
  readonly lineInserted: number;
}

/**
 * The channel that counts show, with additive smoothing: each true character is drawn towards how characters are misread at large, and
 * that towards all being equally likely.
 */
export function photoConfusionOf({ bands, conditions }: PhotoConfusionCounts): PhotoConfusion {
  const [size, kinds] = [ALPHABET.length, bands.length];
  const cell = (read: string, band: number) => placeOf(read) * kinds + band;
  const cells = size * kinds;
  const rows = Array.from({ length: size }, () => new Float64Array(cells));
  const drops = new Float64Array(size);
  const more = new Float64Array(cells);
  const ends = { all: 0, lost: 0, inserted: 0 };
  for (const one of Object.values(conditions)) {
    for (const [truth, readings] of Object.entries(one.read))
      for (const [read, counts] of Object.entries(readings))
        counts.forEach((times, band) => {
          rows[placeOf(truth)][cell(read, band)] += times;
        });
    for (const [truth, times] of Object.entries(one.dropped)) drops[placeOf(truth)] += times;
    for (const [read, counts] of Object.entries(one.inserted))
      counts.forEach((times, band) => {
        more[cell(read, band)] += times;
      });
    for (const key of ['all', 'lost', 'inserted'] as const) ends[key] += one.lineEnds[key];
  }
  const possible = [...READ_CHARACTERS].flatMap((read) => bands.map((_, band) => cell(read, band)));
  /** Right and wrong readings at large, by band. */
  const right = new Float64Array(kinds).fill(EVEN / 2 / kinds);
  const wrong = new Float64Array(kinds).fill(EVEN / 2 / kinds);
  rows.forEach((row, truth) => {
    for (const at of possible) (Math.floor(at / kinds) === truth ? right : wrong)[at % kinds] += row[at];
  });
  const sum = (of: Float64Array) => of.reduce((total, one) => total + one, 0);
  const all = sum(right) + sum(wrong);
  const others = READ_CHARACTERS.length - 1;
  const logs = rows.map((row, truth) => {
    // A small l is never read as one.
    const rightAs = ALPHABET[truth] === 'l' ? placeOf('1') : truth;
    const total = sum(row) + AT_LARGE;
    return Float64Array.from({ length: cells }, (_, at) => {
      const [read, band] = [Math.floor(at / kinds), at % kinds];
      if (ALPHABET[read] === 'l') return Number.NEGATIVE_INFINITY;
      const atLarge = read === rightAs ? right[band] / all : wrong[band] / all / others;
      return Math.log((row[at] + AT_LARGE * atLarge) / total);
    });
  });
  const seen = sum(Float64Array.from(rows, sum));
  const dropRate = (sum(drops) + 1) / (seen + sum(drops) + 2);
  const insertions = sum(more) + ends.inserted;
  const inserted = (insertions + 1) / (seen + sum(drops) + insertions + 2);
  const evenly = EVEN / possible.length;
  const logMore = more.map((times) => Math.log((times + evenly) / (sum(more) + EVEN)));
  return {
    bandOf: (confidence) =>
      Math.max(
        0,
        bands.findLastIndex((from) => confidence >= from),
      ),
    logRead: (truth, read, band) => logs[truth][cell(read, band)],
    dropped: drops.map((times, truth) => (times + DROPS * dropRate) / (sum(rows[truth]) + times + DROPS)),
    inserted,
    logInserted: (read, band) => logMore[cell(read, band)],
    lineLost: (ends.lost + 1) / (ends.all + 2),
    lineInserted: (ends.inserted + 1) / (insertions + 2),
  };
}

/** The counts that ship with the project. */
export const readPhotoConfusionCounts = (): PhotoConfusionCounts =>
  photoConfusionSchema.parse(readYamlFile(new URL('../../schema/photo-confusions.yaml', import.meta.url)));
