import type { Live } from '../graph/live.ts';
import type { View } from '../graph/view.ts';
import { CasebackError } from '../model/problems.ts';
import { isUnder, TERMS } from '../model/taxonomy.ts';
import { findPattern } from '../patterns/find.ts';
import { wilson } from '../statistics/proportion.ts';
import { type Random, seededRandom } from '../statistics/random.ts';
import { didYouMean } from '../text/near.ts';
import { groundOf } from '../trends/ground.ts';
import type { Chance, RecurringAnswer, RecurringQuestion, RecurringStructure, Structure } from './answer.ts';
import { ChanceModel } from './chance.ts';
import { type Circuits, circuitsOf } from './circuits.ts';
import { gqlText, inWords } from './gqlText.ts';
import { knownAs } from './knownAs.ts';
import { type Mined, Miner } from './miner.ts';
import { Pace } from './pace.ts';
import { isVariant, PlaceFinder, type Places } from './places.ts';
import { yearTrends } from './years.ts';

/** Components that a structure may have at most. */
export const MOST_COMPONENTS = 8;
/** Structures given at most. */
export const MOST_GIVEN = 200;
/** Structures looked at for each one given; the others are variants of these. */
const LOOKED_AT = 40;
/** Answers kept; one holds a few hundred structures. */
const KEPT = 8;
/** Shuffles start from the same numbers each time, so that an answer repeats. */
const SEED = 20_260_101;

export interface RecurringOptions {
  readonly signal?: AbortSignal;
  /** Milliseconds for the search; what was found until then is answered. @default no limit */
  readonly budget?: number;
  /** Ends the search as the budget does, when aborted: what was found until then is answered. */
  readonly enough?: AbortSignal;
  /** Told the share of the search that is done, 0 to 1. */
  readonly onProgress?: (fraction: number) => void;
}

/** A question with nothing left open. */
type Settled = Required<Omit<RecurringQuestion, 'level'>> & Pick<RecurringQuestion, 'level'>;

/**
 * Structures of components and connections that recur over the visible devices, closed ones only, with what chance and
 * the years have to do with them: how an editor finds the piece that nobody has written.
 * @throws CasebackError BAD_INPUT for a question that makes no sense; the signal's reason when aborted
 */
export async function recurringStructures(
  view: View,
  question: RecurringQuestion = {},
  { signal, budget, enough, onProgress }: RecurringOptions = {},
): Promise<RecurringAnswer> {
  const settled = settledOf(view, question);
  const kept = view.derived(keptAnswers);
  const key = JSON.stringify([groundOf(view).number, settled]);
  const known = kept.get(key);
  if (known) return known;
  const pace = new Pace(signal, budget);
  const circuits = await circuitsOf(view, settled, pace);
  const { found, complete } = await mined(circuits, settled, pace, enough, onProgress);
  const answer = await told(view, circuits, settled, found, complete, pace, signal);
  if (answer.complete) {
    kept.set(key, answer);
    for (const oldest of kept.keys()) {
      if (kept.size <= KEPT) break;
      kept.delete(oldest);
    }
  }
  return answer;
}

const keptAnswers = (_: Live) => new Map<string, RecurringAnswer>();

async function mined(
  { store, kinds }: Circuits,
  { minSupport, minSize, maxSize }: Settled,
  pace: Pace,
  enough: AbortSignal | undefined,
  onProgress: RecurringOptions['onProgress'],
): Promise<{ readonly found: readonly Mined[]; readonly complete: boolean }> {
  const narrower = narrowerTable(kinds);
  const miner = new Miner(store, {
    minSupport,
    minSize,
    maxSize,
    isNarrower: (label, than) => narrower[label * kinds.length + than] === 1,
  });
  while (miner.step()) {
    if (!pace.due) continue;
    onProgress?.(miner.fraction);
    await pace.rest();
    if (pace.over || enough?.aborted) break;
  }
  onProgress?.(miner.fraction);
  return { found: miner.found, complete: miner.fraction === 1 };
}

