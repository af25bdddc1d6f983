import { LRUCache } from 'lru-cache';
import type { Archive } from '../../../archive.ts';
import { CasebackError } from '../../../model/problems.ts';
import { lineage, meaningOf, TERM_PARENTS, TERMS } from '../../../model/taxonomy.ts';
import { summaryOf } from '../../../questions/summary.ts';
import type { View } from '../../../state/view.ts';
import { viewOf } from '../context.ts';
import type { Resolvers } from '../resolver-types.ts';

/** Earlier views kept. Each holds a whole archive, so few are kept. */
const KEPT = 2;
const kept = new WeakMap<Archive, LRUCache<string, Promise<View>>>();

/** The archive at an earlier instant, as far as the asker may see it; embargoes are judged at that instant. */
async function viewAt(archive: Archive, now: View, instant: string): Promise<View> {
  const until = new Date(instant).toISOString();
  // A future instant would lift embargoes early.
  if (until > new Date().toISOString())
    throw new CasebackError('BAD_INPUT', `instant ${instant} lies in the future; ask for a past one`);
  const views = kept.get(archive) ?? new LRUCache<string, Promise<View>>({ max: KEPT });
  kept.set(archive, views);
  const key = `${now.audience} ${until}`;
  const known = views.get(key);
  if (known) return known;
  // One fold at a time: each waits for the ones asked for before it.
  const waited = Promise.allSettled(views.values());
  const view = waited.then(() => archive.asOf(until, now.audience));
  views.set(key, view);
  view.catch(() => views.delete(key));
  return view;
}

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
      return { ...summaryOf(view), ...log };
    },
    asOf: async (_root, { instant }, context) => ({
      view: await viewAt(context.archive, context.view, instant),
    }),
    taxonomy: (_root, { under }) =>
      under ? terms.filter(({ name, above }) => name === under || above.includes(under)) : terms,
  },
};
