import { byName, type ChipOdds, type ClassOdds } from '../classes/class-odds.ts';
import { CLUE_BUSES, CLUES, type LogNormal, nameOfClue } from '../classes/class-table.ts';
import { cautionsFor, hazardsOfStep } from '../model/cautions.ts';
import { normalTwoSided } from '../statistics/distributions.ts';
import { expectedGainBits } from './information.ts';
import { clueInWords } from './kinds.ts';
import { BENCH_METHODS, type BenchMethod } from './methods.ts';
import { type NextObservation, spread, stillOpen } from './next-observation.ts';
import type { Sighting } from './sighting.ts';

// What would settle which class a chip is of: each method modelled by what it would show of each class, by the table of what joins
// what and by usual sizes. Parts are asked about in next-observation.ts.

/** A step at the bench, and what it would tell of the class. */
export interface ClassObservation extends NextObservation {
  /** What would speak for which class, in words; undefined where the step shows it by itself. */
  readonly tells: string | undefined;
}

/** How often a look at die, marking or package shows what kind of chip it is, where it succeeds at all. */
const SHOWN_RIGHT = 0.95;
const SOMETHING_ELSE = 'something else';
/** Steps listed. */
const STEPS = 8;
/** Clues named for each of the two likeliest names. */
const CLUES_SAID = 2;
/** A clue is worth a word where it is this many times likelier under one name than under the other. */
const TELLING = 2;

/** Steps by bits a minute; none where nothing is open between classes. */
export function classObservations(sighting: Sighting, odds: ChipOdds): readonly ClassObservation[] {
  const named = byName(odds.classes);
  const prior = named.map(({ probability }) => probability);
  const rest = Math.max(0, 1 - prior.reduce((sum, one) => sum + one, 0));
  if (named.length === 0) return [];
  return BENCH_METHODS.filter((method) => stillOpen(method, sighting))
    .map((method): ClassObservation => {
      const shown = [...named, undefined].map((one) =>
        spread(
          method,
          shownBy(
            method,
            one?.kinds,
            one?.is,
            named.map(({ is }) => is),
            odds,
          ),
        ),
      );
      const gainBits = expectedGainBits([...prior, rest], shown);
      return {
        component: sighting.component,
        method,
        action: method.name,
        pin: undefined,
        gainBits,
        bitsPerMinute: gainBits / method.minutes,
        cautions: cautionsFor(hazardsOfStep(method)),
        tells: method.reads === 'trace' || method.reads === 'probe' ? telling(method, odds) : undefined,
      };
    })
    .filter(({ gainBits }) => gainBits > 1e-3)
    .sort((a, b) => b.bitsPerMinute - a.bitsPerMinute || (a.method.id < b.method.id ? -1 : 1))
    .slice(0, STEPS);
}

/** What a method that succeeds would show of the kinds of one name; undefined: of none of them. */
function shownBy(
  { reads }: BenchMethod,
  kinds: readonly ClassOdds[] | undefined,
  is: string | undefined,
  names: readonly string[],
  odds: ChipOdds,
): ReadonlyMap<string, number> {
  switch (reads) {
    case 'pin-count':
      return mixed(kinds, odds, (one) => binned(one.row?.pins));
    case 'body-size':
      return mixed(kinds, odds, (one) => binned(one.row?.body));
    case 'package':
      return mixed(kinds, odds, (one) => binned(one.row?.pins));
    case 'trace':
      return mixed(kinds, odds, (one) => cluesOf(one, odds, 'line'));
    case 'probe':
      return mixed(kinds, odds, (one) => cluesOf(one, odds, 'bus'));
    default: {
      const others = [...names, SOMETHING_ELSE].filter((one) => one !== (is ?? SOMETHING_ELSE));
      return new Map([
        [is ?? SOMETHING_ELSE, SHOWN_RIGHT],
        ...others.map((one) => [one, (1 - SHOWN_RIGHT) / others.length] as const),
      ]);
    }
  }
}

