import { normalTwoSided } from '../statistics/distributions.ts';
import { fixed, significant } from '../text/rounding.ts';
import type { Measured } from './measuring.ts';

/** Whether two numbers are the same within their uncertainties: at 5 % of what chance makes, it is doubtful, at 1 % they disagree. */
export type Verdict = 'agrees' | 'doubtful' | 'disagrees';

/** What was measured against what is on record. */
export interface Agreement {
  /** What was measured less what is recorded; of places their distance. mm. */
  readonly difference: number;
  /** The same in standard uncertainties. */
  readonly inUncertainties: number;
  /** Probability of a difference as large by chance, if there is none. */
  readonly chance: number;
  readonly verdict: Verdict;
  readonly sentence: string;
}

const DOUBTFUL = 0.05;
const DISAGREES = 0.01;

/**
 * A measured number against one on record, which is taken as exact.
 * @param also a further standard uncertainty, of what is systematic
 */
export function agreementOf(measured: Measured, recorded: number, also = 0): Agreement {
  const difference = measured.value - recorded;
  const inUncertainties = Math.abs(difference) / Math.hypot(measured.uncertainty, also);
  return said(difference, inUncertainties, normalTwoSided(inUncertainties));
}

/** A measured place against one on record: by the distance in units of its own uncertainty in that direction (Mahalanobis), chi-square of two. */
export function placeAgreement(
  { x, y, covariance }: { readonly x: Measured; readonly y: Measured; readonly covariance: number },
  recorded: { readonly x: number; readonly y: number },
  also = 0,
): Agreement {
  const [dx, dy] = [x.value - recorded.x, y.value - recorded.y];
  const [xx, yy] = [x.uncertainty ** 2 + also ** 2, y.uncertainty ** 2 + also ** 2];
  const determinant = xx * yy - covariance ** 2;
  const squared = (dx * dx * yy - 2 * dx * dy * covariance + dy * dy * xx) / determinant;
  return said(Math.hypot(dx, dy), Math.sqrt(squared), Math.exp(-squared / 2));
}

function said(difference: number, inUncertainties: number, chance: number): Agreement {
  const verdict = chance < DISAGREES ? 'disagrees' : chance < DOUBTFUL ? 'doubtful' : 'agrees';
  const often =
    chance < 1e-6
      ? 'less than once in a million'
      : chance < 0.1
        ? `once in ${Math.round(significant(1 / chance, 2)).toLocaleString('en')}`
        : undefined;
  return {
    difference,
    inUncertainties,
    chance,
    verdict,
    sentence: `${verdict}: ${fixed(Math.abs(difference), 3)} mm apart, ${fixed(inUncertainties, 1)} standard uncertainties${
      often === undefined ? '' : `; chance alone makes as much ${often}`
    }`,
  };
}
