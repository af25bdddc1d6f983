import { type Evidence, unknownOfKind } from './evidence.ts';
import { kinOf } from './kin.ts';
import { type FacetName, type PartTable, PROFILE_FACETS } from './part-table.ts';
import { DECIBANS, type PosteriorInput, type Weighing } from './weighing.ts';

/** Memory for one posterior after another. */
let probabilityMemory = new Float64Array();

/** How often a part that nobody knows is like some part of the catalogue in all but its marking (common practice, no source). */
const LIKE_A_KNOWN_ONE = 0.8;
/**
 * How often such a part looks like that part, too: siblings come in other packages and sizes (common practice, no source). So looks that
 * contradict a part do not contradict every sibling of it.
 */
const LOOKS_ALIKE = 0.85;
/** What of a part its looks are: facets of the profile. The body comes on top. */
const LOOKS: ReadonlySet<FacetName> = new Set<FacetName>(['package', 'packagePins']);

/** Probabilities of what a component may be. */
export interface Masses {
  /** Of each part of the catalogue; holds until the next posterior. */
  readonly probabilities: Float64Array;
  /** That it is none of them. */
  readonly none: number;
  /** What was seen of it, for a part that nobody knows against one that is like none of the catalogue's in no way: natural logarithm. */
  readonly unknown: number;
  /** That it is none of them and looks like none of them, by its kind: what is left of `none` without the parts that it looks like. */
  readonly unlike: Float64Array | undefined;
}

/**
 * Probability of each part and of none. Most parts share the weight of their profile, so exponentials are taken once for each
 * profile; parts that the marking fits or an editor judged are weighed one by one. A part that nobody knows mostly is like
 * some part of the catalogue: it is weighed as each of them, by what was seen besides the marking, and by the likeness of the
 * markings. So evidence that fits half of the catalogue fits a part that is not in it just as well.
 * @param alike is filled, where given, with the probability that it is none of the catalogue, like each of its parts, and looks so
 */
export function massesOf(input: PosteriorInput, weighing: Weighing, alike?: Float64Array): Masses {
  const { table, priors } = input;
  const { evidence, weights, marking, judgements, stranger } = weighing;
  const { profile } = table;
  const size = priors.length;
  const before = priorMasses(input, weighing);
  const profiles = profileLogs(table, evidence, weights, () => true);
  // Of a sibling that looks otherwise: as its kind does at large.
  const others = profileLogs(table, evidence, weights, (facet) => !LOOKS.has(facet));
  const ofKind = unknownOfKind(input.sighting, input.habits);
  profile.examples.forEach(({ categories: [category] }, value) => {
    others[value] += ofKind(category);
  });
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
    else {
      const more = marking?.unlisted.is[number] === 1 ? marking.unlisted.more : 0;
      singleLogs[singles.push(number) - 1] = more + decibans / DECIBANS;
    }
  }
  const seenAs = (number: number) => {
    const body = bodies?.[bodyOf[number]] ?? 0;
    return profiles[profile.of[number]] + (Number.isNaN(body) ? 0 : body);
  };
  let top = stranger - shared;
  for (let k = 0; k < singles.length; k++) {
    const number = singles[k];
    singleLogs[k] += before.logs[number] + seenAs(number);
    if (singleLogs[k] > top) top = singleLogs[k];
  }
  const scale = Math.exp(-top);
  const factors = profiles.map((log) => Math.exp(log) * scale);
  const otherwise = others.map((log) => (1 - LOOKS_ALIKE) * Math.exp(log) * scale);
  if (probabilityMemory.length < size) probabilityMemory = new Float64Array(size);
  const probabilities = probabilityMemory;
  const { masses, kin } = before;
  const { of } = profile;
  let like = 0;
  if (bodies) {
    const bodyFactors = bodies.map((log) => (Number.isNaN(log) ? 1 : Math.exp(log)));
    for (let i = 0; i < size; i++) {
      const factor = factors[of[i]] * bodyFactors[bodyOf[i]];
      probabilities[i] = masses[i] * factor;
      like += kin[i] * (LOOKS_ALIKE * factor + otherwise[of[i]]);
    }
  } else {
    for (let i = 0; i < size; i++) {
      const factor = factors[of[i]];
      probabilities[i] = masses[i] * factor;
      like += kin[i] * (LOOKS_ALIKE * factor + otherwise[of[i]]);
    }
  }
  if (marking) {
    const { more, is } = marking.unlisted;
    const factor = Math.exp(more);
    for (let i = 0; i < size; i++) if (is[i] === 1) probabilities[i] *= factor;
  }
  for (let k = 0; k < singles.length; k++) probabilities[singles[k]] = Math.exp(singleLogs[k] - top);
  if (marking) {
    const { parts, weights: ofKin } = marking.akin;
    like *= Math.exp(marking.strange);
    for (let k = 0; k < parts.length; k++)
      like +=
        kin[parts[k]] *
        Math.exp(ofKin[k]) *
        (LOOKS_ALIKE * Math.exp(seenAs(parts[k])) * scale + otherwise[of[parts[k]]]);
  }
  const unlike = (1 - LIKE_A_KNOWN_ONE) * Math.exp(stranger) * scale;
  const unknown = unlike + LIKE_A_KNOWN_ONE * like;
  const none = unknown * Math.exp(-shared);
  let sum = none;
  for (let i = 0; i < size; i++) sum += probabilities[i];
  const share = 1 / sum;
  for (let i = 0; i < size; i++) probabilities[i] *= share;
  const ofNone = (none * share) / unknown;
  const kinds = alike && new Float64Array(weighing.strangers.length);
  if (alike && kinds) {
    const likeness = ofNone * LIKE_A_KNOWN_ONE;
    const strange = marking ? Math.exp(marking.strange) : 1;
    const kindOf = table.facet('category').of;
    const add = (part: number, ofMarking: number) => {
      const mass = likeness * kin[part] * ofMarking;
      alike[part] += mass * LOOKS_ALIKE * Math.exp(seenAs(part)) * scale;
      kinds[kindOf[part]] += mass * otherwise[of[part]];
    };
    alike.fill(0);
    for (let i = 0; i < size; i++) add(i, strange);
    marking?.akin.parts.forEach((part, k) => {
      add(part, Math.exp(marking.akin.weights[k]));
    });
    const strangers = weighing.strangers.reduce((total, one) => total + one, 0);
    if (strangers > 0)
      weighing.strangers.forEach((one, kind) => {
        kinds[kind] += (ofNone * unlike * one) / strangers;
      });
  }
  return { probabilities, none: none * share, unknown: Math.log(unknown) + top, unlike: kinds };
}

