import type { MarkingText } from '../model/marking.ts';
import { ALPHABET, type Confusion, placeOf, type Slips } from './confusion.ts';
import { isLineEnd, lost, prepare, readable } from './marking-model.ts';
import { FREE, KINDS } from './template.ts';

// How a reading came about from one text: the likeliest alignment, step by step. The model is that of marking-model.ts; here the
// whole table is kept, so that the steps can be followed back.

/** What is counted: characters that were compared, and slips. */
export type SlipCounted = keyof Slips | 'compared';

export interface Alignment {
  /** Log-ratio of the reading against chance. */
  readonly logRatio: number;
  /** Characters of the text, each followed by what it was read as. */
  readonly pairs: readonly string[];
  readonly slips: ReadonlyMap<SlipCounted, number>;
}

type Step = 'read' | 'overlooked' | 'added' | 'transposed' | undefined;

/** The likeliest way from a text, symbols as UTF-16 units, to a reading of it. */
export function alignmentOf(
  marking: MarkingText,
  symbols: string,
  open: boolean,
  confusion: Confusion,
): Alignment {
  const reading = prepare(marking, confusion);
  const { length, emit, imagined, fieldLonger, transposed } = reading;
  const width = length + 1;
  const best = new Float64Array((symbols.length + 1) * width).fill(Number.NEGATIVE_INFINITY);
  const steps: Step[] = [];
  best[0] = 0;
  const symbolAt = (i: number) => symbols.charCodeAt(i - 1);
  for (let i = 0; i <= symbols.length; i++) {
    const longer = i > 0 && symbolAt(i) === FREE ? fieldLonger : imagined;
    for (let j = 0; j <= length; j++) {
      const at = i * width + j;
      const take = (value: number, step: Step) => {
        if (value <= best[at]) return;
        best[at] = value;
        steps[at] = step;
      };
      const as = (symbol: number, character: number) => emit[(character - 1) * KINDS + symbol];
      if (i > 0 && j > 0) take(best[at - width - 1] + as(symbolAt(i), j), 'read');
      if (i > 1 && j > 1)
        take(
          best[at - 2 * width - 2] + transposed + as(symbolAt(i - 1), j) + as(symbolAt(i), j - 1),
          'transposed',
        );
      if (i > 0) take(best[at - width] + lost(reading, symbolAt(i), j), 'overlooked');
      if (j > 0) take(best[at - 1] + longer[j - 1], 'added');
    }
  }
  let end = length;
  if (open)
    for (let j = 0; j < length; j++)
      if (best[symbols.length * width + j] > best[symbols.length * width + end]) end = j;
  return {
    logRatio: best[symbols.length * width + end],
    ...followed(marking, symbols, end, steps, confusion),
  };
}

/** Likelier by this much than as a quite different character, a reading is one of characters that are alike. */
const ALIKE = 1.5;

/** Characters in doubt, unread ones and what stands beside them teach nothing, nor do fields and ends of lines. */
function followed(
  marking: MarkingText,
  symbols: string,
  end: number,
  steps: readonly Step[],
  { read, slips: rates }: Confusion,
): Omit<Alignment, 'logRatio'> {
  const characters = readable(marking);
  const size = ALPHABET.length;
  const pairs: string[] = [];
  const slips = new Map<SlipCounted, number>();
  const count = (what: SlipCounted) => slips.set(what, (slips.get(what) ?? 0) + 1);
  const seenAt = (j: number) => {
    const { options } = characters[j - 1];
    return options.length === 1 && !isLineEnd(characters[j - 1]) ? placeOf(options[0]) : undefined;
  };
  const isUnread = (j: number) => characters[j - 1]?.options.length === 0;
  const pair = (truth: number, j: number) => {
    const seen = seenAt(j);
    if (truth >= size || seen === undefined) return;
    pairs.push(`${ALPHABET[truth]}${ALPHABET[seen]}`);
    count('compared');
    if (truth !== seen && read[truth * size + seen] < (ALIKE * rates.otherwise) / (size - 1))
      count('otherwise');
  };
  for (let i = symbols.length, j = end; i > 0 || j > 0; ) {
    const truth = symbols.charCodeAt(i - 1);
    switch (steps[i * (characters.length + 1) + j]) {
      case 'read':
        pair(truth, j);
        i--;
        j--;
        break;
      case 'transposed':
        pair(symbols.charCodeAt(i - 2), j);
        pair(truth, j - 1);
        count('transposed');
        i -= 2;
        j -= 2;
        break;
      case 'overlooked':
        if (truth < size && !isUnread(j) && !isUnread(j + 1)) {
          count('compared');
          count('overlooked');
        }
        i--;
        break;
      default: {
        const seen = seenAt(j);
        if (seen !== undefined && truth < size)
          count(j > 1 && seenAt(j - 1) === seen ? 'doubled' : 'imagined');
        j--;
      }
    }
  }
  return { pairs, slips };
}
