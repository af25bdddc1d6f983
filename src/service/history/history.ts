import type { Archive } from '../../archive.ts';
import { CasebackError } from '../../model/problems.ts';
import type { View } from '../../state/view.ts';
import type { Context, Domain, Root } from '../base/domain.ts';

const schema = `
extend type Query {
  "The same questions, asked of the archive as it stood at an earlier instant; embargoes are judged at that instant."
  asOf(
    "The instant; not in the future."
    instant: DateTime!
  ): Query
}
`;

/** Earlier views kept, newest use last. Each holds a whole archive, so few are kept. */
const KEPT = 2;
const kept = new WeakMap<Archive, Map<string, Promise<View>>>();

function asOf(archive: Archive, now: View, instant: string): Promise<View> {
  const until = new Date(instant).toISOString();
  // A future instant would lift embargoes early.
  if (until > new Date().toISOString()) {
    throw new CasebackError('BAD_INPUT', `instant ${instant} lies in the future; ask for a past one`);
  }
  const views = kept.get(archive) ?? new Map<string, Promise<View>>();
  kept.set(archive, views);
  const key = `${now.audience} ${until}`;
  const known = views.get(key);
  views.delete(key);
  // One fold at a time: each waits for the one asked for before it.
  const waited = Promise.allSettled(views.values());
  const view = known ?? waited.then(() => archive.asOf(until, now.audience));
  views.set(key, view);
  for (const oldest of views.keys()) {
    if (views.size <= KEPT) break;
    views.delete(oldest);
  }
  view.catch(() => views.delete(key));
  return view;
}

export const history: Domain = {
  schema,
  resolvers: {
    Query: {
      asOf: async (_root: unknown, { instant }: { instant: string }, context: Context): Promise<Root> => ({
        view: await asOf(context.archive, context.view, instant),
      }),
    },
  },
  weights: { 'Query.asOf': 5_000 },
};
