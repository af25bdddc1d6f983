import { addPattern, structuresOf } from '../../../questions/structures.ts';
import type { FoundStructure, LinkLabels, Order } from '../../../structures/answer.ts';
import { authorship } from '../changes/input.ts';
import { type Seen, viewOf } from '../context.ts';
import type { Resolvers } from '../resolver-types.ts';
import { deviceSource, maybe, patternSource } from '../sources.ts';
import { bounded, enumWord } from '../words.ts';

const LINKS: readonly LinkLabels[] = ['bus', 'medium', 'none'];
const ORDERS: readonly Order[] = ['surprise', 'lift', 'support', 'year'];
/** Devices of a structure given at most. */
const MAX_DEVICES = 500;
/** Seconds that a search may take; the schema says so. */
const MAX_SECONDS = 20;

/** A structure and the view it was found in. */
export type RecurringStructureSource = Seen<FoundStructure>;

/** Structures that many devices have. */
export const structures: Resolvers = {
  Query: {
    recurringStructures: async (root, { minSupport, level, links, order, ...rest }, context) => {
      const view = viewOf(root, context);
      const question = {
        ...rest,
        links: enumWord(LINKS, links),
        order: enumWord(ORDERS, order),
        ...(minSupport == null ? {} : { minSupport }),
        ...(level == null ? {} : { level }),
      };
      const options = { signal: context.signal(), budget: MAX_SECONDS * 1000 };
      const answer = await structuresOf(view, question, options);
      return { ...answer, structures: answer.structures.map((one) => ({ ...one, view })) };
    },
  },
  Mutation: {
    savePattern: async (_root, { actor, reason, note, ...record }, { archive, view }) => {
      const by = authorship({ actor, reason });
      const given = {
        ...record,
        reasons: [...record.reasons],
        against: [...record.against],
        ...(note == null ? {} : { note }),
      };
      const { entry, pattern } = await addPattern(archive, view, given, by);
      return { entry, pattern: patternSource(archive.view(view.audience), pattern) };
    },
  },
  RecurringStructure: {
    devices: ({ view, devices }, { first }) =>
      devices.slice(0, bounded('first', first, MAX_DEVICES, 0)).map((device) => deviceSource(view, device)),
    knownAs: ({ view, knownAs }) =>
      knownAs.flatMap(({ id, share }) => {
        const pattern = maybe(view, view.pattern(id), patternSource);
        return pattern ? [{ pattern, share }] : [];
      }),
  },
};
