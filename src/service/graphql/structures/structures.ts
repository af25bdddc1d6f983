import type { BUSES, MEDIA } from '../../../model/net.ts';
import { addPattern, structuresOf } from '../../../questions/structures.ts';
import { type FoundStructure, LINK_LABELS, ORDERS, RELATIONS } from '../../../structures/answer.ts';
import { authorship, entrySource } from '../changes/input.ts';
import { visibilityIn } from '../changes/visibility.ts';
import { type Seen, viewOf } from '../context.ts';
import { sortedListing } from '../listing.ts';
import { paginate } from '../paginate.ts';
import type { Resolvers } from '../resolver-types.ts';
import { deviceSource, maybe, patternSource } from '../sources.ts';
import { enumName, enumWord } from '../words.ts';

/** Seconds that a search may take; the schema says so. */
const MAX_SECONDS = 20;

/** A structure and the view it was found in. */
export type StructureSource = Seen<FoundStructure>;

/** Structures that many devices have. */
export const structures: Resolvers = {
  Query: {
    structures: async (
      root,
      {
        minSupport,
        level,
        relations,
        links,
        order,
        distinguishBoards,
        includeVariants,
        onlyUnnamed,
        ...rest
      },
      context,
    ) => {
      const view = viewOf(root, context);
      const question = {
        ...rest,
        boards: distinguishBoards,
        variants: includeVariants,
        unwritten: onlyUnnamed,
        links: enumWord(LINK_LABELS, links),
        order: enumWord(ORDERS, order),
        ...(minSupport == null ? {} : { minSupport }),
        ...(level == null ? {} : { level }),
        ...(relations == null ? {} : { relations: relations.map((one) => enumWord(RELATIONS, one)) }),
      };
      const options = { signal: context.signal(), budget: MAX_SECONDS * 1000 };
      const answer = await structuresOf(view, question, options);
      const { structures: found, complete, ...counts } = answer;
      return {
        ...counts,
        relations: counts.relations.map((one) => enumName(one)),
        isComplete: complete,
        structures: found.map((one) => ({ ...one, view })),
      };
    },
  },
  Mutation: {
    savePattern: async (
      _root,
      { input: { actor, reason, note, visibility, embargoUntil, ...record } },
      { archive, view, who },
    ) => {
      const by = authorship({ actor, reason }, who);
      const given = {
        ...record,
        reasons: [...record.reasons],
        against: [...record.against],
        ...(note == null ? {} : { note }),
        ...visibilityIn({ visibility, embargoUntil }),
      };
      const { entry, pattern } = await addPattern(archive, view, given, by);
      return { entry: entrySource(entry), pattern: patternSource(archive.state(view.audience), pattern) };
    },
  },
  Structure: {
    isExtendable: ({ growsFurther }) => growsFurther,
    links: ({ links }) =>
      links.map(({ from, to, relation, bus, medium, boards }) => ({
        from,
        to,
        relation: enumName(relation),
        bus: enumName(bus as (typeof BUSES)[number] | undefined),
        medium: enumName(medium as (typeof MEDIA)[number] | undefined),
        boards: enumName(boards),
      })),
    devices: ({ view, devices }, page) =>
      paginate(
        sortedListing('devices of a structure', devices, ({ id }) => [id]),
        page,
        (device) => deviceSource(view, device),
      ),
    knownAs: ({ view, knownAs }) =>
      knownAs.flatMap(({ id, share }) => {
        const pattern = maybe(view, view.pattern(id), patternSource);
        return pattern ? [{ pattern, share }] : [];
      }),
  },
};
