import { DECIMAL_SIGNS, LIST_LENGTH_UNITS, listMappingSchema } from '../../../model/list-mapping.ts';
import { VISIBILITIES } from '../../../model/visibility.ts';
import { storeListMapping } from '../../../questions/list-mappings.ts';
import { authorship, entrySource, recordOf } from '../changes/input.ts';
import { viewOf } from '../context.ts';
import { sortedListing } from '../listing.ts';
import { itself, marks } from '../marks.ts';
import { paginate } from '../paginate.ts';
import type { Resolvers } from '../resolver-types.ts';
import { listMappingSource, maybe } from '../sources.ts';
import { enumName, enumWord } from '../words.ts';

/** Which column of the lists of one origin holds what. */
export const listMappings: Resolvers = {
  Query: {
    listMapping: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.listMapping(id), listMappingSource);
    },
    listMappings: (root, page, context) => {
      const view = viewOf(root, context);
      const listing = sortedListing('listMappings', view.listMappings(), ({ id }) => [id]);
      return paginate(listing, page, (one) => listMappingSource(view, one));
    },
  },
  Mutation: {
    saveListMapping: async (_root, { input }, { archive, view, who }) => {
      const { actor, reason, visibility, decimal, unit, ...given } = input;
      const by = authorship({ actor, reason }, who);
      const record = {
        ...given,
        ...(decimal ? { decimal: enumWord(DECIMAL_SIGNS, decimal) } : {}),
        ...(unit ? { unit: enumWord(LIST_LENGTH_UNITS, unit) } : {}),
        visibility: enumWord(VISIBILITIES, visibility),
      };
      const mapping = recordOf(listMappingSchema, record, 'input');
      const entry = await storeListMapping(archive, view, mapping, by);
      const now = archive.state(view.audience);
      return {
        listMapping: maybe(now, now.listMapping(mapping.id), listMappingSource),
        entry: entry && entrySource(entry),
      };
    },
  },
  ListMapping: {
    ...marks(itself, 'published'),
    decimal: ({ decimal }) => (decimal ? enumName(decimal) : null),
    unit: ({ unit }) => (unit ? enumName(unit) : null),
  },
};
