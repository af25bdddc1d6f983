import { linkedDataOf } from '../../../questions/linked.ts';
import { viewOf } from '../context.ts';
import { readId } from '../instants.ts';
import type { Resolvers } from '../resolver-types.ts';

/** Records as linked data. */
export const linkedData: Resolvers = {
  Query: {
    linkedData: (root, { id, base }, context) =>
      linkedDataOf(viewOf(root, context), readId(id).id, base ?? undefined, context.signal()),
  },
};
