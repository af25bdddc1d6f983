import { claimIdOf } from '../model/catalogue.ts';
import type { Amendment, Correction } from '../model/correction.ts';
import { parseThingId, specimenOfId } from '../model/ids.ts';
import { isTerm } from '../model/taxonomy.ts';
import type { View } from '../state/view.ts';
import { nameOf } from './named.ts';

/**
 * Corrections whose subject a view sees, first to last, each with the publications it sees. What was found of a sentence that
 * also rests on something hidden would tell of it, so such a publication waits until all of that may be seen.
 */
export function correctionsIn(view: View): readonly Correction[] {
  return view.corrections
    .filter(({ amendment }) => seesSubject(view, subjectOf(amendment)))
    .map((correction) => ({
      ...correction,
      publications: correction.publications.filter(({ publication, claims }) => {
        const asserted = view.publication(publication)?.claims;
        const supportedBy = claims.flatMap(
          ({ claim }) =>
            asserted?.find(({ id }) => claimIdOf({ id: publication }, { id }) === claim)?.supportedBy ?? [],
        );
        return (
          asserted !== undefined && supportedBy.every((id) => isTerm(id) || nameOf(view, id) !== undefined)
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

/** Whether a view holds the specimen, part or device of an id. */
export function seesSubject(view: View, id: string): boolean {
  return (view.device(id) ?? view.specimenRow(id) ?? view.part(id)) !== undefined;
}
