import type { Evidence } from './evidence.ts';
import { type PartTable, PROFILE_FACETS } from './part-table.ts';
import { DECIBANS, type PosteriorInput, type Weighing } from './weighing.ts';

/** Memory for one posterior after another. */
let probabilityMemory = new Float64Array();

/**
 * Probability of each part and of none; the first holds until the next posterior. Most parts share the
 * weight of their profile, so exponentials are taken once for each profile; parts that the marking fits or an editor judged are weighed one by one.
 */
export function massesOf(
  input: PosteriorInput,
  weighing: Weighing,
): { readonly probabilities: Float64Array; readonly none: number } {
  const { table, priors } = input;
  const { evidence, weights, marking, judgements, unknown } = weighing;
  const { profile } = table;
  const size = priors.length;
  const before = priorMasses(input, weighing);
  const profiles = profileLogs(table, evidence, weights);
  const bodyAt = evidence.findIndex(({ facet }) => facet === 'body');
  const bodies = bodyAt < 0 ? undefined : weights[bodyAt];
  const bodyOf = table.facet('body').of;
  // What the marking says of parts that it does not fit is taken out of the brackets.
  const shared = marking?.unfit ?? 0;
  const singles = marking ? [...marking.parts] : [];
  const singleLogs = marking ? marking.weights.map((weight) => weight - shared) : [];
  for (const { part, decibans } of judgements) {
    const number = table.numberOf(part);
    if (number === undefined) continue;
    const at = singles.indexOf(number);
    if (at >= 0) singleLogs[at] += decibans / DECIBANS;
    else singleLogs[singles.push(number) - 1] = decibans / DECIBANS;
  }
  let top = unknown - shared;
  for (let k = 0; k < singles.length; k++) {
    const number = singles[k];
    const body = bodies?.[bodyOf[number]] ?? 0;
    singleLogs[k] += before.logs[number] + profiles[profile.of[number]] + (Number.isNaN(body) ? 0 : body);
    if (singleLogs[k] > top) top = singleLogs[k];
  }
  const scale = Math.exp(-top);
  const factors = profiles.map((log) => Math.exp(log) * scale);
  if (probabilityMemory.length < size) probabilityMemory = new Float64Array(size);
  const probabilities = probabilityMemory;
  const { masses } = before;
  const { of } = profile;
  for (let i = 0; i < size; i++) probabilities[i] = masses[i] * factors[of[i]];
  if (bodies) {
    const bodyFactors = bodies.map((log) => (Number.isNaN(log) ? 1 : Math.exp(log)));
    for (let i = 0; i < size; i++) probabilities[i] *= bodyFactors[bodyOf[i]];
  }
  for (let k = 0; k < singles.length; k++) probabilities[singles[k]] = Math.exp(singleLogs[k] - top);
  const none = Math.exp(unknown - shared - top);
  let sum = none;
  for (let i = 0; i < size; i++) sum += probabilities[i];
  const share = 1 / sum;
  for (let i = 0; i < size; i++) probabilities[i] *= share;
  return { probabilities, none: none * share };
}

/** Summed weights of each profile. */
function profileLogs(
  table: PartTable,
  evidence: readonly Evidence[],
  weights: readonly (readonly number[])[],
): number[] {
  const { profile } = table;
  const logs = profile.examples.map(() => 0);
  evidence.forEach(({ facet }, i) => {
    const name = PROFILE_FACETS.find((one) => one === facet);
    if (!name) return;
    const of = profile.facets[name];
    for (let value = 0; value < logs.length; value++) {
      const weight = weights[i][of[value]];
      if (!Number.isNaN(weight)) logs[value] += weight;
    }
  });
  return logs;
}

interface PriorMasses {
  readonly priors: Float64Array;
  /** The evidence that is in it. */
  readonly of: readonly Evidence[];
  readonly logs: Float64Array;
  readonly masses: Float64Array;
}

/** Priors with the evidence that all components of a device share: the device's maker and its release. */
function priorMasses(
  { table, priors, habits }: PosteriorInput,
  { evidence, weights }: Weighing,
): PriorMasses {
  const shared = evidence.flatMap((one, i) =>
    one.facet === 'maker' || one.facet === 'introduced' ? [{ one, weights: weights[i] }] : [],
  );
  const kept = habits.remember('prior masses', (): { last?: PriorMasses } => ({}));
  const { last } = kept;
  const isSame = ({ one }: (typeof shared)[number], i: number) => one === last?.of[i];
  if (last?.priors === priors && last.of.length === shared.length && shared.every(isSame)) return last;
  const logs = priors.slice();
  for (const { one, weights: byValue } of shared) {
    const { of } = table.facet(one.facet);
    for (let i = 0; i < logs.length; i++) {
      const weight = byValue[of[i]];
      if (!Number.isNaN(weight)) logs[i] += weight;
    }
  }
  kept.last = { priors, of: shared.map(({ one }) => one), logs, masses: logs.map(Math.exp) };
  return kept.last;
}
