import { documentIdOf } from '../../../api-schema/document-id.ts';
import { feedSchema } from '../../../model/catalogue.ts';
import { CasebackError } from '../../../model/problems.ts';
import { VISIBILITIES } from '../../../model/visibility.ts';
import { storeFeed } from '../../../questions/feeds.ts';
import { resolved } from '../../../state/resolve.ts';
import { authorship, entrySource, recordOf } from '../changes/input.ts';
import { type FeedTold, viewOf } from '../context.ts';
import { sortedListing } from '../listing.ts';
import { itself, marks } from '../marks.ts';
import { paginate } from '../paginate.ts';
import type { Resolvers } from '../resolver-types.ts';
import { feedSource, maybe } from '../sources.ts';
import { enumWord } from '../words.ts';

/** Stored questions with an address of their own. */
export const feeds: Resolvers = {
  Query: {
    feed: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.feed(id), feedSource);
    },
    feeds: (root, page, context) => {
      const view = viewOf(root, context);
      const listing = sortedListing('feeds', view.feeds().toSorted(byId), ({ id }) => [id]);
      return paginate(listing, page, (one) => feedSource(view, one));
    },
  },
  Mutation: {
    saveFeed: async (_root, { input: { actor, reason, visibility, ...given } }, { archive, view, who }) => {
      const by = authorship({ actor, reason }, who);
      const record = { ...given, visibility: enumWord(VISIBILITIES, visibility) };
      const feed = recordOf(feedSchema, record, 'input');
      const entry = await storeFeed(archive, view, feed, by);
      const now = archive.state(view.audience);
      return { feed: maybe(now, now.feed(feed.id), feedSource), entry: entry && entrySource(entry) };
    },
  },
  Subscription: {
    feedChanged: {
      resolve: ({ feed, digest, since }: FeedTold) => ({ feed: feed.id, digest, since }),
      subscribe: (_root, { id }, { view, feedChanges }) => {
        const { thing } = resolved(view, id, ['Feed']);
        if (feedChanges) return feedChanges(thing.id);
        throw new CasebackError('BAD_INPUT', 'Subscriptions run over WebSocket');
      },
    },
  },
  Feed: { ...marks(itself, 'published'), documentId: ({ question }) => documentIdOf(question) },
};

const byId = (a: { readonly id: string }, b: { readonly id: string }) => (a.id < b.id ? -1 : 1);
