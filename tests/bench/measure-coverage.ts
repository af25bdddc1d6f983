import type { SetCalibration } from '../../src/identification/conformal.ts';
import { partIdOf } from '../../src/model/catalogue.ts';
import type { State } from '../../src/state/state.ts';
import type { Truth } from './habits/world.ts';

/** How often candidate sets hold what chips really are. */
export interface MeasuredCoverage {
  readonly coverage: number;
  readonly devices: number;
  readonly chips: number;
  /** Mean over devices of the share of their chips whose set holds the truth: what is guaranteed. */
  readonly held: number;
  /** Standard error of that mean. */
  readonly error: number;
  /** The same over chips whose part the catalogue has, and over the others, each chip counted once. */
  readonly heldListed: number;
  readonly heldAbsent: number;
  readonly meanSize: number;
  readonly medianSize: number;
  /** Share of sets with "none in the catalogue". */
  readonly withNone: number;
  readonly void: number;
}

/** Asks for the set of every chip of a world whose truth is known. */
export function measureCoverage(
  view: State,
  sets: SetCalibration,
  truth: ReadonlyMap<string, Truth>,
  coverage: number,
): MeasuredCoverage {
  const shares: number[] = [];
  const sizes: number[] = [];
  const held = { listed: [0, 0], absent: [0, 0] };
  let withNone = 0;
  let empty = 0;
  for (const row of view.specimenRows()) {
    const specimen = view.specimen(row.id);
    const device = view.device(row.deviceId);
    if (!specimen || !device) continue;
    let [chips, right] = [0, 0];
    for (const component of specimen.counted) {
      const known = truth.get(`${row.id}/${component.id}`);
      if (!known) continue;
      const set = sets.setOf(specimen, component, device, coverage);
      if (set.void !== undefined) {
        empty++;
        continue;
      }
      const isHeld = known.catalogued
        ? set.parts.some(({ part }) => partIdOf(part) === known.part)
        : set.none;
      const of = known.catalogued ? held.listed : held.absent;
      of[0] += Number(isHeld);
      of[1]++;
      chips++;
      right += Number(isHeld);
      sizes.push(set.size);
      withNone += Number(set.none);
    }
    if (chips > 0) shares.push(right / chips);
  }
  sizes.sort((a, b) => a - b);
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
  const middle = mean(shares);
  const spread = mean(shares.map((share) => (share - middle) ** 2));
  return {
    coverage,
    devices: shares.length,
    chips: sizes.length,
    held: middle,
    error: Math.sqrt(spread / Math.max(1, shares.length - 1)),
    heldListed: held.listed[0] / held.listed[1],
    heldAbsent: held.absent[0] / held.absent[1],
    meanSize: mean(sizes),
    medianSize: sizes[Math.floor(sizes.length / 2)],
    withNone: withNone / sizes.length,
    void: empty,
  };
}
