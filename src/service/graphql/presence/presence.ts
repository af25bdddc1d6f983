import { deviceIdOf } from '../../../model/dossier.ts';
import { type PresenceQuestion, presenceAnswer } from '../../../questions/presence.ts';
import type * as Api from '../resolver-types.ts';
import { onlyGiven } from '../words.ts';

/** Whether devices and specimens have something. */
export const presence: Api.Resolvers = {
  Device: {
    presence: async ({ view, id }, { of }, context) => {
      const { revisionsDiffer, ...all } = await presenceAnswer(view, id, questionIn(of), context.signal());
      return { ...all, hasDifferingRevisions: revisionsDiffer };
    },
  },
  Specimen: {
    presence: async ({ view, opened }, { of }, context) => {
      const device = deviceIdOf(opened.dossier);
      const { specimens } = await presenceAnswer(view, device, questionIn(of), context.signal());
      return specimens.find(({ specimen }) => specimen === opened.id) ?? null;
    },
  },
};

/** @throws CasebackError BAD_INPUT unless exactly one field is given */
function questionIn(of: Api.PresenceSubjectInput): PresenceQuestion {
  const name = onlyGiven('of', of, ['category', 'part', 'maker', 'pattern']);
  return { [name]: of[name] } as unknown as PresenceQuestion;
}
