import { partIdOf } from '../model/catalogue.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { seededRandom } from '../statistics/random.ts';
import {
  brierScore,
  type Forecast,
  logLoss,
  type ReliabilityBin,
  reliability,
  reliabilityFrom,
} from '../statistics/scores.ts';
import { settledPart } from './contributions.ts';
import { dealt, without } from './held-out.ts';
import type { Identifier } from './identifier.ts';
import type { Posterior } from './posterior.ts';

/** What was stated against what is true. */
export interface Trust {
  /** Components that were asked about. */
  readonly components: number;
  /** Devices that they belong to. */
  readonly devices: number;
  /** Of these components, those whose part the catalogue does not have. */
  readonly absent: number;
  /** Mean Brier score over all stated probabilities: lower is better. */
  readonly brier: number;
  /** Mean log loss over all stated probabilities, nats. */
  readonly logLoss: number;
  /** Share whose true part was the likeliest candidate. */
  readonly first: number;
  /** Share whose true part was among the three likeliest. */
  readonly firstThree: number;
  /** Stated against observed, in tenths. */
  readonly reliability: readonly ReliabilityBin[];
  /** The same of what was stated at 0.99 or more, and at 0.999 or more. */
  readonly nearlyCertain: readonly ReliabilityBin[];
}

/** How far the stated probabilities can be trusted: what was stated against what was settled. */
export interface Calibration extends Trust {
  /** Components that might have been: more than `components` where a sample was drawn. */
  readonly settled: number;
}

/** The same with parts taken out of the catalogue. */
export interface CalibrationWithoutParts extends Calibration {
  /** Parts that were taken out, an eighth of the catalogue at a time. */
  readonly parts: number;
}

export interface CalibrationOptions {
  /** Work out no more than so many components, drawn at random. @default all */
  readonly sample?: number | undefined;
  /** Whole number from 0 to 4294967295 that decides the draw, and which parts are taken out together. @default 1 */
  readonly seed?: number | undefined;
  /**
   * Which part a component really is, an id that the catalogue lacks for a part that it does not have; for archives
   * whose truth is known apart from their identifications. @default the settled identification
   */
  readonly truth?: ((specimen: string, component: string) => string | undefined) | undefined;
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
  readonly signal?: AbortSignal | undefined;
}

/** The three likeliest candidates are what an editor is shown; their probabilities are scored. */
const SHOWN = 3;
/** Parts are taken out of the catalogue an eighth at a time: about as many as are missing from one anyway. */
const GROUPS_OF_PARTS = 8;

/** A component whose part is known. */
export interface Settled {
  readonly row: SpecimenRow;
  readonly component: string;
  readonly truth: string;
}

/**
 * Hides each identification known to be right, one at a time with its whole device (so that it teaches nothing of
 * itself), works out the posterior, and scores what it stated. What is settled is a part of the catalogue, so "none in
 * the catalogue" cannot come true among settled components: it is left out and the others are scaled to 1. Where the
 * truth is known apart, "none" is scored, too.
 * @returns undefined when nothing is settled
 * @throws RangeError for a sample that is not a whole number above 0, or a seed out of range; the signal's reason
 */
export async function calibrate(
  identifier: Identifier,
  view: State,
  options: CalibrationOptions = {},
): Promise<Calibration | undefined> {
  const pace = new Pace(options.signal);
  const { settled, drawn } = await chosen(view, options, pace);
  const scores = new Scores(identifier, options.truth !== undefined);
  for (const one of drawn) {
    scores.ask(view, one);
    options.onProgress?.(scores.components, drawn.length);
    await pace.rest();
  }
  return scores.components === 0 ? undefined : { ...scores.trust(), settled };
}

/**
 * The same as if the catalogue had never heard of an eighth of its parts: each device is asked about with another eighth taken
 * out, siblings of theirs left in, as chance has it. Chips settled as such a part teach nothing, and of these "none in the
 * catalogue" is the truth. Every stated probability counts as it stands.
 * @param identifier says what eyes confuse, and what it read is not read again; it learns nothing here
 * @returns undefined when nothing is settled
 * @throws RangeError and the signal's reason as {@link calibrate}
 */
