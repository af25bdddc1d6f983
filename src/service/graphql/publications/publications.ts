import { publicationItem, sourceItem } from '../../../citation/csl.ts';
import { compareText } from '../../../state/lists/device-list.ts';
import { viewOf } from '../context.ts';
import { sortedListing } from '../listing.ts';
import { itself, marks, recalled } from '../marks.ts';
import { findThing } from '../node.ts';
import { paginate } from '../paginate.ts';
import type { Resolvers } from '../resolver-types.ts';
import { claimSource, maybe, publicationSource, sourceSource } from '../sources.ts';
import { enumName } from '../words.ts';

/** Publications with their sentences, and sources. */
export const publications: Resolvers = {
  Query: {
    publication: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.publication(id), publicationSource);
    },
    publications: (root, page, context) => {
      const view = viewOf(root, context);
      const found = view.publications().toSorted((a, b) => compareText(a.id, b.id));
      const listing = sortedListing('publications', found, ({ id }) => [id]);
      return paginate(listing, page, (one) => publicationSource(view, one));
    },
    source: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.source(id), sourceSource);
    },
  },
  Publication: {
    kind: ({ kind }) => enumName(kind),
    visibility: ({ visibility }) => enumName(visibility),
    recalled,
    citation: publicationItem,
    claims: ({ view, ...publication }) =>
      publication.claims.map((claim) => claimSource(view, publication, claim)),
  },
  Source: {
    ...marks(itself, 'published'),
    recalled,
    kind: ({ kind }) => enumName(kind),
    citation: sourceItem,
  },
  Claim: {
    ...marks(itself),
    publication: ({ view, publicationId }) => maybe(view, view.publication(publicationId), publicationSource),
    // A published sentence may be supported by a record still hidden; its id must not show either.
    supportedBy: async ({ view, supportedBy }) => {
      const found = await Promise.all(supportedBy.map((id) => findThing(view, id)));
      return found.filter((one) => one !== null);
    },
  },
};
