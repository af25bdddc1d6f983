import { z } from 'zod';
import { readComponentValue, type ValueKind } from '../model/component-value.ts';
import { parseDesignator } from '../model/designator.ts';
import type { HintKind } from '../model/import-proposal.ts';
import { isTerm, lineage, PACKING } from '../model/taxonomy.ts';
import { readYamlFile } from '../text/yaml-file.ts';
import type { DesignComponent } from './board-design.ts';
import { type Weights, WordRules } from './words.ts';

// What a component may be, by hints of schema/trade-file-classes.yaml. Each kind of hint gives weights in decibans; they add
// up as for independent evidence, and the probabilities are proposals for an editor.

const weights = z.record(
  z.string().refine(isTerm, { error: ({ input }) => `"${input}" is not a term of the taxonomy` }),
  z.number(),
);
const KINDS = [
  'resistance',
  'capacitance',
  'inductance',
  'frequency',
] as const satisfies readonly ValueKind[];
const likeSchema = z.strictObject({ like: z.string(), is: weights });
const fileSchema = z.strictObject({
  plain: z.array(z.string().refine(isTerm)),
  parts: z.strictObject({ numberAndMaker: z.number(), number: z.number() }),
  designators: z.record(z.string(), weights),
  values: z.array(z.union([likeSchema, z.strictObject({ kind: z.enum(KINDS), is: weights })])),
  footprints: z.array(likeSchema),
  words: z.array(likeSchema),
});

const file = fileSchema.parse(readYamlFile(new URL('../../schema/trade-file-classes.yaml', import.meta.url)));
const PLAIN = new Set(file.plain);
const DESIGNATORS = new Map(Object.entries(file.designators));
const VALUE_KINDS = new Map(
  file.values.flatMap((one) => ('kind' in one ? [[one.kind, one.is] as const] : [])),
);
const rules = (list: readonly z.infer<typeof likeSchema>[], wrap: (pattern: string) => string) =>
  list.map(({ like, is }) => [new RegExp(wrap(like), 'iu'), is] as const);
const VALUES = rules(
  file.values.filter((one) => 'like' in one),
  (pattern) => `^(?:${pattern})$`,
);
const WORDS = new WordRules(file.words);
const FOOTPRINTS = rules(file.footprints, (pattern) => `(?:^|[_\\-:.])(?:${pattern})(?=$|[_\\-:.])`);

/** How likely a part of the catalogue is that a list names. */
export const PART_ODDS = file.parts;

export interface ClassProposal {
  readonly candidates: readonly { readonly category: string; readonly probability: number }[];
  /** What it plainly is: two hints of unlike kinds or more say so and none says otherwise. */
  readonly appears?: string;
  /** Kinds of hints that said something; hints of unlike kinds count as independent. */
  readonly hints: readonly HintKind[];
}

/** Fewer than this many characters of a text are looked at. */
const MAX_TEXT = 300;
/** Candidates that are worth naming, and how many. */
const LEAST = 0.03;
const MOST = 4;
/** No hint of a list makes more certain than this. */
const MOST_CERTAIN = 0.98;
/** A weight from which on a term says more than how the thing is packed, decibans. */
const TELLS = 9;
/** What stands for being plain. */
const PLAINLY = 0.99;

/** What the hints of a file say that a component may be; undefined where they say nothing. */
export function proposeClass(component: DesignComponent): ClassProposal | undefined {
  const hints = hintsOf(component);
  if (hints.size === 0) return undefined;
  const sums = new Map<string, number>();
  for (const terms of hints.values())
    for (const [term, weight] of Object.entries(terms)) sums.set(term, (sums.get(term) ?? 0) + weight);
  const narrowed = withoutWider(sums, [...hints.values()]);
  const odds = [...narrowed].map(([category, decibans]) => [category, 10 ** (decibans / 10)] as const);
  const all = 1 + odds.reduce((sum, [, one]) => sum + one, 0);
  const ranked = odds
    .map(([category, one]) => ({ category, probability: one / all }))
    .toSorted((a, b) => b.probability - a.probability);
  const candidates = ranked
    .filter(({ probability }) => probability >= LEAST)
    .slice(0, MOST)
    .map(({ category, probability }) => ({
      category,
      probability: Math.floor(Math.min(probability, MOST_CERTAIN) * 100) / 100,
    }));
  const [first] = ranked;
  if (candidates.length === 0 || !first) return undefined;
  const isPlain =
    PLAIN.has(first.category) && first.probability >= PLAINLY && isAgreed(first.category, hints);
  return { candidates, ...(isPlain ? { appears: first.category } : {}), hints: [...hints.keys()] };
}

