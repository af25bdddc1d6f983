import { PACKING, TERMS } from '../../model/taxonomy.ts';
import type { LabelWeights } from '../../state/labels.ts';
import { informationOf } from './information-of.ts';

/** Amounts of terms of the taxonomy, by number in ascending order, each weighted by what the term says. */
export interface Spread {
  readonly terms: Uint16Array;
  readonly amounts: Float64Array;
}

const numberOf = new Map(TERMS.map((term, number) => [term, number]));

/** Expected number of components of each term among some components; those without labels count nothing. */
export function sumOfLabels(all: readonly (LabelWeights | undefined)[]): ReadonlyMap<string, number> {
  const sum = new Map<string, number>();
  for (const labels of all) {
    if (!labels) continue;
    for (const [term, weight] of labels) {
      if (term !== 'Component' && !PACKING.has(term)) sum.set(term, (sum.get(term) ?? 0) + weight);
    }
  }
  return sum;
}

export function profileOf(sum: ReadonlyMap<string, number>): Spread {
  const informative = [...sum]
    .map(([term, weight]) => ({ number: numberOf.get(term) as number, amount: weight * informationOf(term) }))
    .filter(({ amount }) => amount > 0)
    .sort((a, b) => a.number - b.number);
  return {
    terms: Uint16Array.from(informative, ({ number }) => number),
    amounts: Float64Array.from(informative, ({ amount }) => amount),
  };
}

/** 1 - what two spreads have in common over what they have together (Ružička): 0 for equal ones, two empty ones included. */
export function spreadDistance(a: Spread, b: Spread): number {
  let shared = 0;
  let all = 0;
  let i = 0;
  let j = 0;
  while (i < a.terms.length || j < b.terms.length) {
    const left = i < a.terms.length ? a.terms[i] : Infinity;
    const right = j < b.terms.length ? b.terms[j] : Infinity;
    if (left === right) {
      shared += Math.min(a.amounts[i], b.amounts[j]);
      all += Math.max(a.amounts[i++], b.amounts[j++]);
    } else if (left < right) all += a.amounts[i++];
    else all += b.amounts[j++];
  }
  return all === 0 ? 0 : 1 - shared / all;
}
