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
} from '../statistics/scores.ts';
import { settledPart } from './contributions.ts';
import type { Identifier } from './identifier.ts';
import type { Posterior } from './posterior.ts';

/** How far the stated probabilities can be trusted: what was stated against what was settled. */
export interface Calibration {
  /** Components whose settled identification was hidden and calculated again. */
  readonly components: number;
  /** Components that might have been: more than `components` where a sample was drawn. */
  readonly settled: number;
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
}

export interface CalibrationOptions {
  /** Work out no more than so many components, drawn at random. @default all */
  readonly sample?: number | undefined;
  /** Whole number from 0 to 4294967295 that decides the draw. @default 1 */
  readonly seed?: number | undefined;
  /**
   * Which part a component really is, an id that the catalogue lacks for a part that it does not have; for archives
   * whose truth is known apart from their identifications. @default the settled identification
   */
  readonly truth?: ((specimen: string, component: string) => string | undefined) | undefined;
  readonly onProgress?: (done: number, of: number) => void;
  readonly signal?: AbortSignal;
}

/** The three likeliest candidates are what an editor is shown; their probabilities are scored. */
const SHOWN = 3;
interface Settled {
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
 * @throws RangeError for a sample that is not a whole number above 0, or a seed out of range
 */
export async function calibrate(
  identifier: Identifier,
  view: State,
  options: CalibrationOptions = {},
): Promise<Calibration | undefined> {
  const { sample, seed = 1, signal } = options;
  if (sample !== undefined && !(Number.isInteger(sample) && sample > 0))
    throw new RangeError(`a sample is a whole number above 0; it is ${sample}`);
  const pace = new Pace();
  const settled = await allSettled(view, options, pace);
  const drawn = sample === undefined || sample >= settled.length ? settled : draw(settled, sample, seed);
  const scores = new Scores(identifier, options.truth !== undefined);
  for (const { row, component: id, truth } of drawn) {
    const specimen = view.specimen(row.id);
    const device = view.device(row.deviceId);
    const component = specimen?.components.get(id);
    if (specimen && device && component)
      scores.add(identifier.posteriorOf(specimen, component, device), truth);
    options.onProgress?.(scores.components, drawn.length);
    await pace.rest();
    if (signal?.aborted) break;
  }
  return scores.components === 0 ? undefined : scores.calibration(settled.length);
}

async function allSettled(
  view: State,
  { truth, signal }: CalibrationOptions,
  pace: Pace,
): Promise<readonly Settled[]> {
  const all: Settled[] = [];
  for (const row of view.specimenRows()) {
    const specimen = view.specimen(row.id);
    for (const { id } of specimen?.counted ?? []) {
      const part = truth ? truth(row.id, id) : specimen && settledPart(specimen, id);
      if (part !== undefined) all.push({ row, component: id, truth: part });
    }
    await pace.rest();
    if (signal?.aborted) break;
  }
  return all;
}

/** So many of them at random, in their first order, so that components of one device stay together. */
function draw(all: readonly Settled[], sample: number, seed: number): readonly Settled[] {
  const places = seededRandom(seed)
    .shuffled([...all.keys()])
    .slice(0, sample);
  return places.sort((a, b) => a - b).map((place) => all[place]);
}

/** Collects stated probabilities and outcomes. */
class Scores {
  readonly #identifier: Identifier;
  readonly #scoresNone: boolean;
  readonly #forecasts: Forecast[] = [];
  components = 0;
  #first = 0;
  #firstThree = 0;

  constructor(identifier: Identifier, scoresNone: boolean) {
    this.#identifier = identifier;
    this.#scoresNone = scoresNone;
  }

  add({ candidates, others, none }: Posterior, truth: string): void {
    const shown = candidates.slice(0, SHOWN);
    const right = shown.findIndex(({ part }) => partIdOf(part) === truth);
    this.components++;
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
    if (this.#scoresNone)
      this.#forecasts.push({ probability: none, cameTrue: this.#identifier.part(truth) === undefined });
  }

  calibration(settled: number): Calibration {
    return {
      components: this.components,
      settled,
      // Where not one candidate was stated there is nothing to score.
      brier: this.#forecasts.length === 0 ? 0 : brierScore(this.#forecasts),
      logLoss: this.#forecasts.length === 0 ? 0 : logLoss(this.#forecasts),
      first: this.#first / this.components,
      firstThree: this.#firstThree / this.components,
      reliability: reliability(this.#forecasts),
    };
  }
}
