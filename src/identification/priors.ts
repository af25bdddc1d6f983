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

/** How a kind of parts is used, by number of the category facet. */
interface KindUses {
  /** Uses of its parts in the rest of the archive. */
  uses: number;
  /** How many parts the catalogue has of it. */
  parts: number;
  /** Uses that it counts as before any was seen. */
  readonly kindAhead: number;
}

/**
 * Kinds count as used before any use was seen, the more the more parts of it the catalogue has, by its square root: a long list of
 * something that is never met must not make what is met improbable (chosen, no source).
 */
function kindUses(table: PartTable, habits: HabitsWithout): readonly KindUses[] {
  const { of, examples } = table.facet('category');
  const parts = new Int32Array(examples.length);
  for (const kind of of) parts[kind]++;
  const kinds = Array.from(parts, (count) => ({
    uses: 0,
    parts: count,
    kindAhead: AHEAD * Math.sqrt(count),
  }));
  for (const part of habits.values('part').keys()) {
    const number = table.numberOf(part);
    if (number !== undefined) kinds[of[number]].uses += habits.count('part', part);
  }
  return kinds;
}

/**
 * Natural logarithm of each part's prior odds against "none in the catalogue". The share of a kind follows the use of its parts in
 * the rest of the archive, and within a kind the share of a part its own use, with some use ahead for each kind and part.
 */
export function priorsOf(
  table: PartTable,
  habits: HabitsWithout,
  { uncatalogued, ahead }: PriorShares = PRIOR_SHARES,
): Float64Array {
  const { of } = table.facet('category');
  const kinds = kindUses(table, habits);
  const whole = kinds.reduce((sum, { uses, kindAhead }) => sum + uses + kindAhead, 0);
  const scale = logOdds(uncatalogued) - Math.log(whole);
  const logs = kinds.map(({ uses, parts, kindAhead }) =>
    Math.log((uses + kindAhead) / (uses + ahead * parts)),
  );
  const priors = Float64Array.from(of, (kind) => Math.log(ahead) + logs[kind] + scale);
  for (const part of habits.values('part').keys()) {
    const number = table.numberOf(part);
    if (number !== undefined)
      priors[number] = Math.log(habits.count('part', part) + ahead) + logs[of[number]] + scale;
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
  const { of } = table.facet('category');
  const kinds = kindUses(table, habits);
  const used = [...habits.values('part').keys()].flatMap((part) => {
    const [number, count] = [table.numberOf(part), habits.count('part', part)];
    return number !== undefined && count > 0 ? [{ count, kind: kinds[of[number]] }] : [];
  });
  const scoreOf = (ahead: number) => {
    let score = -((Math.log(ahead / AHEAD) / AHEAD_DEVIATION) ** 2) / 2;
    for (const { count, kind } of used)
      score += count * Math.log((count - 1 + ahead) / (kind.uses - 1 + ahead * kind.parts));
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
