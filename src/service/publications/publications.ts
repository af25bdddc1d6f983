import { compareText } from '../../state/device-list.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';
import {
  type ClaimSource,
  claimSource,
  maybe,
  type PublicationSource,
  publicationSource,
  sourceSource,
} from '../sources/catalogue.ts';
import { ifItStands } from '../sources/decision.ts';
import { findNode } from '../sources/find.ts';

const schema = `
"Kinds of published publications."
enum PublicationKind {
  "A written article."
  ARTICLE
  "A film."
  VIDEO
  "A newsletter."
  NEWSLETTER
  "A single figure or table."
  FIGURE
}

"An article, video, newsletter or figure, with the claims it makes."
type Publication implements Node {
  "Id of the publication."
  id: ID!
  "Kind of the publication."
  kind: PublicationKind!
  "Its title."
  title: String!
  "When it was published; null while it is in the making."
  published: PartialDate
  "Who may see it."
  visibility: Visibility!
  "When the embargo ends, if there is one."
  embargoUntil: DateTime
  "The sentences it asserts, in its order."
  claims: [Claim!]!
  "A remark, in words."
  note: String
}

"One sentence of a publication, with what it rests on."
type Claim implements Node {
  "Id: publication, slash, local id."
  id: ID!
  "The publication that makes it."
  publication: Publication!
  "The sentence, as published."
  sentence: String!
  "What it rests on, as far as it may be seen."
  supportedBy: [Node!]!
  "Probability given for it, 0 to 1."
  probability: Float
  "Who judged."
  by: String
  "A remark, in words."
  note: String
}

"Where a fact from outside the bench comes from."
type Source implements Node {
  "Id of the source."
  id: ID!
  "Kind: \`standard\`, \`filing\`, \`data-sheet\`, \`paper\`, \`press\`, \`correspondence\` or \`other\`."
  kind: String!
  "Its title."
  title: String!
  "Where it lies, as a URL."
  url: String
  "Licence: SPDX identifier or a plain sentence."
  licence: String
  "When it was looked at."
  accessed: PartialDate
  "A remark, in words."
  note: String
}

${connectionTypes('Publication', 'publications')}

extend type Query {
  "One publication; null when nothing visible has the id."
  publication(
    "Id of the publication."
    id: ID!
  ): Publication
  "Publications, by id."
  publications(${PAGE_ARGUMENTS}): PublicationConnection!
  "One source; null when there is none with the id."
  source(
    "Id of the source."
    id: ID!
  ): Source
}
`;

export const publications: Domain = {
  schema,
  resolvers: {
    Query: {
      publication: (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, view.publication(id), publicationSource);
      },
      publications: (root: Root, page: PageArguments, context: Context) => {
        const view = viewOf(root, context);
        const found = view.publications().toSorted((a, b) => compareText(a.id, b.id));
        const listing = sortedListing('publications', found, ({ id }) => [id]);
        return paginate(listing, page, (one) => publicationSource(view, one));
      },
      source: (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, view.source(id), sourceSource);
      },
    },
    Publication: {
      kind: ({ kind }: PublicationSource) => kind.toUpperCase(),
      visibility: ({ visibility }: PublicationSource) => visibility.toUpperCase(),
      claims: ({ view, ...publication }: PublicationSource) =>
        publication.claims.map((claim) => claimSource(view, publication, claim)),
    },
    Claim: {
      publication: ({ view, publicationId }: ClaimSource) =>
        maybe(view, view.publication(publicationId), publicationSource),
      // A published sentence may rest on a record still hidden; its id must not show either.
      supportedBy: async ({ view, supportedBy }: ClaimSource) => {
        const found = await Promise.all(supportedBy.map((id) => ifItStands(findNode(view, id))));
        return found.filter((one) => one !== null);
      },
    },
  },
};
