// Identification of components. The code is loaded on first use.

import type { CalibrationOptions } from '../identification/calibration.ts';
import type { CandidateSet, SetOptions } from '../identification/conformal.ts';
import type {
  Candidates,
  Placed,
  PlacedDisagreement,
  PlacedObservation,
  Trusted,
} from '../identification/questions.ts';
import type { ReadMarking } from '../identification/read-marking.ts';
import type { Part } from '../model/catalogue.ts';
import { CasebackError } from '../model/problems.ts';
import type { State } from '../state/state.ts';

/** What a component may be, by the evidence. @throws CasebackError NOT_FOUND */
export async function candidatesFor(state: State, component: string): Promise<Candidates> {
  const { candidatesOf } = await import('../identification/questions.ts');
  return candidatesOf(state, component);
}

/** Recorded identifications that the evidence contradicts, the most improbable first. */
export async function contradicted(
  state: State,
  signal?: AbortSignal,
): Promise<readonly PlacedDisagreement[]> {
  const { disagreementsOf } = await import('../identification/questions.ts');
  return disagreementsOf(state, signal);
}

/**
 * Further observations suggested for a component, specimen, device, decision or claim.
 * @throws CasebackError NOT_FOUND
 */
export async function observationsWanted(
  state: State,
  of: string,
  signal?: AbortSignal,
): Promise<readonly PlacedObservation[]> {
  const { nextObservationsUnder } = await import('../decisions/next-observations.ts');
  return nextObservationsUnder(state, of, signal);
}

/** Readings of a marking as typed. @throws CasebackError BAD_INPUT when it cannot be parsed */
export async function readMarkingText(text: string, released: string | undefined): Promise<ReadMarking> {
  const { readMarking } = await import('../identification/read-marking.ts');
  const { MarkingError } = await import('../model/marking.ts');
  const context = { thisYear: new Date().getUTCFullYear(), ...(released ? { released } : {}) };
  try {
    return readMarking(text, context);
  } catch (error) {
    if (error instanceof MarkingError) throw new CasebackError('BAD_INPUT', error.message);
    throw error;
  }
}

/** A part whose known marking looks like a reading. */
export interface LikeMarking {
  readonly part: Part;
  /** The known marking that fits best. */
  readonly marking: string;
  /** Weight of the reading for the part, decibans. */
  readonly decibans: number;
}

/** Parts whose known markings look like a reading, best first. */
export async function partsMarkedLike(
  state: State,
  { marking }: ReadMarking,
  first: number,
): Promise<readonly LikeMarking[]> {
  const { identifierOf } = await import('../identification/questions.ts');
  const { weightInDecibans } = await import('../identification/posterior.ts');
  return (await identifierOf(state)).matches(marking, first).flatMap(({ part: id, template, logRatio }) => {
    const part = state.part(id);
    return part ? [{ part, marking: template, decibans: weightInDecibans(logRatio) }] : [];
  });
}

/** Parts whose number begins with a text. */
export async function partsWithNumber(state: State, text: string): Promise<readonly Part[]> {
  const { partsNumbered } = await import('../identification/part-numbers.ts');
  return partsNumbered(state, text);
}

/**
 * How far the probabilities can be trusted on this archive; undefined when nothing is settled.
 * @throws the signal's reason
 */
export async function trustOf(
  state: State,
  options: Omit<CalibrationOptions, 'truth'>,
): Promise<Trusted | undefined> {
  const { calibrationOf } = await import('../identification/questions.ts');
  return calibrationOf(state, options);
}

/**
 * What a component may be, as a set that holds it with the coverage asked for.
 * @throws CasebackError BAD_INPUT unless 0 < coverage < 1; the signal's reason
 */
export async function candidateSet(
  state: State,
  placed: Placed,
  coverage: number,
  options: SetOptions = {},
): Promise<CandidateSet> {
  if (!(coverage > 0 && coverage < 1))
    throw new CasebackError(
      'BAD_INPUT',
      `coverage is ${coverage}; it must lie between 0 and 1, such as 0.9 for sets that hold the truth nine times in ten`,
    );
  const { candidateSetOf } = await import('../identification/questions.ts');
  return candidateSetOf(state, placed, coverage, options);
}
