import { CasebackError } from '../../../model/problems.ts';
import { conclusionsBetween, type RecordChange, recordChanges } from '../../../questions/between.ts';
import { historyOf } from '../../../questions/history.ts';
import type { State } from '../../../state/state.ts';
import { authorship, entrySource } from '../changes/input.ts';
import { viewOf } from '../context.ts';
import { differenceSource, thingKind } from '../evidence/evidence.ts';
import { idIn, viewAt } from '../instants.ts';
import { rankedListing } from '../listing.ts';
import { paginate } from '../paginate.ts';
import type { Resolvers } from '../resolver-types.ts';
import { enumName } from '../words.ts';

/** Two states, and what of them is asked about. */
export interface ArchiveDifferenceSource {
  readonly before: State;
  readonly after: State;
  readonly of: string | undefined;
}

/** Changed fields that an answer lists. */
const MOST_FIELDS = 200;

function recordDifferenceSource(view: State, { id, kind, change, fields }: RecordChange) {
  return {
    id: idIn(view, id),
    kind: thingKind(kind),
    change: enumName(change),
    fields: fields.slice(0, MOST_FIELDS),
    omittedFields: Math.max(0, fields.length - MOST_FIELDS),
  };
}

/** What was written about things, and what is different between two instants. */
export const history: Resolvers = {
  Query: {
    history: async (root, { id, ...page }, context) => {
      if (viewOf(root, context).audience !== 'desk')
        throw new CasebackError('NOT_ALLOWED', 'The journal is for the desk; readers see what it led to');
      const entries = await historyOf(context.archive, id, context.signal());
      return paginate(
        rankedListing('entries', entries, (entry) => entry.id),
        page,
        (entry) => ({
          ...entrySource(entry),
          subject: entry.subject,
          countsFrom: entry.countsFrom,
        }),
      );
    },
    difference: async (root, { from, to, of }, context) => {
      const before = await viewAt(context, from);
      const after = to ? await viewAt(context, to) : viewOf(root, context);
      if (to && new Date(to) < new Date(from))
        throw new CasebackError(
          'BAD_INPUT',
          `from is ${from}, and to, ${to}, is earlier; change their places`,
        );
      return { before, after, of: of ?? undefined };
    },
  },
  ArchiveDifference: {
    records: ({ before, after, of }, page) =>
      paginate(
        rankedListing('records that differ', recordChanges(before, after, of), ({ id }) => id),
        page,
        (one) => recordDifferenceSource(one.change === 'removed' ? before : after, one),
      ),
    conclusions: async ({ before, after, of }, _args, context) =>
      differenceSource(after, await conclusionsBetween(before, after, of, context.signal())),
  },
  Mutation: {
    correctClock: async (_root, { input: { first, last, at, ...by } }, { archive, who }) => ({
      entry: entrySource(await archive.correctClock({ first, last, at }, authorship(by, who))),
    }),
  },
};
