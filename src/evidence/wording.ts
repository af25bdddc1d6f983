import { CERTAIN } from '../state/labels.ts';
import { LIKELIHOOD_SCALE, likelihoodPhrase } from '../statistics/likelihood-words.ts';

/** How much a sentence says: the probabilities for which its wording is right. */
export interface Wording {
  /** The words that say so; null for a sentence that states it flatly. */
  readonly words: string | null;
  /** Both ends included. */
  readonly low: number;
  readonly high: number;
  /** Where the range comes from. */
  readonly by: 'scale' | 'usage' | 'flat';
}

/**
 * Everyday words beside the calibrated scale, with the range they are taken to mean here (common usage, no source). An
 * article is better off with words of the scale.
 */
const USAGE: readonly (readonly [words: string, low: number, high: number])[] = [
  ['without doubt', 0.99, 1],
  ['undoubtedly', 0.99, 1],
  ['certainly', 0.99, 1],
  ['definitely', 0.99, 1],
  ['proves', 0.99, 1],
  ['in all likelihood', 0.9, 1],
  ['presumably', 0.66, 1],
  ['probably', 0.66, 1],
  ['seems', 0.5, 1],
  ['appears to', 0.5, 1],
  ['suggests', 0.5, 1],
  ['perhaps', 0.1, 0.66],
  ['maybe', 0.1, 0.66],
  ['possibly', 0.1, 0.66],
  ['might', 0.1, 0.66],
  ['may', 0.1, 0.66],
  ['could be', 0.1, 0.66],
  ['hardly', 0, 0.1],
];

/** The scale, longest phrase first, with a shorter way to say its middle. */
const PHRASES = [
  ...LIKELIHOOD_SCALE,
  ...LIKELIHOOD_SCALE.filter(({ phrase }) => phrase === 'about as likely as not').map((middle) => ({
    ...middle,
    phrase: 'as likely as not',
  })),
].sort((a, b) => b.phrase.length - a.phrase.length);

/** Upper end of "unlikely" on the scale. */
const UNLIKELY = 0.33;

/**
 * What a sentence claims. Words of the calibrated scale of Mastrandrea et al. 2010 come first, the longest that fits;
 * then everyday words; a sentence with neither states a fact, which takes the probability from which the archive calls
 * anything certain.
 */
export function wordingOf(sentence: string): Wording {
  const scale = PHRASES.find(({ phrase }) => has(sentence, phrase));
  if (scale) return { words: scale.phrase, low: scale.low, high: scale.high, by: 'scale' };
  const usage = USAGE.find(([words]) => has(sentence, words));
  if (usage) return { words: usage[0], low: usage[1], high: usage[2], by: 'usage' };
  return { words: null, low: CERTAIN, high: 1, by: 'flat' };
}

function has(sentence: string, words: string): boolean {
  const found = new RegExp(`(?<![\\p{L}-])${words.replaceAll(' ', '\\s+')}(?![\\p{L}-])`, 'giu');
  // "May" with a capital is a month.
  return [...sentence.matchAll(found)].some(([as]) => as !== 'May');
}

/**
 * The wording to propose for a probability: a flat statement where it is certain, else a phrase of the scale; what is
 * unlikely is better withdrawn than hedged.
 */
export function proposedWording(probability: number): string {
  if (probability <= UNLIKELY) return `withdraw it, since it is "${likelihoodPhrase(probability)}"`;
  return probability >= CERTAIN
    ? 'state it, or say "extremely likely"'
    : `say "${likelihoodPhrase(probability)}"`;
}
