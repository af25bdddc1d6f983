import type { HabitsWithout } from './habits.ts';
import type { PartTable } from './part-table.ts';
import { PRIOR_NONE } from './uncatalogued-share.ts';

/** What the prior odds rest on besides the uses of each part. */
export interface PriorShares {
  /** Share of chips in no catalogue. */
  readonly uncatalogued: number;
  /** Devices that each part of the catalogue counts as used in before it was seen in any. */
  readonly ahead: number;
}

/** To begin with: half a device a part (common practice, no source: the rule of Jeffreys for two outcomes). */
const AHEAD = 0.5;
const PRIOR_SHARES: PriorShares = { uncatalogued: PRIOR_NONE, ahead: AHEAD };

/**
 * Natural logarithm of each part's prior odds against "none in the catalogue". A part's share of what the catalogue
 * explains follows its use in the rest of the archive, with some use ahead for each part.
 */
export function priorsOf(
  table: PartTable,
  habits: HabitsWithout,
  { uncatalogued, ahead }: PriorShares = PRIOR_SHARES,
): Float64Array {
  const whole = habits.total('part') + ahead * table.parts.length;
  const scale = logOdds(uncatalogued) - Math.log(whole);
  const priors = new Float64Array(table.parts.length).fill(Math.log(ahead) + scale);
  for (const part of habits.values('part').keys()) {
    const number = table.numberOf(part);
    if (number !== undefined) priors[number] = Math.log(habits.count('part', part) + ahead) + scale;
  }
  return priors;
}

/** What is tried for the use ahead: from parts that all devices share to parts that hardly two do. */
const AHEADS = Array.from({ length: 17 }, (_, at) => AHEAD * 2 ** ((at - 4) / 2));
/** How far from the use that it begins with the learnt one may well be, natural logarithm: a factor of e. */
const AHEAD_DEVIATION = 1;

/**
 * The use ahead that foretells best which parts devices have: each use is held against all others (leaving one out), with
 * what it begins with as a log-normal prior. Where devices hardly share parts, a part seen once elsewhere is little likelier
 * than one that was not.
 */
export function learntAhead(table: PartTable, habits: HabitsWithout): number {
  const times = new Map<number, number>();
  for (const part of habits.values('part').keys()) {
    const count = habits.count('part', part);
    if (count > 0) times.set(count, (times.get(count) ?? 0) + 1);
  }
  const total = habits.total('part');
  const scoreOf = (ahead: number) => {
    let score = -((Math.log(ahead / AHEAD) / AHEAD_DEVIATION) ** 2) / 2;
    for (const [count, parts] of times)
      score += parts * count * Math.log((count - 1 + ahead) / (total - 1 + ahead * table.parts.length));
    return score;
  };
  return AHEADS.map((ahead) => ({ ahead, score: scoreOf(ahead) })).reduce((a, b) =>
    b.score > a.score ? b : a,
  ).ahead;
}

/** Natural logarithm of the odds of being in the catalogue. */
function logOdds(uncatalogued: number): number {
  return Math.log((1 - uncatalogued) / uncatalogued);
}

/** Share of each kind of part, by number of the category facet: from the priors of its parts. */
export function kindsOf(table: PartTable, priors: Float64Array): Float64Array {
  const { of, examples } = table.facet('category');
  const shares = new Float64Array(examples.length);
  for (let i = 0; i < priors.length; i++) shares[of[i]] += Math.exp(priors[i]);
  const sum = shares.reduce((total, one) => total + one, 0);
  return shares.map((one) => one / sum);
}
