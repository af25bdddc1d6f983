import { PINOUT_CLASSES, pinoutClassOf } from '../classes/class-pinouts.ts';
import type { NetClues } from '../classes/net-clues.ts';
import { classFitOf } from '../classes/pinout-fit.ts';
import type { Component } from '../model/dossier.ts';
import { isUnder } from '../model/taxonomy.ts';
import type { KindSpread } from '../state/unnamed-kinds.ts';
import { type WeighedEvidence, weightInDecibans } from './posterior.ts';

/** A kind that a component may be, whatever part it is. */
export interface KindOdds {
  readonly term: string;
  readonly probability: number;
  /** Probability by class letters and package alone. */
  readonly prior: number;
  /** Why, against any component: what nets say, in words, with its weight. */
  readonly evidence: readonly WeighedEvidence[];
}

/** Share of "none of these" that goes to classes that were never seen with such letters and package (chosen, no source). */
const UNSEEN_CLASSES = 0.5;
/** A class of which no usual arrangement has so many pins comes with them once in twenty times (common practice, no source). */
const OTHER_PINS = Math.log(0.05);
/** Kinds less likely than this are not listed. */
const LISTED = 1e-3;

/**
 * Kinds that a component may be by class letters, package and what its pins hang on, likeliest first; what their
 * probabilities leave to 1 is none of these. It needs no catalogue.
 * @param spread kinds by letters and package, learnt from the archive: `State.unnamed`
 */
export function kindsFor(
  { appears }: Pick<Component, 'appears'>,
  nets: NetClues | undefined,
  spread: KindSpread,
): readonly KindOdds[] {
  const listed = spread.kinds.map(({ category, probability }) => ({ term: category, prior: probability }));
  const open = 1 - listed.reduce((sum, { prior }) => sum + prior, 0);
  const unseen = PINOUT_CLASSES.filter(
    (term) =>
      !listed.some((one) => isUnder(one.term, term) || isUnder(term, one.term)) && isPossible(term, appears),
  );
  const hypotheses = [
    ...listed,
    ...unseen.map((term) => ({ term, prior: (UNSEEN_CLASSES * open) / unseen.length })),
  ].map((one) => ({ ...one, ...weightOf(one.term, nets) }));
  const none = 1 - hypotheses.reduce((sum, { prior }) => sum + prior, 0);
  const whole = hypotheses.reduce((sum, { prior, log }) => sum + prior * Math.exp(log), none);
  return hypotheses
    .map((one) => ({ ...one, probability: (one.prior * Math.exp(one.log)) / whole }))
    .filter(({ probability }) => probability >= LISTED)
    .map(({ term, prior, probability, log, says }) => ({
      ...{ term, prior, probability },
      // Words are made only for whoever reads them.
      get evidence() {
        return says ? [{ ...says(), decibans: weightInDecibans(log) }] : [];
      },
    }))
    .sort((a, b) => b.probability - a.probability || (a.term < b.term ? -1 : 1));
}

/** Whether a class fits what a component plainly is. */
function isPossible(term: string, appears: string | undefined): boolean {
  if (appears === undefined || appears === 'Module' || appears === 'IntegratedCircuit') return true;
  return isUnder(term, appears) || isUnder(appears, term);
}

/** Weight of the pins for a kind, natural logarithm, and the words for it: made for those that are listed. */
function weightOf(
  term: string,
  nets: NetClues | undefined,
): { readonly log: number; readonly says?: () => Pick<WeighedEvidence, 'kind' | 'description'> } {
  if (!nets || nets.pins.length === 0 || pinoutClassOf(term) === undefined) return { log: 0 };
  const fit = classFitOf(nets, term);
  if (fit) return { log: fit.log, says: () => ({ kind: 'pinout', description: fit.best.says() }) };
  return {
    log: OTHER_PINS,
    says: () => ({
      kind: 'pin-count',
      description: `no usual arrangement of such a part has ${nets.terminals} terminals in this package`,
    }),
  };
}