/** Kinds of one name mixed by their odds; none of them: as all kinds together. */
function mixed(
  kinds: readonly ClassOdds[] | undefined,
  { classes }: ChipOdds,
  shows: (one: ClassOdds) => ReadonlyMap<string, number>,
): ReadonlyMap<string, number> {
  const of = kinds ?? classes;
  const whole = of.reduce((sum, { probability }) => sum + probability, 0);
  const sum = new Map<string, number>();
  for (const one of of)
    for (const [outcome, p] of shows(one))
      sum.set(outcome, (sum.get(outcome) ?? 0) + (p * one.probability) / whole);
  return sum;
}

/** Steps of a factor of 1.5, up to 300. */
const EDGES = Array.from({ length: 15 }, (_, at) => Math.log(1.5) * at);

function normalBelow(z: number): number {
  const tail = normalTwoSided(z) / 2;
  return z < 0 ? tail : 1 - tail;
}

function binned(size: LogNormal | undefined): ReadonlyMap<string, number> {
  if (!size) return new Map([['unknown', 1]]);
  const below = EDGES.map((edge) => normalBelow((edge - size.mean) / size.deviation));
  const cuts = [0, ...below, 1];
  return new Map(cuts.slice(1).map((cut, at) => [String(at), cut - cuts[at]]));
}

/** What the next trace, or a probe, meets of what is not known yet: by how often such chips have it. */
function cluesOf(
  { row }: ClassOdds,
  { clues, model }: ChipOdds,
  kind: 'line' | 'bus',
): ReadonlyMap<string, number> {
  if (!row) return new Map([['unknown', 1]]);
  const open = CLUES.flatMap((clue, at) =>
    clue.kind === kind && clues.has[at] < 0.5
      ? [[nameOfClue(clue), model.probabilityOf(row, at)] as const]
      : [],
  );
  const whole = open.reduce((sum, [, p]) => sum + p, kind === 'bus' ? BUSES_UNKNOWN : 0);
  if (whole === 0) return new Map([['unknown', 1]]);
  return new Map([
    ...open.map(([clue, p]) => [clue, p / whole] as const),
    ...(kind === 'bus' ? [['no bus', BUSES_UNKNOWN / whole] as const] : []),
  ]);
}

/** A probed line that is no bus counts as much as this share of a bus. */
const BUSES_UNKNOWN = 1 / CLUE_BUSES.length;

/** What would speak for the likeliest name and what for the next. */
function telling({ reads }: BenchMethod, { classes, clues, model }: ChipOdds): string | undefined {
  const [first, second] = byName(classes);
  if (!second) return undefined;
  const kind = reads === 'trace' ? 'line' : 'bus';
  const chance = (kinds: readonly ClassOdds[], at: number) =>
    kinds.reduce(
      (sum, { row, probability }) => sum + (row ? probability * model.probabilityOf(row, at) : 0),
      0,
    ) / kinds.reduce((sum, { probability }) => sum + probability, 0);
  const open = CLUES.flatMap((clue, at) =>
    clue.kind === kind && clues.has[at] < 0.5
      ? [{ clue, one: chance(first.kinds, at), other: chance(second.kinds, at) }]
      : [],
  );
  const speakFor = (is: string, of: 'one' | 'other', against: 'one' | 'other') => {
    const said = open
      .filter((each) => each[of] >= 0.1 && each[of] >= TELLING * each[against])
      .sort((a, b) => b[of] - b[against] - (a[of] - a[against]))
      .slice(0, CLUES_SAID)
      .map(({ clue }) => clueInWords(clue));
    return said.length === 0 ? [] : [`${said.join(' or ')}: ${is}`];
  };
  const words = [...speakFor(first.is, 'one', 'other'), ...speakFor(second.is, 'other', 'one')];
  return words.length === 0 ? undefined : words.join('; ');
}
