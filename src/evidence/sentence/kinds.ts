import { NUMBER_WORDS } from '../../model/number-words.ts';
import { namesOf, TERMS, termCalled } from '../../model/taxonomy.ts';

/** A stretch of a sentence: offset of its first character, and of the first behind it. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A kind of component that a sentence names. */
export interface StatedKind {
  readonly term: string;
  /** As the sentence writes it. */
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** Whether the sentence says that there is none: "no microphone", "without a gyroscope". */
  readonly isDenied: boolean;
  /** How many of them it speaks of, both ends included; null where it gives no number. */
  readonly count: { readonly text: string; readonly low: number; readonly high: number } | null;
  /** Whether it says that there are no more: "all three", "only two", "both". */
  readonly isTotal: boolean;
}

/** Words that mean so much else that finding none under a sentence is no fault of it. */
const EVERYDAY = new Set([
  'window',
  'filter',
  'shield',
  'key',
  'cell',
  'motor',
  'plug',
  'logic',
  'module',
  'coil',
  'screen',
  'flash',
]);
/** Kinds too broad to be looked for. */
const BROAD = new Set(['Component', 'BoardFeature', 'Module', 'IntegratedCircuit', 'Passive']);

/** Name and its plurals as a pattern; words may be joined by spaces or hyphens. */
function spelling(name: string): string {
  const words = name.replaceAll(/[.*+?^${}()|[\]\\]/gu, '\\$&').replaceAll(/[\s-]+/gu, '[\\s-]+');
  const plural = /y$/u.test(name) ? `${words.slice(0, -1)}(?:y|ies)` : `${words}(?:e?s)?`;
  return plural.replace(/analogue/giu, 'analog(?:ue)?').replace(/colour/giu, 'colou?r');
}

const NAMES = TERMS.filter((term) => !BROAD.has(term))
  .flatMap((term) => namesOf(term))
  .sort((a, b) => b.length - a.length);
const KINDS = new RegExp(`(?<![\\p{L}\\d-])(?:${NAMES.map(spelling).join('|')})(?![\\p{L}\\d])`, 'giu');

/** Denials of being there, up to a few words ahead of what is denied. "No more than" and "not only" deny nothing. */
const DENIED =
  /\b(?:no(?! (?:more|fewer|less|doubt)\b)|without|lacks?|lacking|neither|nor|omits?|leaves? out|free of|absence of|instead of|rather than|(?<!\bas )not (?:a|an|any|one)|n[o']t (?:have|use|hold|contain|carry|need) (?:a|an|any)|n't (?:a|an|any))(?:\s+(?:a|an|any|the|of|its|own))*(?:,?\s+(?!(?:a|an|the|but|only|yet|with)\b)[\p{L}-]+){0,3},?\s*$/iu;
const COUNT = new RegExp(
  `\\b(?:(?<bound>(?:no )?(?:more|fewer|less) than|at least|at most|up to|over) )?(?:(?<total>all|only|exactly|just|a total of) )?(?:of )?(?:the |its )?(?<count>both|a pair of|${[...NUMBER_WORDS.keys()].slice(1, 21).join('|')}|\\d{1,3})(?:[\\s-]+(?!and\\b|or\\b|of\\b|from\\b|to\\b)[\\p{L}-]+){0,2}\\s+$`,
  'iu',
);

/**
 * Kinds of components that a sentence names, by their names in the taxonomy, longest first where several fit.
 * @param taken spans with another meaning, such as names of devices, in which nothing is read
 */
export function kindsIn(sentence: string, taken: readonly Span[] = []): readonly StatedKind[] {
  const read = taken.reduce(
    (text, { start, end }) => text.slice(0, start) + '_'.repeat(end - start) + text.slice(end),
    sentence,
  );
  return [...read.matchAll(KINDS)].flatMap((match) => {
    const [text] = match;
    const term = termOf(text);
    if (term === undefined) return [];
    const before = read.slice(0, match.index);
    const clause = before.slice(Math.max(...[...';:.!?'].map((mark) => before.lastIndexOf(mark))) + 1);
    const counted = COUNT.exec(clause);
    const { count, total, bound } = counted?.groups ?? {};
    return [
      {
        term,
        text,
        start: match.index,
        end: match.index + text.length,
        isDenied: DENIED.test(clause),
        count: count === undefined ? null : countOf(count, bound),
        isTotal: total !== undefined || /^both$/iu.test(count ?? ''),
      },
    ];
  });
}

/** Whether a kind goes by a word that has everyday meanings as well. */
export function isEveryday({ text }: StatedKind): boolean {
  return EVERYDAY.has(text.toLowerCase().replace(/e?s$/u, ''));
}

function termOf(text: string): string | undefined {
  const plain = text.replaceAll(/analog(?!ue)/giu, 'analogue').replaceAll(/color/giu, 'colour');
  for (const name of [text, plain])
    for (const one of [
      name,
      name.replace(/ies$/iu, 'y'),
      name.replace(/s$/iu, ''),
      name.replace(/es$/iu, ''),
    ]) {
      const term = termCalled(one);
      if (term !== undefined) return term;
    }
  return undefined;
}

function countOf(word: string, bound = ''): StatedKind['count'] {
  const lower = word.toLowerCase();
  const number = lower === 'both' || lower === 'a pair of' ? 2 : (NUMBER_WORDS.get(lower) ?? Number(lower));
  const text = `${bound} ${lower}`.trim();
  switch (bound.toLowerCase()) {
    case 'more than':
    case 'over':
      return { text, low: number + 1, high: Infinity };
    case 'at least':
    case 'no less than':
    case 'no fewer than':
      return { text, low: number, high: Infinity };
    case 'fewer than':
    case 'less than':
      return { text, low: 0, high: number - 1 };
    case 'at most':
    case 'up to':
    case 'no more than':
      return { text, low: 0, high: number };
    default:
      return { text, low: number, high: number };
  }
}
