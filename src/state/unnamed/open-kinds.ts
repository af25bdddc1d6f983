import { isChipFunction } from '../../model/chip-function.ts';
import { designatorOf } from '../../model/designator.ts';
import type { Component } from '../../model/dossier.ts';
import { isUnder, PACKING } from '../../model/taxonomy.ts';
import { POSSIBLE } from '../labels.ts';
import type { OpenedSpecimen } from '../specimen.ts';
import { shareOfChips, usualKinds } from './unnamed-kinds.ts';

// What a component may be that nobody named. An unnamed chip has its candidates and its spread; what these leave to 1 is a
// chance of anything else, and there is no telling how it divides: all of it may be of one kind. So it counts as a bound and never
// as a probability: whatever may be in it is not absent. The same holds of what is only known to be of a rough kind, as some
// sensor. What is left open beside a kind that is at least as likely as not stays out: it would doubt every absence in every
// device for a hundredth here and there.

/** What an open share may be: any chip function, any of some kinds, or anything under one kind. */
export type OpenKind = 'chip' | readonly string[] | { readonly under: string };

export interface OpenShare {
  readonly kind: OpenKind;
  /** Probability, above 0. */
  readonly share: number;
}

/** At or above this chance of none of its candidates, a component that looks like some rough kind is no more than that. */
const EVEN = 0.5;
/** Below this a rest is rounding. */
const NOTHING = 1e-6;

/** What is left open of a component of a specimen; empty for one that is settled. */
export function openSharesOf(
  { identified, spreads }: Pick<OpenedSpecimen, 'identified' | 'spreads'>,
  component: Component,
): readonly OpenShare[] {
  const spread = spreads.get(component.id);
  const named = [...(identified.get(component.id)?.candidates ?? []), ...(spread ?? [])];
  const rest = 1 - named.reduce((sum, { probability }) => sum + probability, 0);
  const rough = named.flatMap(({ part, category, probability }): OpenShare[] =>
    part === undefined && category !== undefined && probability >= POSSIBLE && isChipFunction(category)
      ? [{ kind: { under: category }, share: probability }]
      : [],
  );
  if (spread) return rest > NOTHING ? [...rough, { kind: kindOf(component), share: rest }] : rough;
  const { appears } = component;
  return appears !== undefined && rest >= EVEN && isChipFunction(appears)
    ? [...rough, { kind: { under: appears }, share: rest }]
    : rough;
}

/** Whether an open share may be of a term. */
export function mayBe(kind: OpenKind, term: string): boolean {
  if (kind === 'chip') return isChipFunction(term);
  if ('under' in kind) return term !== kind.under && isUnder(term, kind.under);
  return kind.some((one) => isUnder(term, one));
}

/** Probability that a component is some chip, whichever: by its looks, else by the letters of its designator. */
export function chanceOfChip({ id, appears }: Pick<Component, 'id' | 'appears'>): number {
  if (appears !== undefined) return PACKING.has(appears) || isChipFunction(appears) ? 1 : 0;
  return shareOfChips(/^[A-Z]*/u.exec(designatorOf(id))?.[0] ?? '');
}

/** The letters of a designator say what something is that is no chip; letters that nobody uses say nothing. */
function kindOf({ id, appears }: Component): OpenKind {
  if (appears !== undefined && PACKING.has(appears)) return 'chip';
  const usual = usualKinds(/^[A-Z]*/u.exec(designatorOf(id))?.[0] ?? '');
  return usual === undefined || usual.some(isChipFunction) ? 'chip' : usual;
}