function hintsOf(component: DesignComponent): ReadonlyMap<HintKind, Weights> {
  const hints = new Map<HintKind, Weights>();
  const take = (kind: HintKind, found: Weights | undefined) => {
    if (found && Object.keys(found).length > 0) hints.set(kind, found);
  };
  const letters = parseDesignator(component.designator)
    ?.letters.replace(/[$_]+$/u, '')
    .toUpperCase();
  take('designator', letters === undefined ? undefined : DESIGNATORS.get(letters));
  const value = component.value?.slice(0, MAX_TEXT);
  if (value !== undefined)
    take('value', strongest([valueWeights(value, isInductor(letters)), ...matching(VALUES, value)]));
  if (component.footprint !== undefined)
    take('footprint', strongest(matching(FOOTPRINTS, component.footprint.slice(0, MAX_TEXT))));
  const { description, note, partNumber } = component;
  const texts = [description, component.value, note].flatMap((text) => text?.slice(0, MAX_TEXT) ?? []);
  take('words', strongest(WORDS.weightsIn(texts, partNumber?.slice(0, MAX_TEXT))));
  return hints;
}

/** Whether letters of a designator stand for an inductor first. */
function isInductor(letters: string | undefined): boolean {
  const weights = letters === undefined ? undefined : DESIGNATORS.get(letters);
  return weights?.Inductor !== undefined && weights.Inductor === Math.max(...Object.values(weights));
}

/**
 * What a value with a unit says; a bare code such as 4k7 or 100n says as much. A code with a small prefix and no unit is in farad or in henry,
 * and the class letter says which (L and C of IEEE 315 and of IEC 81346-2).
 */
function valueWeights(text: string, inHenry: boolean): Weights | undefined {
  // A value comes first; later words may be sizes of anything.
  const value = /^\s*(?:\d|[Rpnuµ]\d)/u.test(text)
    ? readComponentValue(text, inHenry ? 'inductance' : undefined)
    : undefined;
  if (!value) return undefined;
  // "600R@100MHz" and "32 MHz 8pF": what comes first in a list of kinds is not what the component is.
  if (value.resistance !== undefined && value.frequency !== undefined) return undefined;
  const kind = value.frequency !== undefined ? 'frequency' : KINDS.find((one) => value[one] !== undefined);
  return kind && VALUE_KINDS.get(kind);
}

function matching(list: readonly (readonly [RegExp, Weights])[], text: string): readonly Weights[] {
  return list.flatMap(([pattern, is]) => (pattern.test(text) ? [is] : []));
}

/** Of several rules of one kind each term keeps its largest weight: they are no independent evidence. */
function strongest(found: readonly (Weights | undefined)[]): Weights {
  const most: Record<string, number> = {};
  for (const terms of found)
    for (const [term, weight] of Object.entries(terms ?? {}))
      most[term] = Math.max(most[term] ?? weight, weight);
  return most;
}

/**
 * A wider term gives its weight to a narrower one that some hint puts level with it or above, as "slide switch" does beside the letters of any
 * button; else the narrower one is but a rarer case of it. A term that only says how a thing is packed gives way to any that tells more.
 */
function withoutWider(
  sums: ReadonlyMap<string, number>,
  hints: readonly Weights[],
): ReadonlyMap<string, number> {
  const terms = [...sums.keys()];
  const isToldBeside = (narrow: string, wide: string) =>
    hints.some((one) => one[narrow] !== undefined && one[narrow] >= (one[wide] ?? 0));
  const giveWay = (wide: string, narrow: string) =>
    narrow !== wide && lineage(narrow).includes(wide) && isToldBeside(narrow, wide);
  const isTold = terms.some((other) => !PACKING.has(other) && (sums.get(other) ?? 0) >= TELLS);
  const isPacking = (term: string) => PACKING.has(term) && isTold;
  const kept = terms.filter((term) => !terms.some((other) => giveWay(term, other)) && !isPacking(term));
  return new Map(
    kept.map((term) => {
      const above = terms.filter((other) => giveWay(other, term));
      return [term, [term, ...above].reduce((sum, one) => sum + (sums.get(one) ?? 0), 0)] as const;
    }),
  );
}

/** Two kinds of hints or more put the term, or one above it, first, and every other kind at least allows it. */
function isAgreed(term: string, hints: ReadonlyMap<HintKind, Weights>): boolean {
  const line = new Set(lineage(term));
  const says = [...hints.values()].map((terms) => {
    const best = Math.max(...Object.values(terms));
    const own = Math.max(
      -Infinity,
      ...Object.entries(terms).flatMap(([one, weight]) => (line.has(one) ? [weight] : [])),
    );
    return own === best ? 'for' : own === -Infinity ? 'against' : 'allows';
  });
  return says.filter((one) => one === 'for').length >= 2 && !says.includes('against');
}
