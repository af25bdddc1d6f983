import type { MarkingText } from '../model/marking.ts';
import { median } from '../statistics/quantile.ts';
import { fixedOf, type KnownText } from './catalogue-trie.ts';
import { ALPHABET } from './confusion.ts';
import { logOfChange } from './siblings.ts';
import { BREAK, FREE, LETTER } from './template.ts';

// What a part that nobody has catalogued is marked with. In a share of cases its text is that of a catalogued part with
// some characters changed (a sibling); now and then it is the very same text (two makers, one short code); else it is strange
// and follows a known format at most. How often each happens is learnt from the catalogue itself: a part that is in it stands
// for one that is not, and its text is held against those of all others (deleted estimation: Jelinek and Mercer 1980).

/** Known texts that a reading may be of, the best of each part: numbers of the parts, log-ratios against chance. */
export interface FittingTexts {
  readonly parts: readonly number[];
  readonly ratios: readonly number[];
  readonly text: (at: number) => KnownText;
}

/** A reading held against everything known. */
export interface ComparedReading {
  /** Against the texts as they are. */
  readonly exact: FittingTexts;
  /** Against the texts as siblings may have altered them. */
  readonly altered: FittingTexts;
  /** Against their formats: natural logarithm. */
  readonly format: number;
}

/**
 * What a reading says of a part that nobody has catalogued, natural logarithms of ratios against chance, each times the share
 * of such parts that it stands for: its likelihood is the sum of `strange` and of the mean of `ratios` over all parts.
 */
export interface UncataloguedRatios {
  /** Of one whose marking has a format in common with known ones at most. */
  readonly strange: number;
  /** Numbers of the parts that it may be a sibling of or share the marking with. */
  readonly parts: readonly number[];
  /** Of one that is akin to each of them. */
  readonly ratios: readonly number[];
}

/** How often a part that nobody has catalogued is marked like a sibling of a known one, and with the same text. */
export interface UncataloguedShares {
  /** Of a part, by its number: families are a matter of the kind of parts. */
  readonly sibling: (part: number) => number;
  /** The same over all kinds. */
  readonly siblings: number;
  /** By the number of characters of the known text that are always the same. */
  readonly twin: (fixed: number) => number;
  readonly strange: number;
}

/** What kinds have in common counts for each as so many texts of its own; it begins with one kind of which half are siblings. */
const KIND_AHEAD = 2;
/** The twins among all texts count as half a one more, of two and a half texts. */
const TWINS_AHEAD = 0.5;
const TEXTS_AHEAD = 2.5;
/** The twins among all texts count as so many texts of like length. */
const LENGTH_AHEAD = 5;
/** Texts held against the others, at most: shares are known well enough by then. */
const COMPARED = 300;
const ROUNDS = 50;

/** What a reading says of a part that nobody has catalogued. */
export function uncataloguedRatios(
  { exact, altered, format }: ComparedReading,
  shares: UncataloguedShares,
): UncataloguedRatios {
  const likelihoods = new Map<number, number>();
  const sibling = siblingsOf(exact, altered);
  altered.parts.forEach((part, at) => {
    if (sibling[at] > 0) likelihoods.set(part, shares.sibling(part) * sibling[at]);
  });
  exact.parts.forEach((part, at) => {
    const twin = shares.twin(fixedOf(exact.text(at).symbols)) * Math.exp(exact.ratios[at]);
    likelihoods.set(part, (likelihoods.get(part) ?? 0) + twin);
  });
  return {
    strange: Math.log(shares.strange) + format,
    parts: [...likelihoods.keys()],
    ratios: [...likelihoods.values()].map(Math.log),
  };
}

/** Texts that fit this much worse than the best known one take nothing noticeable from what siblings explain. */
const NEAREST = Math.log(1e3);

/**
 * Likelihood ratio of a reading for a sibling of each part of `altered`: all texts that its own may be altered to but those
 * that are catalogued, for these are no uncatalogued parts.
 * @param without number of a part that counts as not catalogued
 */
function siblingsOf(exact: FittingTexts, altered: FittingTexts, without = -1): readonly number[] {
  const best = exact.ratios.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const known = exact.parts.flatMap((part, at) =>
    part !== without && exact.ratios[at] > best - NEAREST
      ? [{ part, text: exact.text(at), ratio: exact.ratios[at] }]
      : [],
  );
  return altered.parts.map((part, at) => {
    if (part === without) return 0;
    const { symbols, ending } = altered.text(at);
    const all = Math.exp(altered.ratios[at]);
    const ofKnown = known.reduce((sum, one) => {
      const log = logOfChange(symbols, one.text.symbols) + ending.penalty - one.text.ending.penalty;
      return sum + Math.exp(one.ratio + log);
    }, 0);
    const changed = 1 - Math.exp(logOfChange(symbols, symbols));
    // The best alignment stands for all, so that the difference may come out a little below nothing.
    return changed > 0 ? Math.max(0, all - ofKnown) / changed : 0;
  });
}

