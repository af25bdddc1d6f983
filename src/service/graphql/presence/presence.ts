import { CasebackError } from '../../../model/problems.ts';
import { type PresenceSubject, subjectName } from '../../../presence/asked.ts';
import { presenceRow, specimenPresence, thingOf, together } from '../../../presence/presence.ts';
import type * as Api from '../resolver-types.ts';

/** Whether devices and specimens have something. */
export const presence: Api.Resolvers = {
  Device: {
    presence: ({ view, id }, { of }) => {
      const name = subjectName(view, subjectIn(of));
      const rows = view.specimensOf(id).map((row) => ({ specimen: row.id, row: presenceRow(view, row) }));
      const thing = thingOf(view, name);
      return {
        ...together(
          rows.map(({ row }) => row),
          thing,
        ),
        specimens: rows.map(({ specimen, row }) => ({ specimen, ...specimenPresence(row, thing) })),
      };
    },
  },
  Specimen: {
    presence: ({ view, id }, { of }) => {
      const name = subjectName(view, subjectIn(of));
      const specimen = view.specimenRow(id);
      if (!specimen) throw new CasebackError('NOT_FOUND', `No specimen "${id}" is in the archive`);
      const row = presenceRow(view, specimen);
      return { specimen: id, ...specimenPresence(row, thingOf(view, name)) };
    },
  },
};

/** @throws CasebackError BAD_INPUT unless exactly one field is given */
function subjectIn({ category, part, maker }: Api.PresenceSubject): PresenceSubject {
  const given = [
    ...(category ? [{ category }] : []),
    ...(part ? [{ part }] : []),
    ...(maker ? [{ maker }] : []),
  ];
  if (given.length !== 1)
    throw new CasebackError('BAD_INPUT', 'of: give exactly one of category, part and maker');
  return given[0];
}