function narrowerTable(kinds: readonly string[]): Uint8Array {
  const table = new Uint8Array(kinds.length ** 2);
  kinds.forEach((kind, a) => {
    kinds.forEach((above, b) => {
      if (kind !== above && isUnder(kind, above)) table[a * kinds.length + b] = 1;
    });
  });
  return table;
}

async function told(
  view: View,
  circuits: Circuits,
  settled: Settled,
  found: readonly Mined[],
  complete: boolean,
  pace: Pace,
  signal: AbortSignal | undefined,
): Promise<RecurringAnswer> {
  const { devices } = circuits;
  const trends = yearTrends(
    devices,
    found.map(({ groups }) => groups),
  );
  const chances = new ChanceModel(circuits.store, devices.length);
  const all: Ranked[] = [];
  for (const [at, one] of found.entries()) {
    const support = one.groups.length;
    const lift =
      settled.order === 'support' || settled.order === 'year' ? 1 : chances.roughLift(one, support);
    all.push({ mined: one, lift, q: trends[at]?.q ?? 1, at });
    if (pace.due) await pace.rest();
  }
  const { chosen, variants } = await withoutVariants(circuits, ranked(all, settled), settled, pace);
  const random = seededRandom(SEED);
  const judged: (Chosen & { readonly chance: Chance })[] = [];
  for (const one of chosen) {
    const chance = chances.of(one.mined, one.mined.groups.length, streamOf(random, one.mined));
    judged.push({ ...one, lift: chance.lift ?? Infinity, chance });
    if (pace.due) await pace.rest();
  }
  const inOrder = ranked(judged, settled);
  const { known, complete: knownWhole } = await knownAs(
    view,
    circuits,
    inOrder.map(({ places }) => places),
    pace,
    signal,
  );
  let whole = knownWhole;
  const structures: RecurringStructure[] = [];
  for (const [place, { mined: one, chance, at }] of inOrder.entries()) {
    const structure = structureOf(circuits, one);
    const text = gqlText(structure, settled.links);
    const support = one.groups.length;
    const { devices: possible, complete: searched } = await findPattern(view, { text, signal });
    signal?.throwIfAborted();
    whole &&= searched;
    structures.push({
      ...structure,
      words: inWords(structure),
      text,
      devices: [...one.groups].map((group) => devices[group]),
      support,
      share: support / devices.length,
      shareInterval: wilson(support, devices.length),
      possible: possible.length,
      expected: tidy(possible.reduce((sum, { probability }) => sum + probability, 0)),
      chance,
      year: trends[at],
      knownAs: known[place],
      variants: variants.get(at) ?? 0,
      growsFurther: one.growsFurther,
    });
  }
  return {
    structures,
    found: found.length,
    devices: devices.length,
    minSupport: settled.minSupport,
    complete: complete && whole,
    cautions: cautionsOf(devices.length, complete, whole, structures),
  };
}

interface Ranked {
  readonly mined: Mined;
  readonly lift: number;
  readonly q: number;
  /** Place among all that were found. */
  readonly at: number;
}

interface Chosen extends Ranked {
  readonly places: Places;
}

/** The first ones that are no variants of one before them, and for these the number of their variants. */
async function withoutVariants(
  { store }: Circuits,
  all: readonly Ranked[],
  { first, variants: keepAll }: Settled,
  pace: Pace,
): Promise<{ readonly chosen: readonly Chosen[]; readonly variants: ReadonlyMap<number, number> }> {
  const finder = new PlaceFinder(store);
  const chosen: Chosen[] = [];
  const variants = new Map<number, number>();
  for (const one of all.slice(0, first * LOOKED_AT)) {
    if (chosen.length === first) break;
    const places = finder.of(one.mined);
    const like = keepAll ? undefined : chosen.find((other) => isVariant(places, other.places));
    if (like) variants.set(like.at, (variants.get(like.at) ?? 0) + 1);
    else chosen.push({ ...one, places });
    if (pace.due) await pace.rest();
  }
  return { chosen, variants };
}

