import { fixed } from '../text/rounding.ts';
import { requireProbability } from './domain.ts';

/** A phrase of the calibrated likelihood scale and the probabilities it covers, both ends included. */
export interface LikelihoodWords {
  readonly phrase: string;
  readonly low: number;
  readonly high: number;
}

/**
 * The scale of Mastrandrea et al., Guidance Note for Lead Authors of the IPCC Fifth Assessment Report on Consistent
 * Treatment of Uncertainties, 2010, table 1, with the three terms the report adds to it (extremely likely, more likely
 * than not, extremely unlikely). Ranges overlap by intent: what is very likely is also likely. "More likely than not"
 * leaves out one half itself.
 */
export const LIKELIHOOD_SCALE = [
  { phrase: 'virtually certain', low: 0.99, high: 1 },
  { phrase: 'extremely likely', low: 0.95, high: 1 },
  { phrase: 'very likely', low: 0.9, high: 1 },
  { phrase: 'likely', low: 0.66, high: 1 },
  { phrase: 'more likely than not', low: 0.5, high: 1 },
  { phrase: 'about as likely as not', low: 0.33, high: 0.66 },
  { phrase: 'unlikely', low: 0, high: 0.33 },
  { phrase: 'very unlikely', low: 0, high: 0.1 },
  { phrase: 'extremely unlikely', low: 0, high: 0.05 },
  { phrase: 'exceptionally unlikely', low: 0, high: 0.01 },
] as const satisfies readonly LikelihoodWords[];

/** A phrase of {@link LIKELIHOOD_SCALE}. */
export type LikelihoodPhrase = (typeof LIKELIHOOD_SCALE)[number]['phrase'];

/**
 * The phrase to propose for a probability: the most specific one, which has the narrowest range. Between
 * 33 % and 66 % that is "about as likely as not"; at 66 % and 33 % themselves it is "likely" and "unlikely".
 * @throws RangeError unless 0 <= p <= 1
 */
export function likelihoodPhrase(p: number): LikelihoodPhrase {
  requireProbability(p, 'the probability');
  const phrase =
    p >= 0.66
      ? LIKELIHOOD_SCALE.find(({ low }) => p >= low)
      : LIKELIHOOD_SCALE.findLast(({ high, low }) => p <= high && low === 0);
  return phrase?.phrase ?? 'about as likely as not';
}

/** Digits behind the point with which probabilities of decisions are shown. */
const SHOWN_DIGITS = 3;

/** The phrase for a probability as it is shown, with three digits: two that read 0.900 have one phrase. */
export function phraseAsShown(p: number): LikelihoodPhrase {
  return likelihoodPhrase(Number(fixed(p, SHOWN_DIGITS)));
}

/** Every phrase that covers a probability, in the order of the scale. @throws RangeError unless 0 <= p <= 1 */
export function phrasesCovering(p: number): readonly LikelihoodPhrase[] {
  requireProbability(p, 'the probability');
  return LIKELIHOOD_SCALE.filter(
    ({ phrase, low, high }) => p >= low && p <= high && !(phrase === 'more likely than not' && p === low),
  ).map(({ phrase }) => phrase);
}

/** The range of a phrase; undefined for words that are not on the scale. Case and spacing do not matter. */
export function likelihoodRange(words: string): LikelihoodWords | undefined {
  const plain = words.trim().toLowerCase().replace(/\s+/gu, ' ');
  return LIKELIHOOD_SCALE.find(({ phrase }) => phrase === plain);
}
