import type { Authorship } from '../../archive.ts';
import { CasebackError } from '../../model/problems.ts';
import type { View } from '../../state/view.ts';
import {
  type KnownAs,
  LINK_LABELS,
  ORDERS,
  type RecurringQuestion,
  type RecurringStructure,
} from '../../structures/answer.ts';
import { newNamedPattern } from '../../structures/named-pattern.ts';
import { recurringStructures } from '../../structures/recurring.ts';
import { savePattern } from '../../structures/save-pattern.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { enumWord } from '../base/enums.ts';
import { authorship } from '../changes/input.ts';
import { parseable } from '../patterns/mistakes.ts';
import { deviceSource, maybe, patternSource } from '../sources/catalogue.ts';
import { MOST_SECONDS, schema } from './schema.ts';

/** Devices of a structure given at most. */
const MOST_DEVICES = 500;

type Seen<T> = T & { readonly view: View };

interface Arguments extends Omit<RecurringQuestion, 'links' | 'order' | 'minSupport' | 'level'> {
  readonly minSupport?: number | null;
  readonly level?: number | null;
  readonly links: string;
  readonly order: string;
}

interface PatternInput extends Authorship {
  readonly id: string;
  readonly name: string;
  readonly idea: string;
  readonly text: string;
  readonly reasons: string[];
  readonly against: string[];
  readonly strength: number;
  readonly note?: string | null;
}

export const recurring: Domain = {
  schema,
  resolvers: {
    Query: {
      recurringStructures: async (
        root: Root,
        { minSupport, level, links, order, ...rest }: Arguments,
        context: Context,
      ) => {
        const view = viewOf(root, context);
        const question = {
          ...rest,
          links: enumWord(LINK_LABELS, links),
          order: enumWord(ORDERS, order),
          ...(minSupport == null ? {} : { minSupport }),
          ...(level == null ? {} : { level }),
        };
        const answer = await recurringStructures(view, question, {
          signal: context.signal(),
          budget: MOST_SECONDS * 1000,
        });
        return { ...answer, structures: answer.structures.map((one) => ({ ...one, view })) };
      },
    },
    Mutation: {
      savePattern: async (
        _root: unknown,
        { actor, reason, note, ...record }: PatternInput,
        { archive, view }: Context,
      ) => {
        const by = authorship({ actor, reason });
        parseable(record.text);
        const pattern = await newNamedPattern(view, { ...record, ...(note == null ? {} : { note }) });
        const entry = await savePattern(archive, pattern, by, view.audience);
        return { entry, pattern: patternSource(view, pattern) };
      },
    },
    RecurringStructure: {
      devices: ({ view, devices }: Seen<RecurringStructure>, { first }: { readonly first: number }) => {
        if (first < 0 || first > MOST_DEVICES)
          throw new CasebackError('BAD_INPUT', `first is ${first}; it must be 0 to ${MOST_DEVICES}`);
        return devices.slice(0, first).map((device) => deviceSource(view, device));
      },
      knownAs: ({ view, knownAs }: Seen<RecurringStructure>) => knownAs.map((one) => ({ ...one, view })),
    },
    RecurringKnown: {
      pattern: ({ view, id }: Seen<KnownAs>) => maybe(view, view.pattern(id), patternSource),
    },
  },
  weights: {
    'Query.recurringStructures': 20_000,
    'Mutation.savePattern': 1_000,
  },
};
