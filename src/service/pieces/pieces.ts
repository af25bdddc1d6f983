import { compareText } from '../../state/device-list.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';
import {
  type ClaimSource,
  claimSource,
  maybe,
  type PieceSource,
  pieceSource,
  sourceSource,
} from '../sources/catalogue.ts';
import { ifItStands } from '../sources/decision.ts';
import { findNode } from '../sources/find.ts';

const schema = `
"Kinds of published pieces."
enum PieceKind {
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
type Piece implements Node {
  "Id of the piece."
  id: ID!
  "Kind of the piece."
  kind: PieceKind!
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

"One sentence of a piece, with what it rests on."
type Claim implements Node {
  "Id: piece, slash, local id."
  id: ID!
  "The piece that makes it."
  piece: Piece!
  "The sentence, as published."
  sentence: String!
  "What it rests on, as far as it may be seen."
  restsOn: [Node!]!
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

${connectionTypes('Piece', 'pieces')}

extend type Query {
  "One piece; null when nothing visible has the id."
  piece(
    "Id of the piece."
    id: ID!
  ): Piece
  "Pieces, by id."
  pieces(${PAGE_ARGUMENTS}): PieceConnection!
  "One source; null when there is none with the id."
  source(
    "Id of the source."
    id: ID!
  ): Source
}
`;

export const pieces: Domain = {
  schema,
  resolvers: {
    Query: {
      piece: (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, view.piece(id), pieceSource);
      },
      pieces: (root: Root, page: PageArguments, context: Context) => {
        const view = viewOf(root, context);
        const found = view.pieces().toSorted((a, b) => compareText(a.id, b.id));
        const listing = sortedListing('pieces', found, ({ id }) => [id]);
        return paginate(listing, page, (one) => pieceSource(view, one));
      },
      source: (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, view.source(id), sourceSource);
      },
    },
    Piece: {
      kind: ({ kind }: PieceSource) => kind.toUpperCase(),
      visibility: ({ visibility }: PieceSource) => visibility.toUpperCase(),
      claims: ({ view, ...piece }: PieceSource) =>
        piece.claims.map((claim) => claimSource(view, piece, claim)),
    },
    Claim: {
      piece: ({ view, pieceId }: ClaimSource) => maybe(view, view.piece(pieceId), pieceSource),
      // A published sentence may rest on a record still hidden; its id must not show either.
      restsOn: async ({ view, restsOn }: ClaimSource) => {
        const found = await Promise.all(restsOn.map((id) => ifItStands(findNode(view, id))));
        return found.filter((one) => one !== null);
      },
    },
  },
};
