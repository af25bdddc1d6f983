import { formatMarking, isCertain, type MarkingCharacter, type MarkingText } from '../model/marking.ts';
import { type Random, seededRandom } from '../statistics/random.ts';
import type { MarkingRatios } from './catalogue-index.ts';
import { ALPHABET, type Confusion, placeOf } from './confusion.ts';
import type { Foresight, Outcome } from './foresight.ts';
import { parseTemplate } from './template.ts';
import { exampleOf } from './uncatalogued-markings.ts';

// What reading a marking in full may show. Texts are too many to go through, so some are drawn, evenly over what the component
// may be: the text of a part as the catalogue lists it, that of a sibling of one, or one that nobody knows; read by the same
// confusions by which readings are weighed. The draw is the same every time.

/** Readings that are worked out: each is held against the whole catalogue. */
const DRAWN = 16;

/** How markings are weighed and read. */
export interface MarkingReader {
  readonly weigh: (marking: MarkingText) => MarkingRatios | undefined;
  readonly confusion: Confusion;
  /** How often a part that nobody knows is marked like a sibling of a known one. */
  readonly siblings: number;
}

/** Readings of the marking, all equally likely. */
export function readings(foresight: Foresight, reader: MarkingReader): readonly Outcome[] {
  const { input, parts, alike, strangers, none } = foresight;
  const { marking } = input.sighting;
  const listed = input.habits.agreement('marking');
  const random = seededRandom(1);
  // Parts as listed; then what is in no catalogue or not marked as listed.
  const ofParts = listed * (1 - none);
  const likest = inOrder(parts);
  const siblingsOf = inOrder(alike);
  const drawn = new Map<string, { text: MarkingText; times: number }>();
  for (let at = 0; at < DRAWN; at++) {
    const place = (at + 0.5) / DRAWN;
    const text =
      place < ofParts
        ? read(textOf(foresight, along(likest, parts, (place / ofParts) * (1 - none))), reader, random)
        : marking
          ? filled(marking, random)
          : unknownText(foresight, siblingsOf, place < 1 - strangers, reader, random);
    const key = formatMarking(text);
    const known = drawn.get(key);
    if (known) known.times++;
    else drawn.set(key, { text, times: 1 });
  }
  return [...drawn.values()].flatMap(({ text, times }) => {
    const weighed = reader.weigh(text);
    return weighed ? [{ share: times / DRAWN, changes: { marking: text }, marking: weighed }] : [];
  });
}

/** Numbers by their masses, the greatest first. */
function inOrder(masses: Float64Array): readonly number[] {
  return [...masses.keys()].filter((one) => masses[one] > 0).sort((a, b) => masses[b] - masses[a] || a - b);
}

/** The number under so much of the masses, laid end to end. */
function along(order: readonly number[], masses: Float64Array, mass: number): number {
  let left = mass;
  for (const one of order) {
    left -= masses[one];
    if (left < 0) return one;
  }
  return order[order.length - 1];
}

/** What a part carries, with examples of lots and dates. */
function textOf({ input: { table } }: Foresight, part: number): MarkingText {
  const { number, markings } = table.parts[part];
  const { symbols } = parseTemplate(markings[0] ?? number);
  return exampleOf({ symbols: String.fromCharCode(...symbols) });
}

function read(text: MarkingText, { confusion }: MarkingReader, random: Random): MarkingText {
  const size = ALPHABET.length;
  return text.map((line) =>
    line.map(({ options: [one] }): MarkingCharacter => {
      const row = placeOf(one) * size;
      return { options: [ALPHABET[random.weighted([...confusion.read.subarray(row, row + size)])]] };
    }),
  );
}

/** Some other character of the same sort. */
function another(one: string, random: Random): string {
  return /\d/u.test(one)
    ? String(random.integer(0, 9))
    : /[A-Z]/iu.test(one)
      ? ALPHABET[random.integer(0, 25)]
      : one;
}

/** What was read with its gaps filled by chance: a text that nobody knows. */
function filled(marking: MarkingText, random: Random): MarkingText {
  if (isCertain(marking)) return marking;
  return marking.map((line) =>
    line.map(({ options }) =>
      options.length === 1
        ? { options }
        : { options: [options.length > 1 ? random.pick(options) : another(random.pick(['4', 'K']), random)] },
    ),
  );
}

/** The text of a sibling of some part, one character another, or a text that has no more than its format in common with one. */
function unknownText(
  foresight: Foresight,
  siblingsOf: readonly number[],
  isAlike: boolean,
  reader: MarkingReader,
  random: Random,
): MarkingText {
  const { alike } = foresight;
  const whole = siblingsOf.reduce((sum, one) => sum + alike[one], 0);
  const like = siblingsOf.length > 0 ? along(siblingsOf, alike, random.uniform() * whole) : 0;
  const text = textOf(foresight, like);
  const count = text.reduce((sum, line) => sum + line.length, 0);
  const changed =
    isAlike && random.chance(reader.siblings) ? random.integer(0, Math.max(0, count - 1)) : undefined;
  let at = 0;
  return text.map((line) =>
    line.map(({ options: [one] }) => ({
      options: [changed === undefined || at++ === changed ? another(one, random) : one],
    })),
  );
}
