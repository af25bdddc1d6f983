import { z } from 'zod';
import type { MarkingCharacter } from '../model/marking.ts';
import { parseYaml, readYamlFile } from '../text/yaml-file.ts';

/** Letters and digits that markings are made of; case counts only for `l`. */
export const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789l.-+/';

/** Place of a character in ALPHABET, letters other than `l` in either case; -1 for a character markings lack. */
export function placeOf(character: string): number {
  return ALPHABET.indexOf(character === 'l' ? 'l' : character.toUpperCase());
}

/** How often characters are doubled and transposed where a table does not say (common practice, no source). */
const DOUBLED = 0.005;
const TRANSPOSED = 0.005;

const rate = z.number().gt(0).lt(0.5);
const character = z
  .string()
  .refine(
    (one) => one.length === 1 && placeOf(one) >= 0,
    `is not a valid marking character; write one of ${ALPHABET}, in quotation marks`,
  );

/** A confusion table as it is written: schema/confusions.yaml, or an archive's own. */
export const confusionSchema = z
  .strictObject({
    confusions: z
      .array(
        z.strictObject({
          a: character.describe('A character.'),
          b: character.describe('The character it is confused with, in both directions.'),
          probability: rate.describe('How often, above 0 and below 0.5.'),
        }),
      )
      .describe('Pairs of characters that eyes confuse.'),
    otherwise: rate.describe('How often a character is read as any other one, all together.'),
    overlooked: rate.describe('How often a character is overlooked.'),
    imagined: rate.describe('How often a character is seen that is not there.'),
    doubled: rate
      .default(DOUBLED)
      .describe('How often a character is written down twice. As in schema/confusions.yaml where left out.'),
    transposed: rate
      .default(TRANSPOSED)
      .describe(
        'How often a character changes places with the next one. As in schema/confusions.yaml where left out.',
      ),
  })
  .superRefine(({ confusions, otherwise }, context) => {
    const wrong = new Float64Array(ALPHABET.length).fill(otherwise);
    confusions.forEach(({ a, b, probability }, i) => {
      const issue = (field: string, message: string) =>
        context.addIssue({ code: 'custom', path: ['confusions', i, field], message });
      if (placeOf(a) === placeOf(b))
        issue('b', 'is the same character as a; write the one it is confused with');
      for (const one of [a, b]) {
        wrong[placeOf(one)] += probability;
        if (wrong[placeOf(one)] >= 1)
          issue('probability', `is too much: the confusions of ${one} sum to 1 or more; lower some of them`);
      }
    });
  });
export type ConfusionTable = z.infer<typeof confusionSchema>;

/** Slips of eye and hand that have nothing to do with the likeness of characters: how often each befalls a character. */
export interface Slips {
  /** Read as a quite different one. */
  readonly otherwise: number;
  readonly overlooked: number;
  readonly imagined: number;
  readonly doubled: number;
  readonly transposed: number;
}
export const SLIPS = ['otherwise', 'overlooked', 'imagined', 'doubled', 'transposed'] as const;

/** One read character compared with every symbol. */
export interface Column {
  /** Log-ratios by symbol and kind. */
  readonly emit: Float64Array;
  readonly imagined: number;
}

/**
 * How likely a true character is read as another. Probabilities of one true character over all readings sum to 1:
 * named confusions as in the table, `otherwise` spread evenly, the rest on the right reading.
 */
export interface Confusion {
  /** P(read | true), a row for each true character, by place in ALPHABET. */
  readonly read: Float64Array;
  /** Read characters already compared with every symbol, by what was read: markings have few different ones. */
  readonly columns: Map<string, Column>;
  readonly slips: Slips;
}

/** Makes a written table ready. */
export function confusionOf({ confusions, ...slips }: ConfusionTable): Confusion {
  const size = ALPHABET.length;
  const read = new Float64Array(size * size).fill(slips.otherwise / (size - 1));
  for (const { a, b, probability } of confusions) {
    const [i, j] = [placeOf(a), placeOf(b)];
    read[i * size + j] += probability;
    read[j * size + i] += probability;
  }
  for (let truth = 0; truth < size; truth++) {
    let wrong = 0;
    for (let place = 0; place < size; place++) if (place !== truth) wrong += read[truth * size + place];
    read[truth * size + truth] = 1 - wrong;
  }
  return { read, columns: new Map(), slips };
}

