import { claimIdOf } from '../model/catalogue.ts';
import type { Amendment, Correction } from '../model/correction.ts';
import { parseThingId, specimenOfId } from '../model/ids.ts';
import { isTerm } from '../model/taxonomy.ts';
import type { State } from '../state/state.ts';
import { describeThing } from './named.ts';

/**
 * Corrections whose subject a state sees, first to last, each with the publications it sees. A finding on a sentence that
 * is also supported by something hidden would reveal it, so such a publication waits until all of that may be seen.
 */
export function correctionsIn(state: State): readonly Correction[] {
  return state.corrections
    .filter(({ amendment }) => seesSubject(state, subjectOf(amendment)))
    .map((correction) => ({
      ...correction,
      publications: correction.publications.filter(({ publication, claims }) => {
        const asserted = state.publication(publication)?.claims;
        const supportedBy = claims.flatMap(
          ({ claim }) =>
            asserted?.find(({ id }) => claimIdOf({ id: publication }, { id }) === claim)?.supportedBy ?? [],
        );
        return (
          asserted !== undefined &&
          supportedBy.every((id) => isTerm(id) || describeThing(state, id) !== undefined)
        );
      }),
    }));
}

/** Id of the specimen, part or device that an amendment is about. */
export function subjectOf(amendment: Amendment): string {
  if ('identify' in amendment) return amendment.identify.specimen;
  if ('observe' in amendment) return amendment.observe.specimen;
  const id = 'withdraw' in amendment ? amendment.withdraw.observation : amendment.value.of;
  return parseThingId(id) ? specimenOfId(id) : id;
}

/** Whether a state holds the specimen, part or device of an id. */
export function seesSubject(state: State, id: string): boolean {
  return (state.device(id) ?? state.specimenRow(id) ?? state.part(id)) !== undefined;
}