function ranked<T extends Ranked>(all: readonly T[], { order }: Settled): readonly T[] {
  const score = ({ mined: { groups, edges }, lift, q }: T): number => {
    switch (order) {
      case 'surprise':
        return groups.length * Math.log(Math.min(lift, 1e9));
      case 'lift':
        return Math.min(lift, 1e9);
      case 'support':
        return groups.length + edges.length / 1_000;
      case 'year':
        return -q;
      default:
        return order satisfies never;
    }
  };
  return all
    .map((one) => ({ one, score: score(one) }))
    .sort((a, b) => b.score - a.score || a.one.at - b.one.at)
    .map(({ one }) => one);
}

/** Numbers of its own for each structure, so that what else was found changes nothing. */
function streamOf(random: Random, { labels, edges }: Mined): Random {
  return random.stream(JSON.stringify([labels, edges]));
}

function structureOf({ kinds, links }: Circuits, { labels, edges }: Mined): Structure {
  return {
    kinds: labels.map((label) => kinds[label]),
    links: edges.map(({ from, to, link }) => ({ from, to, ...links[link] })),
  };
}

function tidy(value: number): number {
  return Number(value.toFixed(9));
}

function cautionsOf(
  devices: number,
  complete: boolean,
  whole: boolean,
  structures: readonly RecurringStructure[],
): readonly string[] {
  const cautions = [
    `These are the ${devices} devices that were opened and looked into, not the market.`,
    'Chance is a model: every kind of link spread over devices by itself, links of a device joining any components of the right kinds. Devices of one product line are not independent, so that intervals are narrower than they should be.',
  ];
  if (!whole) {
    cautions.unshift(
      'A pattern takes more work than is allowed at once: possible devices and named patterns may be too few.',
    );
  }
  if (!complete) cautions.unshift('The search was ended early: structures may be missing.');
  if (structures.some(({ growsFurther }) => growsFurther))
    cautions.push(
      'Some structures are parts of larger ones with the same devices; allow more components to see these.',
    );
  return cautions;
}

/** @throws CasebackError BAD_INPUT */
function settledOf(view: View, question: RecurringQuestion): Settled {
  const looked = groundOf(view).lookedInto.size;
  const { minSupport = Math.max(3, Math.ceil(looked / 10)), maxSize = Math.max(4, question.minSize ?? 0) } =
    question;
  const { minSize = Math.min(3, maxSize), first = 20, level } = question;
  const { without = ['Passive'], links = 'bus', boards = false } = question;
  checkWhole('minSupport', minSupport, 2, 1e9);
  checkWhole('maxSize', maxSize, 2, MOST_COMPONENTS);
  checkWhole('minSize', minSize, 2, maxSize);
  checkWhole('first', first, 1, MOST_GIVEN);
  if (level !== undefined) checkWhole('level', level, 1, 5);
  for (const term of without) {
    if (TERMS.includes(term)) continue;
    const mend = didYouMean(term, TERMS);
    throw new CasebackError(
      'BAD_INPUT',
      `"${term}" is no term of the component taxonomy${mend ? `; ${mend}` : ''}`,
    );
  }
  return {
    minSupport,
    minSize,
    maxSize,
    without: [...new Set(without)].sort(),
    links,
    boards,
    first,
    order: question.order ?? 'surprise',
    variants: question.variants ?? false,
    ...(level === undefined ? {} : { level }),
  };
}

function checkWhole(name: string, value: number, least: number, most: number): void {
  if (Number.isInteger(value) && value >= least && value <= most) return;
  throw new CasebackError(
    'BAD_INPUT',
    `${name} is ${value}; it must be a whole number from ${least} to ${most}`,
  );
}