/** The same table with other rates of slips. */
export function withSlips(table: Confusion, slips: Slips): Confusion {
  const size = ALPHABET.length;
  const more = (slips.otherwise - table.slips.otherwise) / (size - 1);
  const read = table.read.slice();
  for (let truth = 0; truth < size; truth++) {
    let wrong = 0;
    for (let place = 0; place < size; place++) {
      if (place === truth) continue;
      // Readings of settled parts may have shown that this one is rarer than the rest.
      read[truth * size + place] = Math.max(
        table.read[truth * size + place] / 2,
        table.read[truth * size + place] + more,
      );
      wrong += read[truth * size + place];
    }
    read[truth * size + truth] = Math.max(0.02, 1 - wrong);
  }
  return { read, columns: new Map(), slips };
}

/**
 * Reads a table in the form of schema/confusions.yaml.
 * @throws ZodError for one that does not fit
 */
export function parseConfusion(yaml: string): Confusion {
  return confusionOf(confusionSchema.parse(parseYaml(yaml)));
}

/** What a table counts for against readings of settled parts: so many readings of each character. */
const TABLE_COUNTS = 100;
/** What everybody's readings count for against those of one reader: eyes, microscopes and handwriting differ. */
const EVERYBODY_COUNTS = 20;

/** What the rates of slips count for against readings of settled parts: so many characters. */
const SLIPS_COUNT = 300;

/**
 * Rates of slips drawn towards what readings of settled parts show.
 * @param times how often each befell one of so many characters that were compared
 */
export function learntSlips(
  slips: Slips,
  compared: number,
  times: (slip: (typeof SLIPS)[number]) => number,
  counts = SLIPS_COUNT,
): Slips {
  const rateOf = (slip: (typeof SLIPS)[number]) =>
    Math.min(MOST_SLIPS, (counts * slips[slip] + times(slip)) / (counts + compared));
  return {
    otherwise: rateOf('otherwise'),
    overlooked: rateOf('overlooked'),
    imagined: rateOf('imagined'),
    doubled: rateOf('doubled'),
    transposed: rateOf('transposed'),
  };
}

/** Whoever slips more often has not read at all. */
const MOST_SLIPS = 0.2;

/** How often a true character was read as which. */
export type ReadingCounts = (truth: string) => ReadonlyMap<string, number>;

/**
 * The table drawn towards what readings of settled parts show: a row's probabilities are those of the table, counted
 * as a hundred readings, and the readings themselves (Dirichlet smoothing).
 * @param truths characters whose rows change; the others stay as they are in `table`
 * @param base the table as given, `table` itself where nothing was learnt yet
 * @param tableCounts how many readings of each character `base` counts as
 */
export function learntConfusion(
  table: Confusion,
  base: Confusion,
  truths: Iterable<string>,
  readings: ReadingCounts,
  tableCounts = TABLE_COUNTS,
): Confusion {
  const size = ALPHABET.length;
  const read = table.read.slice();
  for (const truth of truths) {
    const row = placeOf(truth) * size;
    const counts = readings(truth);
    let total = tableCounts;
    for (const count of counts.values()) total += count;
    for (let place = 0; place < size; place++)
      read[row + place] = (tableCounts * base.read[row + place] + (counts.get(ALPHABET[place]) ?? 0)) / total;
  }
  return { ...table, read, columns: new Map() };
}

/** The table of one reader: that of everybody drawn towards what this one took characters of settled parts for. */
export function confusionOfReader(
  everybody: Confusion,
  readings: ReadingCounts,
  slips: ReadonlyMap<string, number> = new Map(),
): Confusion {
  const truths = [...ALPHABET].filter((truth) => readings(truth).size > 0);
  if (truths.length === 0 && slips.size === 0) return everybody;
  const own = withSlips(
    everybody,
    learntSlips(everybody.slips, slips.get('compared') ?? 0, (slip) => slips.get(slip) ?? 0),
  );
  return learntConfusion(own, own, truths, readings, EVERYBODY_COUNTS);
}

/** The table that ships with the project. */
export const STANDARD_CONFUSION: Confusion = confusionOf(
  confusionSchema.parse(readYamlFile(new URL('../../schema/confusions.yaml', import.meta.url))),
);

/** Share of the first of several doubtful readings; the others share the rest. */
const FIRST_OPTION = 2 / 3;

/**
 * A read character as weights over ALPHABET: how much each reading is believed to be what was seen. An unread
 * character says nothing and gives undefined.
 */
export function believed(character: MarkingCharacter): ReadonlyMap<number, number> | undefined {
  const places = character.options.map(placeOf).filter((place) => place >= 0);
  if (places.length === 0) return undefined;
  if (places.length === 1) return new Map([[places[0], 1]]);
  const rest = (1 - FIRST_OPTION) / (places.length - 1);
  return new Map(places.map((place, index) => [place, index === 0 ? FIRST_OPTION : rest]));
}
