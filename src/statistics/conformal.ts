import { requireLevel } from './domain.ts';

// The quantile rule of split conformal prediction (Vovk, Gammerman & Shafer, Algorithmic Learning in a Random World, 2005;
// Angelopoulos & Bates, Foundations and Trends in Machine Learning 16, 2023, 494-591), for scores that come in groups.

/** Sums of weights that miss the coverage by rounding alone reach it. */
const ROUNDING = 1e-9;

/**
 * The score under which a new one lies with probability `coverage` or more, when groups are exchangeable and the new score is
 * one, drawn at random, of a further group. Each group counts once, however many scores it has: every score of group k weighs
 * 1 / ((K + 1) N_k), and what is left, 1 / (K + 1), lies at infinity (hierarchical conformal prediction: Lee, Barber &
 * Willett, Distribution-free inference with hierarchical data, arXiv:2306.06342; of groups with one score each this is the
 * ⌈(K + 1) coverage⌉-th smallest, the rule of split conformal prediction). Groups need not be alike inside, nor their scores
 * independent.
 * @param groups scores of each group, higher is stranger; groups without a score count for nothing
 * @returns undefined where so few groups bear out no such coverage: see {@link groupsNeeded}
 * @throws RangeError unless 0 < coverage < 1
 */
export function groupedThreshold(groups: Iterable<readonly number[]>, coverage: number): number | undefined {
  requireLevel(coverage);
  const weighted: { readonly score: number; readonly weight: number }[] = [];
  let count = 0;
  for (const scores of groups) {
    if (scores.length === 0) continue;
    count++;
    for (const score of scores) weighted.push({ score, weight: 1 / scores.length });
  }
  weighted.sort((a, b) => a.score - b.score);
  const wanted = coverage * (count + 1) - ROUNDING;
  let reached = 0;
  for (const { score, weight } of weighted) {
    reached += weight;
    if (reached >= wanted) return score;
  }
  return undefined;
}

/**
 * The fewest groups that bear out a coverage: the smallest K with K / (K + 1) >= coverage, 9 for 0.9 and 19 for 0.95.
 * @throws RangeError unless 0 < coverage < 1
 */
export function groupsNeeded(coverage: number): number {
  requireLevel(coverage);
  return Math.ceil(coverage / (1 - coverage) - ROUNDING);
}
