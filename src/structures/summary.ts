import { findPattern } from '../patterns/find.ts';
import type { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { wilson } from '../statistics/proportion.ts';
import { type Random, seededRandom } from '../statistics/random.ts';
import { tidy } from '../statistics/tidy.ts';
import type { FoundStructure, KnownAs, Structure, StructureAnswer, YearTrend } from './answer.ts';
import { ChanceModel } from './chance.ts';
import type { Circuits } from './circuits.ts';
import { gqlText, structureText } from './gql-text.ts';
import { knownAs } from './known-as.ts';
import type { Mined } from './miner.ts';
import { type Chosen, type Ranked, ranked, withoutVariants } from './ranking.ts';
import type { Settled } from './settled.ts';
import { yearTrends } from './years.ts';

/** Where only unwritten ones are wanted, so many are looked at for each one given, and in all at least. */
const LOOKED_AT_FOR_UNWRITTEN = 4;
const LEAST_LOOKED_AT = 24;
/** Shuffles start from the same numbers each time, so that an answer repeats. */
const SEED = 20_260_101;

/** What the summary of structures is made from. */
export interface SummaryContext {
  readonly state: State;
  readonly circuits: Circuits;
  readonly settled: Settled;
  readonly pace: Pace;
  readonly signal: AbortSignal | undefined;
  /** Called with the share that is done, 0 to 1. */
  readonly onProgress: (fraction: number) => void;
}

/** The answer: those structures that come first, with what is known of each. */
export async function summarise(
  context: SummaryContext,
  found: readonly Mined[],
  complete: boolean,
): Promise<StructureAnswer> {
  const { circuits, settled, pace, onProgress } = context;
  const { devices, store } = circuits;
  const trends = yearTrends(
    devices,
    found.map(({ groups }) => groups),
  );
  const chances = new ChanceModel(store, devices.length);
  const all = ranked(await roughlyRanked(context, found, trends, chances), settled);
  onProgress(0.2);
  const { variants, ...picked } = await chosenOf(context, all);
  onProgress(0.5);
  const random = seededRandom(SEED);
  const judged = [];
  for (const one of picked.chosen) {
    const chance = chances.of(one.mined, one.mined.groups.length, streamOf(random, one.mined));
    judged.push({ ...one, lift: chance.lift ?? Infinity, chance });
    if (pace.due) await pace.rest();
  }
  let whole = picked.complete;
  const structures: FoundStructure[] = [];
  for (const { mined, chance, at, known } of ranked(judged, settled)) {
    onProgress(0.5 + structures.length / judged.length / 2);
    const { searched, ...seen } = await devicesWith(context, mined);
    whole &&= searched;
    structures.push({
      ...seen,
      chance,
      year: trends[at],
      knownAs: known,
      variants: variants.get(at) ?? 0,
      growsFurther: mined.growsFurther,
    });
  }
  return {
    structures,
    found: found.length,
    devices: devices.length,
    minSupport: settled.minSupport,
    relations: settled.relations,
    complete: complete && whole,
    cautions: cautionsOf(devices.length, complete, whole, structures),
  };
}

/** Every structure with what decides its place; chance without shuffling, which takes too long for all. */
async function roughlyRanked(
  { settled: { order }, pace }: SummaryContext,
  found: readonly Mined[],
  trends: readonly (YearTrend | null)[],
  chances: ChanceModel,
): Promise<readonly Ranked[]> {
  const all: Ranked[] = [];
  for (const [at, mined] of found.entries()) {
    const byLift = order === 'surprise' || order === 'lift';
    const lift = byLift ? chances.roughLift(mined, mined.groups.length) : 1;
    all.push({ mined, lift, q: trends[at]?.q ?? 1, at });
    if (pace.due) await pace.rest();
  }
  return all;
}

/** The structures to report, with the named patterns that describe them. */
async function chosenOf({ state, circuits, settled, pace, signal }: SummaryContext, all: readonly Ranked[]) {
  const { first, unwritten, variants: keepAll } = settled;
  const wanted = unwritten ? Math.max(LEAST_LOOKED_AT, first * LOOKED_AT_FOR_UNWRITTEN) : first;
  const { chosen, variants } = await withoutVariants(circuits, all, wanted, keepAll, pace);
  const places = chosen.map((one) => one.places);
  const { known, complete } = await knownAs(state, circuits, places, pace, signal);
  const chosenWithKnown = chosen.map((one, at): Chosen & { readonly known: readonly KnownAs[] } => ({
    ...one,
    known: known[at],
  }));
  const kept = unwritten ? chosenWithKnown.filter((one) => one.known.length === 0) : chosenWithKnown;
  return { chosen: kept.slice(0, first), variants, complete };
}

/** A structure and where it is found. */
async function devicesWith({ state, circuits, settled, signal }: SummaryContext, mined: Mined) {
  const { devices } = circuits;
  const structure = structureOf(circuits, mined);
  const text = gqlText(structure, settled);
  const support = mined.groups.length;
  const { devices: possible, complete } = await findPattern(state, { text, signal });
  // An aborted search returns what it had; that must not pass for everything.
  signal?.throwIfAborted();
  return {
    ...structure,
    words: structureText(structure),
    text,
    devices: [...mined.groups].map((group) => devices[group]),
    support,
    share: support / devices.length,
    shareInterval: wilson(support, devices.length),
    possible: possible.length,
    expected: tidy(possible.reduce((sum, { probability }) => sum + probability, 0)),
    searched: complete,
  };
}

/** Numbers of its own for each structure, so that what else was found changes nothing. */
function streamOf(random: Random, { labels, edges }: Mined): Random {
  return random.stream(JSON.stringify([labels, edges]));
}

function structureOf({ kinds, links }: Circuits, { labels, edges }: Mined): Structure {
  return {
    kinds: labels.map((label) => kinds[label]),
    links: edges.map(({ from, to, link }) => {
      const { isReversed, ...label } = links[link];
      return isReversed ? { from: to, to: from, ...label } : { from, to, ...label };
    }),
  };
}

function cautionsOf(
  devices: number,
  complete: boolean,
  whole: boolean,
  structures: readonly FoundStructure[],
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
  if (!complete)
    cautions.unshift(
      'The search was ended early, for there was no time left or too much was found: structures may be missing. Ask for more devices or fewer components.',
    );
  if (structures.some(({ growsFurther }) => growsFurther))
    cautions.push(
      'Some structures are parts of larger ones with the same devices; allow more components to see these.',
    );
  return cautions;
}