/** A text as it may be printed on one unit: free characters are letters and digits in turn. */
export function exampleOf({ symbols }: Pick<KnownText, 'symbols'>): MarkingText {
  const lettered = [...'KTANREVH'];
  const numbered = [...'41728359'];
  return symbols.split(String.fromCharCode(BREAK)).map((line) =>
    Array.from(line, (symbol, at) => {
      const code = symbol.charCodeAt(0);
      const free = code === LETTER || (code === FREE && at % 2 === 0) ? lettered : numbered;
      return { options: [code < ALPHABET.length ? ALPHABET[code] : free[at % free.length]] };
    }),
  );
}

/** A text of the catalogue held against the others: ratios if it were each sort of part that nobody knows. */
interface Sample {
  readonly kind: number;
  readonly fixed: number;
  readonly sibling: number;
  readonly twin: number;
  readonly strange: number;
  /** How much it counts. */
  weight: number;
}

/**
 * Learns the shares by expectation maximisation (Dempster, Laird and Rubin 1977) over the texts of the catalogue, each held
 * against those of the other parts; one step for each. Every kind of parts counts as much as any other, and how many are siblings
 * is learnt kind by kind, drawn towards what kinds have in common (the median), so that a long list of one kind says
 * hardly anything of the others.
 * @param byKind numbers of the parts of each kind
 */
export function* learningFrom(
  texts: readonly (readonly KnownText[])[],
  byKind: readonly (readonly number[])[],
  compare: (text: KnownText) => ComparedReading | undefined,
): Generator<void, UncataloguedShares> {
  const kinds = byKind.filter(({ length }) => length > 0).length;
  const shares = new Float64Array(texts.length);
  for (const parts of byKind) for (const part of parts) shares[part] = 1 / (kinds * parts.length);
  const samples: Sample[] = [];
  for (const [kind, parts] of byKind.entries()) {
    const step = Math.max(1, (parts.length * kinds) / COMPARED);
    const ofKind: Omit<Sample, 'weight'>[] = [];
    for (let at = 0; at < parts.length; at += step) {
      const part = parts[Math.floor(at)];
      const text = texts[part].at(-1);
      const compared = text && compare(text);
      if (!compared) continue;
      const { exact, altered, format } = compared;
      const sibling = siblingsOf(exact, altered, part);
      const others = Math.max(1 - shares[part], shares[part]);
      ofKind.push({
        kind,
        fixed: fixedOf(text.symbols),
        sibling: sibling.reduce((sum, one, i) => sum + shares[altered.parts[i]] * one, 0) / others,
        twin:
          exact.ratios.reduce(
            (sum, one, i) => sum + (exact.parts[i] === part ? 0 : shares[exact.parts[i]] * Math.exp(one)),
            0,
          ) / others,
        strange: Math.exp(format),
      });
      yield;
    }
    for (const one of ofKind) samples.push({ ...one, weight: 1 / ofKind.length });
  }
  // Together they count as many as were compared.
  const whole = samples.reduce((sum, { weight }) => sum + weight, 0);
  for (const one of samples) one.weight *= samples.length / whole;
  let siblings = byKind.map(() => 0.5);
  let common = 0.5;
  let twin = TWINS_AHEAD / TEXTS_AHEAD;
  let twins: readonly number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const ofKind = siblings.map(() => ({ siblings: 0, all: 0 }));
    twins = samples.map((one) => {
      const sibling = (1 - twin) * siblings[one.kind] * one.sibling;
      const strange = (1 - twin) * (1 - siblings[one.kind]) * one.strange;
      const all = sibling + twin * one.twin + strange;
      ofKind[one.kind].siblings += sibling / all;
      ofKind[one.kind].all += (sibling + strange) / all;
      return (one.weight * twin * one.twin) / all;
    });
    common = median([...siblings.filter((_, kind) => byKind[kind].length > 0), 0.5]);
    siblings = ofKind.map((one) => (one.siblings + KIND_AHEAD * common) / (one.all + KIND_AHEAD));
    twin = (twins.reduce((sum, one) => sum + one, 0) + TWINS_AHEAD) / (samples.length + TEXTS_AHEAD);
  }
  const kindOf = new Int32Array(texts.length).fill(-1);
  byKind.forEach((parts, kind) => {
    for (const part of parts) kindOf[part] = kind;
  });
  const byLength = new Map<number, { count: number; twins: number }>();
  samples.forEach(({ fixed, weight }, i) => {
    const known = byLength.get(fixed) ?? { count: 0, twins: 0 };
    byLength.set(fixed, { count: known.count + weight, twins: known.twins + twins[i] });
  });
  return {
    sibling: (part) => (1 - twin) * (siblings[kindOf[part]] ?? common),
    siblings: (1 - twin) * common,
    strange: (1 - twin) * (1 - common),
    twin: (fixed) => {
      const { count = 0, twins: of = 0 } = byLength.get(fixed) ?? {};
      return (of + LENGTH_AHEAD * twin) / (count + LENGTH_AHEAD);
    },
  };
}
