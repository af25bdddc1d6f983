import { standingFields } from '../classes/looks.ts';
import { classOf, designatorOf, parseDesignator } from '../model/designator.ts';
import type { Component } from '../model/dossier.ts';
import { formatMarking, parseMarking } from '../model/marking.ts';
import { PACKING } from '../model/taxonomy.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { settledPart } from './contributions.ts';

// How often a chip is in no catalogue is learnt from the chips of all other devices whose marking was read: those settled as
// a part are in it, and of any other the marking says how likely it is to be.

/** Probability, before anything was seen of it, that a chip is in no catalogue, to begin with (common practice, no source). */
export const PRIOR_NONE = 0.1;
/** It counts as so many chips. */
const PRIOR_COUNTS = 50;
/**
 * No less, whatever was learnt (chosen, no source): parts come into a catalogue when somebody identifies them, so settled chips
 * tell too little of what is missing.
 */
const MIN_SHARE = 0.05;
/** Markings are told apart by their weight in steps of so much, natural logarithm, up to so many steps either way. */
const STEP = 0.5;
const STEPS = 30;
const ROUNDS = 100;

/** The marked chips of one specimen, as the dossier's own fields have them. */
export interface MarkedChips {
  /** How many are settled as a part of the catalogue. */
  readonly settled: number;
  /** Markings of the others, each in its normal form. */
  readonly open: readonly string[];
}

/** @param isListed whether a part is in the catalogue; a chip settled as another one is in none */
export function markedChipsOf(specimen: OpenedSpecimen, isListed: (part: string) => boolean): MarkedChips {
  let settled = 0;
  const open: string[] = [];
  for (const component of specimen.counted) {
    if (component.marking === undefined || !isChip(component)) continue;
    const { marking } = standingFields(specimen, component);
    if (marking === undefined) continue;
    const part = settledPart(specimen, component.id);
    if (part !== undefined && isListed(part)) settled++;
    else open.push(formatMarking(parseMarking(marking)));
  }
  return { settled, open };
}

/** Meanings of class letters that chips have. */
const CHIPS: ReadonlySet<string | undefined> = new Set([
  'integrated circuit',
  'voltage regulator',
  'module',
  undefined,
]);

/** Whether it may be a chip: what is printed on a resistor or a cell is in no catalogue of parts, and tells nothing of chips. */
function isChip({ id, appears }: Component): boolean {
  if (appears !== undefined) return PACKING.has(appears);
  const letters = parseDesignator(designatorOf(id))?.letters;
  return CHIPS.has(letters === undefined ? undefined : classOf(letters)?.meaning);
}

/** Counts of marked chips: settled ones, and others by the weight of their marking for being in the catalogue. */
export class MarkedCounts {
  settled = 0;
  /** By the number of steps that the weight has, counted from {@link STEPS} below nothing. */
  readonly open: Float64Array = new Float64Array(2 * STEPS + 1);

  /** @param weightOf natural logarithm of P(marking | in the catalogue) / P(marking | in none); undefined where nothing was read */
  add({ settled, open }: MarkedChips, weightOf: (marking: string) => number | undefined, by = 1): void {
    this.settled += by * settled;
    for (const marking of open) {
      const weight = weightOf(marking);
      if (weight === undefined) continue;
      this.open[STEPS + Math.max(-STEPS, Math.min(STEPS, Math.round(weight / STEP)))] += by;
    }
  }

  copy(): MarkedCounts {
    const copy = new MarkedCounts();
    copy.settled = this.settled;
    copy.open.set(this.open);
    return copy;
  }
}

/** The share of chips in no catalogue that makes such counts likeliest (expectation maximisation), with what it began with. */
export function uncataloguedShare({ settled, open }: MarkedCounts): number {
  const whole = open.reduce((sum, count) => sum + count, settled + PRIOR_COUNTS);
  let share = PRIOR_NONE;
  for (let round = 0; round < ROUNDS; round++) {
    let sum = PRIOR_COUNTS * PRIOR_NONE;
    open.forEach((count, at) => {
      if (count > 0) sum += (count * share) / (share + (1 - share) * Math.exp((at - STEPS) * STEP));
    });
    const next = sum / whole;
    if (Math.abs(next - share) < 1e-9) break;
    share = next;
  }
  return Math.max(MIN_SHARE, share);
}
