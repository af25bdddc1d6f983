import type { View } from '../graph/view.ts';
import type { Amendment, Correction } from '../model/correction.ts';

/** Corrections whose subject a view sees, first to last, each with the pieces it sees. */
export function correctionsIn(view: View): readonly Correction[] {
  return [...view.state.corrections.values()]
    .filter(({ amendment }) => seesSubject(view, subjectOf(amendment)))
    .map((correction) => ({
      ...correction,
      pieces: correction.pieces.filter(({ piece }) => view.piece(piece) !== undefined),
    }));
}

/** Id of the specimen, part or device that an amendment is about. */
export function subjectOf(amendment: Amendment): string {
  if ('identify' in amendment) return amendment.identify.specimen;
  if ('observe' in amendment) return amendment.observe.specimen;
  const id = 'withdraw' in amendment ? amendment.withdraw.observation : amendment.value.of;
  return id.split('/').length === 3 ? id.slice(0, id.lastIndexOf('/')) : id;
}

/** Whether a view holds the specimen, part or device of an id. */
export function seesSubject(view: View, id: string): boolean {
  return (view.device(id) ?? view.specimenRow(id) ?? view.part(id)) !== undefined;
}
