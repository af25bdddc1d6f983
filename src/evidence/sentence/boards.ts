import { NUMBER_WORDS } from '../../model/number-words.ts';
import type { Beneath } from './beneath.ts';
import type { Span } from './kinds.ts';

/** A number of boards that a sentence gives. */
export interface StatedBoards extends Span {
  readonly text: string;
  readonly low: number;
  readonly high: number;
  /** Whether it says how many there are, and not only of how many it speaks. */
  readonly isTotal: boolean;
}

const NUMBERS = [...NUMBER_WORDS.keys()].slice(1, 21).join('|');
const COUNTED = new RegExp(
  String.raw`\b(?<bound>at least |more than |at most |up to |fewer than )?(?<total>all |only |exactly |just |both |a total of )?(?:of |the |its )*(?<count>${NUMBERS}|\d{1,2})?(?:[\s-]+(?:printed |circuit |small |separate |stacked |rigid |flexible |flex |rigid-flex |tiny |different |single )*)?(?:circuit boards?|boards?|PCBs?|PCBAs?)(?![\p{L}-])`,
  'giu',
);
/** Verbs that give the number of all: "has three boards", "is made of two boards". */
const HAS =
  /\b(?:has|have|holds?|contains?|consists? of|comprises?|houses?|made (?:up )?of|built (?:up )?(?:of|from)|there are|there is)\s+$/iu;

/** Numbers of boards in a sentence. */
export function boardsIn(sentence: string): readonly StatedBoards[] {
  return [...sentence.matchAll(COUNTED)].flatMap((match): StatedBoards[] => {
    const { bound = '', total = '', count } = match.groups as Record<string, string | undefined>;
    const isBoth = total.trim().toLowerCase() === 'both';
    if (count === undefined && !isBoth) return [];
    const number = count === undefined ? 2 : (NUMBER_WORDS.get(count.toLowerCase()) ?? Number(count));
    const [low, high] = rangeOf(number, bound.trim().toLowerCase());
    const start = match.index;
    const isTotal = (total !== '' || HAS.test(sentence.slice(0, start))) && low === high;
    return [{ text: match[0].trim(), start, end: start + match[0].length, low, high, isTotal }];
  });
}

function rangeOf(number: number, bound: string): readonly [low: number, high: number] {
  switch (bound) {
    case 'at least':
      return [number, Infinity];
    case 'more than':
      return [number + 1, Infinity];
    case 'at most':
    case 'up to':
      return [0, number];
    case 'fewer than':
      return [0, number - 1];
    default:
      return [number, number];
  }
}

/** Compares a number of boards with those recorded of each unit under the sentence. */
export function compareBoards(
  { low, high, isTotal }: StatedBoards,
  { specimens }: Beneath,
): { readonly result: 'carried' | 'contradicted' | 'unsupported'; readonly message: string } {
  const held = [...specimens.values()].flatMap(({ id, boards }) =>
    boards.size === 0 ? [] : [{ id, count: boards.size }],
  );
  const text = held.map(({ id, count }) => `${id} has ${count}`).join('; ');
  if (held.length === 0)
    return { result: 'unsupported', message: 'no unit with boards on record is under it: name one' };
  const fits = held.some(({ count }) => count >= low && (count <= high || (low === high && !isTotal)));
  if (fits) return { result: 'carried', message: text };
  return { result: 'contradicted', message: `${text}: correct the number, or record the boards` };
}
