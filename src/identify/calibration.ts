import type { View } from '../graph/view.ts';
import { partIdOf } from '../model/catalogue.ts';
import {
  brierScore,
  type Forecast,
  logLoss,
  type ReliabilityBin,
  reliability,
} from '../statistics/scores.ts';
import { settledPart } from './habits.ts';
import type { Identifier } from './identifier.ts';

/** How far the stated probabilities can be trusted: what was stated against what was settled. */
export interface Calibration {
  /** Components whose settled identification was hidden and worked out anew. */
  readonly components: number;
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

/** The three likeliest candidates and "none" are what an editor is shown; their probabilities are scored. */
const SHOWN = 3;

/**
 * Hides each identification known to be right, one at a time with its whole device (so that it teaches nothing of
 * itself), works out the posterior, and scores what it stated.
 * @param isTrue which part a component really is, for archives whose truth is known apart from their identifications;
 * by default the settled identification
 * @returns undefined when nothing is settled
 */
export async function calibrate(
  identifier: Identifier,
  view: View,
  options: {
    readonly truth?: (specimen: string, component: string) => string | undefined;
    readonly onProgress?: (done: number) => void;
    readonly signal?: AbortSignal;
  } = {},
): Promise<Calibration | undefined> {
  const forecasts: Forecast[] = [];
  let components = 0;
  let first = 0;
  let firstThree = 0;
  let turn = performance.now();
  for (const row of view.specimenRows()) {
    const specimen = view.specimen(row.id);
    const device = view.device(row.deviceId);
    if (!specimen || !device) continue;
    for (const component of specimen.dossier.components) {
      const truth = options.truth ? options.truth(row.id, component.id) : settledPart(specimen, component.id);
      if (truth === undefined) continue;
      const { candidates, none } = identifier.posteriorOf(specimen, component, device);
      const shown = candidates.slice(0, SHOWN);
      const right = shown.findIndex(({ part }) => partIdOf(part) === truth);
      components++;
      if (right === 0) first++;
      if (right >= 0) firstThree++;
      for (const { part, probability } of shown)
        forecasts.push({ probability, came: partIdOf(part) === truth });
      const inCatalogue = identifier.part(truth) !== undefined;
      forecasts.push({ probability: none, came: !inCatalogue });
    }
    options.onProgress?.(components);
    if (performance.now() - turn > 20) {
      if (options.signal?.aborted) break;
      await new Promise(setImmediate);
      turn = performance.now();
    }
  }
  if (components === 0) return undefined;
  return {
    components,
    brier: brierScore(forecasts),
    logLoss: logLoss(forecasts),
    first: first / components,
    firstThree: firstThree / components,
    reliability: reliability(forecasts),
  };
}
