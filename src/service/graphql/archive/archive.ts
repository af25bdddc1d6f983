import { lineage, meaningOf, TERM_PARENTS, TERMS } from '../../../model/taxonomy.ts';
import { archiveCitation } from '../../../questions/citation.ts';
import { summaryOf } from '../../../questions/summary.ts';
import { viewOf } from '../context.ts';
import { instantOf, viewAt } from '../instants.ts';
import type { Resolvers } from '../resolver-types.ts';

const below = new Map(
  TERMS.map((term) => [term, TERM_PARENTS.filter(([, parent]) => parent === term).map(([child]) => child)]),
);
const terms = TERMS.map((name) => {
  const [, ...above] = lineage(name);
  return {
    name,
    meaning: meaningOf(name) ?? name,
    parent: above[0] ?? null,
    above,
    below: below.get(name) ?? [],
  };
});

/** The archive as a whole: what it holds, what it held, and the terms it uses. */
export const archive: Resolvers = {
  Query: {
    archive: (root, _args, context) => {
      const view = viewOf(root, context);
      const { sequence, instant } = view;
      const log = view.audience === 'desk' ? { sequence, changedAt: instant || null } : {};
      return { ...summaryOf(view), ...log, citation: archiveCitation(view, instantOf(view)) };
    },
    asOf: async (_root, { instant }, context) => ({
      view: await viewAt(context, instant),
    }),
    taxonomy: (_root, { under }) =>
      under ? terms.filter(({ name, above }) => name === under || above.includes(under)) : terms,
  },
  Archive: {
    // Who may know the sequence may know this.
    treeHead: ({ sequence }, _args, { archive }) =>
      typeof sequence === 'number' ? archive.treeHead(sequence) : null,
  },
};
