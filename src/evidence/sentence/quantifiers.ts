import type { Figure } from '../../model/figure.ts';

/** What a quantifier claims. */
export type QuantifierMeans =
  | 'all'
  | 'none'
  | 'most'
  | 'half'
  | 'few'
  | 'first'
  | 'only'
  | 'more'
  | 'fewer'
  | 'multiple';

/** A word of a sentence that speaks of a number of things without being one. */
export interface Quantifier {
  readonly means: QuantifierMeans;
  /** As the sentence writes it. */
  readonly text: string;
  readonly start: number;
  /** For `multiple`: how many times as much. */
  readonly times: number | null;
}

const SMALL = 'two|three|four|five|six|seven|eight|nine|ten|\\d+';

/**
 * Quantifiers and their meaning, each with what it is not: "all three" is a count, "not every" claims little, "the first Ferrule"
 * is a name, "only 3 mm" a remark, "more than 3 mm" a bound of a quantity.
 */
const QUANTIFIERS: readonly (readonly [means: QuantifierMeans, words: RegExp])[] = [
  [
    'all',
    new RegExp(
      `(?<!\\b(?:not|of|nearly|almost)\\s+)\\b(?:every|each|always|without exception|all(?! but\\b)(?!(?: of)? (?:the |these |those |its )?(?:${SMALL})\\b))\\b`,
      'giu',
    ),
  ],
  ['none', /\b(?:never|none|nowhere|no (?:other|device|band|ring|watch|earbud|patch|maker|wearable)s?)\b/giu],
  [
    'most',
    /\b(?:most(?= (?:of|devices|bands|rings|watches|earbuds|patches|makers|wearables|opened|[\p{L}-]+s\b))|the majority|a majority|mostly|usually|nearly all|almost all|the bulk of|(?:more than|over) half)\b/giu,
  ],
  ['half', /\b(?:half(?= (?:of|the|all))|a third of|two thirds of|a quarter of|three quarters of)\b/giu],
  [
    'few',
    /\b(?:few|a minority|hardly any|rarely|seldom|(?:less than|under) half)\b(?! (?:millimet|microm|hours|minutes|days|seconds|milli|per\s?cent))/giu,
  ],
  [
    'first',
    /\b(?:(?:the|its|our|their) (?:very )?first(?= (?:to|time|that|which|with|ever|of its kind|of the kind|(?:[\p{Ll}-]+ ){0,2}(?:devices?|bands?|rings?|watch(?:es)?|earbuds?|patch(?:es)?|glasses|wearables?|products?))\b)|for the first time|before (?:any|anyone|everyone)|(?:is|was) first to)\b/giu,
  ],
  [
    'first',
    /(?<=\b(?:is|was|be|being|are|were) )the (?:very )?first(?! (?:[A-Z]|generation|stage|of (?:two|three|four)))/gu,
  ],
  [
    'only',
    new RegExp(
      `(?<!\\bnot )\\b(?:only(?! (?:${SMALL}|\\.\\d|about|partly|half|just|when|if|after|while|by|in part|slightly)\\b)|no other)\\b`,
      'giu',
    ),
  ],
  [
    'multiple',
    new RegExp(
      `\\b(?:twice|double|thrice|(?:${SMALL}) times|half as (?:much|many|large|long|thick|heavy|wide)|half the)\\b`,
      'giu',
    ),
  ],
  ['more', /\b(?:more|further) (?!likely\b)(?:[\p{L}-]+ ){0,3}than\b/giu],
  ['fewer', /\b(?:fewer|less) (?!likely\b)(?:[\p{L}-]+ ){0,3}than\b/giu],
];

const TIMES: ReadonlyMap<string, number> = new Map([
  ['twice', 2],
  ['double', 2],
  ['thrice', 3],
  ['two', 2],
  ['three', 3],
  ['four', 4],
  ['five', 5],
  ['six', 6],
  ['seven', 7],
  ['eight', 8],
  ['nine', 9],
  ['ten', 10],
]);

/** Quantifiers in a sentence, those that stand for themselves. @param taken spans of quantities and counts, which bind their own words */
export function quantifiersIn(
  sentence: string,
  taken: readonly { readonly start: number; readonly end: number }[] = [],
): readonly Quantifier[] {
  const found: Quantifier[] = [];
  for (const [means, words] of QUANTIFIERS) {
    for (const match of sentence.matchAll(words)) {
      const [text] = match;
      const start = match.index;
      const end = start + text.length;
      // "More than 3 mm" belongs to the quantity behind it.
      if (taken.some((one) => start < one.end && end >= one.start - 1)) continue;
      if (found.some((one) => one.start < end && start < one.start + one.text.length)) continue;
      found.push({ means, text, start, times: means === 'multiple' ? timesOf(text) : null });
    }
  }
  return found.sort((a, b) => a.start - b.start);
}

function timesOf(text: string): number {
  if (/^half/iu.test(text)) return 0.5;
  const [word] = text.toLowerCase().split(/\s/u);
  return TIMES.get(word) ?? Number(word);
}

/** What a figure must state to carry a quantifier, in words. */
const WANTED: Readonly<Record<QuantifierMeans, string>> = {
  all: 'a share with atLeast 1',
  none: 'a share or count with atMost 0',
  most: 'a share with atLeast above 0.5',
  half: 'a share with atLeast and atMost around the fraction',
  few: 'a share or count with atMost',
  first: 'a count with atMost 0 of those released before (where: to)',
  only: 'a count with atMost 1',
  more: 'a comparison, or a share or count with atLeast',
  fewer: 'a comparison, or a share or count with atMost',
  multiple: 'two recorded values of the same thing that stand in this ratio',
};

/** What carries a quantifier, for a message. */
export function wantedFor({ means }: Quantifier): string {
  return WANTED[means];
}

/** Whether a figure says what a quantifier claims. */
export function carries({ means }: Quantifier, figure: Figure): boolean {
  if ('trend' in figure) return false;
  if ('compare' in figure)
    return (means === 'more' && figure.says === 'more') || (means === 'fewer' && figure.says === 'fewer');
  const { atLeast, atMost } = figure;
  const isShare = 'share' in figure;
  switch (means) {
    case 'all':
      return isShare && atLeast === 1;
    case 'none':
      return atMost === 0;
    case 'most':
      return isShare && atLeast !== undefined && atLeast > 0.5;
    case 'half':
      return isShare && atLeast !== undefined && atMost !== undefined;
    case 'few':
      return atMost !== undefined && (!isShare || atMost < 0.5);
    case 'first':
      return atMost === 0 && figure.where.to !== undefined;
    case 'only':
      return !isShare && atMost !== undefined && atMost <= 1;
    case 'more':
      return atLeast !== undefined;
    case 'fewer':
      return atMost !== undefined;
    case 'multiple':
      return false;
    default:
      return means satisfies never;
  }
}
