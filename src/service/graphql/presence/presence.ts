import { CasebackError } from '../../../model/problems.ts';
import { type PresenceSubject, subjectName } from '../../../presence/asked.ts';
import { presenceRow, specimenPresence, thingOf, together } from '../../../presence/presence.ts';
import type * as Api from '../resolver-types.ts';
import { onlyGiven } from '../words.ts';

/** Whether devices and specimens have something. */
export const presence: Api.Resolvers = {
  Device: {
    presence: ({ view, id }, { of }) => {
      const name = subjectName(view, subjectIn(of));
      const rows = view.specimensOf(id).map((row) => ({ specimen: row.id, row: presenceRow(view, row) }));
      const thing = thingOf(view, name);
      const { revisionsDiffer, ...all } = together(
        rows.map(({ row }) => row),
        thing,
      );
      return {
        ...all,
        hasDifferingRevisions: revisionsDiffer,
        specimens: rows.map(({ specimen, row }) => ({ specimen, ...specimenPresence(row, thing) })),
      };
    },
  },
  Specimen: {
    presence: ({ view, opened }, { of }) => {
      const { id } = opened;
      const name = subjectName(view, subjectIn(of));
      const specimen = view.specimenRow(id);
      if (!specimen) throw new CasebackError('NOT_FOUND', `No specimen "${id}" is in the archive`);
      const row = presenceRow(view, specimen);
      return { specimen: id, ...specimenPresence(row, thingOf(view, name)) };
    },
  },
};

/** @throws CasebackError BAD_INPUT unless exactly one field is given */
function subjectIn(of: Api.PresenceSubjectInput): PresenceSubject {
  const name = onlyGiven('of', of, ['category', 'part', 'maker']);
  return { [name]: of[name] } as unknown as PresenceSubject;
}