export async function calibrateWithoutParts(
  identifier: Identifier,
  view: State,
  options: CalibrationOptions = {},
): Promise<CalibrationWithoutParts | undefined> {
  const { seed = 1, onProgress, signal } = options;
  const pace = new Pace(signal);
  const { settled, drawn } = await chosen(view, options, pace);
  const groupOf = (id: string) => dealt(id, GROUPS_OF_PARTS, seed);
  const byGroup = Map.groupBy(drawn, ({ row }) => groupOf(row.deviceId));
  const scores = new Scores(identifier, true);
  for (let group = 0; group < GROUPS_OF_PARTS; group++) {
    const asked = byGroup.get(group) ?? [];
    if (asked.length === 0) continue;
    const lessons = without(view, { keepsPart: (id) => groupOf(id) !== group });
    const learner = identifier.unlearnt(lessons);
    await learner.followInTurns(lessons, signal);
    scores.identifier = learner;
    for (const one of asked) {
      scores.ask(view, one);
      onProgress?.(scores.components, drawn.length);
      await pace.rest();
    }
  }
  return scores.components === 0 ? undefined : { ...scores.trust(), settled, parts: view.parts().length };
}

/** Components whose part is known, and those of them that are asked about. */
async function chosen(
  view: State,
  { sample, seed = 1, truth }: CalibrationOptions,
  pace: Pace,
): Promise<{ readonly settled: number; readonly drawn: readonly Settled[] }> {
  if (sample !== undefined && !(Number.isInteger(sample) && sample > 0))
    throw new RangeError(`a sample is a whole number above 0; it is ${sample}`);
  const all = await allSettled(view, pace, truth);
  const drawn = sample === undefined || sample >= all.length ? all : draw(all, sample, seed);
  return { settled: all.length, drawn };
}

/** Every component that counts as one and whose part is known. @throws the signal's reason */
export async function allSettled(
  view: State,
  pace: Pace,
  truth?: CalibrationOptions['truth'],
): Promise<readonly Settled[]> {
  const all: Settled[] = [];
  for (const row of view.specimenRows()) {
    let here = truth ? undefined : settledIn.get(row);
    if (!here) {
      const specimen = view.specimen(row.id);
      here = (specimen?.counted ?? []).flatMap(({ id }) => {
        const part = truth ? truth(row.id, id) : specimen && settledPart(specimen, id);
        return part === undefined ? [] : [{ row, component: id, truth: part }];
      });
      if (!truth) settledIn.set(row, here);
    }
    for (const one of here) all.push(one);
    await pace.rest();
  }
  return all;
}

/** What is settled in the specimen of a row: every dossier would be unpacked for it each time. */
const settledIn = new WeakMap<SpecimenRow, readonly Settled[]>();

/** So many of them at random, in their first order, so that components of one device stay together. */
function draw(all: readonly Settled[], sample: number, seed: number): readonly Settled[] {
  const places = seededRandom(seed)
    .shuffled([...all.keys()])
    .slice(0, sample);
  return places.sort((a, b) => a - b).map((place) => all[place]);
}

/** Collects stated probabilities and outcomes. */
class Scores {
  identifier: Identifier;
  readonly #scoresNone: boolean;
  readonly #forecasts: Forecast[] = [];
  readonly #devices = new Set<string>();
  components = 0;
  #absent = 0;
  #first = 0;
  #firstThree = 0;

  constructor(identifier: Identifier, scoresNone: boolean) {
    this.identifier = identifier;
    this.#scoresNone = scoresNone;
  }

  ask(view: State, { row, component: id, truth }: Settled): void {
    const specimen = view.specimen(row.id);
    const device = view.device(row.deviceId);
    const component = specimen?.components.get(id);
    if (!specimen || !device || !component) return;
    this.#devices.add(row.deviceId);
    this.#add(this.identifier.posteriorOf(specimen, component, device), truth);
  }

  #add({ candidates, others, none }: Posterior, truth: string): void {
    const shown = candidates.slice(0, SHOWN);
    const right = shown.findIndex(({ part }) => partIdOf(part) === truth);
    const isAbsent = this.identifier.part(truth) === undefined;
    this.components++;
    if (isAbsent) this.#absent++;
    if (right === 0) this.#first++;
    if (right >= 0) this.#firstThree++;
    const whole = this.#scoresNone
      ? 1
      : candidates.reduce((sum, { probability }) => sum + probability, others);
    for (const { part, probability } of shown)
      this.#forecasts.push({
        probability: Math.min(1, probability / whole),
        cameTrue: partIdOf(part) === truth,
      });
    if (this.#scoresNone) this.#forecasts.push({ probability: none, cameTrue: isAbsent });
  }

  trust(): Trust {
    const forecasts = this.#forecasts;
    return {
      components: this.components,
      devices: this.#devices.size,
      absent: this.#absent,
      // Where not one candidate was stated there is nothing to score.
      brier: forecasts.length === 0 ? 0 : brierScore(forecasts),
      logLoss: forecasts.length === 0 ? 0 : logLoss(forecasts),
      first: this.#first / this.components,
      firstThree: this.#firstThree / this.components,
      reliability: reliability(forecasts),
      nearlyCertain: [0.99, 0.999].map((from) => reliabilityFrom(forecasts, from)),
    };
  }
}
