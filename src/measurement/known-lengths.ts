import { fixed } from '../text/rounding.ts';
import { type Agreement, agreementOf } from './agreement.ts';
import type { MeasurablePhoto, Spot } from './measure.ts';
import { COVERAGE, type Measured, withInterval } from './measuring.ts';

/** A length to be measured, with what it is where somebody knows. */
export interface AskedLength {
  readonly from: Spot;
  readonly to: Spot;
  /** Measured with a ruler or caliper, mm. */
  readonly is?: number | undefined;
  /** Standard uncertainty of that, mm. @default 0 */
  readonly within?: number | undefined;
}

export interface FoundLength {
  readonly measured: Measured;
  /** Where it is known. */
  readonly known: number | undefined;
  readonly agreement: Agreement | undefined;
}

/** Lengths that came out against what they are known to be, in one number. */
export interface ScaleCheck {
  /** Number of known lengths. */
  readonly lengths: number;
  /** Number of them whose 95 % interval holds what they are known to be. */
  readonly inside: number;
  /** By how much lengths come out too long, percent; below 0 too short. */
  readonly percent: Measured;
  readonly isOff: boolean;
  /** The same of lengths along x and along y of the board alone; undefined where none runs so. */
  readonly along: Measured | undefined;
  readonly across: Measured | undefined;
  /** Whether these two differ by more than errors explain. */
  readonly isUneven: boolean;
  readonly sentence: string;
}

/** Directions within so many degrees of an axis of the board count as along it. */
const ALONG = Math.cos((20 * Math.PI) / 180);

/** @throws CasebackError BAD_INPUT for places beyond the horizon */
export function lengthsOf(
  photo: MeasurablePhoto,
  asked: readonly AskedLength[],
): { readonly lengths: readonly FoundLength[]; readonly scale: ScaleCheck | undefined } {
  const lengths = asked.map(({ from, to, is, within = 0 }): FoundLength => {
    const measured = photo.length(from, to);
    return {
      measured,
      known: is,
      agreement: is === undefined ? undefined : agreementOf(measured, is, within),
    };
  });
  const known = asked.filter(({ is }) => is !== undefined);
  if (known.length === 0) return { lengths, scale: undefined };
  const vectors = known.map(({ from, to }) => {
    const [a, b] = [photo.onBoard(from), photo.onBoard(to)];
    return [b[0] - a[0], b[1] - a[1]] as const;
  });
  const lies = (axis: 0 | 1) => vectors.map((one) => Math.abs(one[axis]) >= ALONG * Math.hypot(...one));
  const all = scaleOf(photo, known);
  const of = (flags: readonly boolean[]) =>
    flags.some(Boolean) && !flags.every(Boolean)
      ? scaleOf(
          photo,
          known.filter((_, i) => flags[i]),
        )
      : undefined;
  const [along, across] = [of(lies(0)), of(lies(1))];
  const scale = {
    lengths: known.length,
    inside: lengths.filter(({ agreement }) => agreement && agreement.verdict === 'agrees').length,
    percent: all,
    isOff: all.low > 0 || all.high < 0,
    along,
    across,
    isUneven:
      along !== undefined &&
      across !== undefined &&
      Math.abs(along.value - across.value) > COVERAGE * Math.hypot(along.uncertainty, across.uncertainty),
  };
  return { lengths, scale: { ...scale, sentence: sentenceOf(scale) } };
}

function sentenceOf({
  lengths,
  inside,
  percent,
  isOff,
  along,
  across,
  isUneven,
}: Omit<ScaleCheck, 'sentence'>): string {
  const counted = `${inside} of ${lengths === 1 ? '1 known length' : `${lengths} known lengths`} come${
    inside === 1 ? 's' : ''
  } out within the stated error`;
  const [least, most] = [percent.low, percent.high].map(Math.abs).toSorted((a, b) => a - b);
  const told = isOff
    ? `lengths come out ${fixed(Math.abs(percent.value), 2)} % too ${percent.value > 0 ? 'long' : 'short'} (${fixed(least, 2)} to ${fixed(most, 2)} %): a target printed at ${fixed(100 / (1 + percent.value / 100), 1)} % of its size does that`
    : `no error of scale is seen (${fixed(percent.low, 2)} to ${fixed(percent.high, 2)} %)`;
  const uneven =
    isUneven && along && across
      ? `; along x and along y of the board it differs (${fixed(along.value, 2)} % and ${fixed(across.value, 2)} %), as where a printer feeds paper unevenly`
      : '';
  return `${counted}; ${told}${uneven}.`;
}

/** The mean of measured over known less 1, each counting by how sure it is; that they hang on one fit goes into its uncertainty. */
function scaleOf(photo: MeasurablePhoto, known: readonly AskedLength[]): Measured {
  const { values, covariance } = photo.lengths(known);
  const truth = known.map(({ is = 1 }) => is);
  const relative = (i: number, j: number) =>
    (covariance[i][j] + (i === j ? (known[i].within ?? 0) ** 2 : 0)) / (truth[i] * truth[j]);
  const weights = known.map((_, i) => 1 / relative(i, i));
  const sum = weights.reduce((total, one) => total + one, 0);
  let [mean, variance] = [0, 0];
  weights.forEach((weight, i) => {
    mean += (weight / sum) * (values[i] / truth[i] - 1);
    weights.forEach((other, j) => {
      variance += ((weight * other) / sum ** 2) * relative(i, j);
    });
  });
  return withInterval(100 * mean, 100 * Math.sqrt(variance));
}