/** Summed weights of each profile, of evidence that hangs on some facets. */
function profileLogs(
  table: PartTable,
  evidence: readonly Evidence[],
  weights: readonly (readonly number[])[],
  counts: (facet: FacetName) => boolean,
): number[] {
  const { profile } = table;
  const logs = profile.examples.map(() => 0);
  evidence.forEach(({ facet }, i) => {
    const name = PROFILE_FACETS.find((one) => one === facet);
    if (!name || !counts(name)) return;
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
  /** The same of parts that nobody knows, by the part that each is like. */
  readonly kin: Float64Array;
}

/** Priors with the evidence that all components of a device share: the device's maker and its release. */
function priorMasses(input: PosteriorInput, { evidence, weights }: Weighing): PriorMasses {
  const { table, priors, habits } = input;
  const shared = evidence.flatMap((one, i) =>
    one.facet === 'makerOfKind' || one.facet === 'introduced' ? [{ one, weights: weights[i] }] : [],
  );
  const kept = habits.remember('prior masses', (): { last?: PriorMasses } => ({}));
  const { last } = kept;
  const isSame = ({ one }: (typeof shared)[number], i: number) => one === last?.of[i];
  if (last?.priors === priors && last.of.length === shared.length && shared.every(isSame)) return last;
  const logs = priors.slice();
  const seen = new Float64Array(priors.length);
  for (const { one, weights: byValue } of shared) {
    const { of } = table.facet(one.facet);
    for (let i = 0; i < seen.length; i++) {
      const weight = byValue[of[i]];
      if (!Number.isNaN(weight)) seen[i] += weight;
    }
  }
  for (let i = 0; i < logs.length; i++) logs[i] += seen[i];
  const shares = kinOf(input);
  kept.last = {
    priors,
    of: shared.map(({ one }) => one),
    logs,
    masses: logs.map(Math.exp),
    kin: seen.map((log, i) => shares[i] * Math.exp(log)),
  };
  return kept.last;
}
