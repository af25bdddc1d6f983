import { CasebackError } from '../../model/problems.ts';
import type { SearchHit, SearchKind } from '../../state/search-index.ts';
import type { View } from '../../state/view.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { rankedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';
import { findNode } from '../sources/find.ts';

/** Hits that are looked at for one question; more are not counted. */
const MOST_HITS = 10_000;
/** Characters of a question. */
const LONGEST_QUESTION = 200;

const schema = `
"Kinds of things that a search finds."
enum SearchKind {
  "Devices, by name, maker, line, body site and date."
  DEVICE
  "Makers, by name."
  MAKER
  "Product lines, by name."
  PRODUCT_LINE
  "Parts, by number, name, category, package and known marking."
  PART
  "Publications, by title and the sentences of their claims."
  PUBLICATION
  "Components, by designator, marking, package and candidates."
  COMPONENT
  "Observations, by words and marking."
  OBSERVATION
}

"Something a search found."
type SearchHit {
  "Global id of what was found."
  id: ID!
  "Kind of what was found."
  kind: SearchKind!
  "A short title for lists."
  title: String!
  "What was found."
  node: Node
}

${connectionTypes(
  'SearchHit',
  'hits',
  `"False when counting stopped at ${MOST_HITS} hits; a longer question narrows them down."
  complete: Boolean!`,
)}

extend type Query {
  "Full-text search, best hits first. Every word of the question must begin a word of what is found."
  search(
    "Words, or beginnings of words; at most ${LONGEST_QUESTION} characters."
    text: String!
    "Only these kinds; all when not given."
    kinds: [SearchKind!]
    ${PAGE_ARGUMENTS}
  ): SearchHitConnection!
}
`;

interface SearchArguments extends PageArguments {
  readonly text: string;
  readonly kinds?: readonly SearchKind[] | null;
}

function pageOfHits(view: View, { text, kinds, ...page }: SearchArguments) {
  if (text.length > LONGEST_QUESTION) {
    throw new CasebackError(
      'BAD_INPUT',
      `text has ${text.length} characters; at most ${LONGEST_QUESTION} are searched for`,
    );
  }
  const hits: SearchHit[] = [];
  for (const hit of view.search(text, kinds ? new Set(kinds) : undefined)) {
    if (hits.push(hit) > MOST_HITS) break;
  }
  const complete = hits.length <= MOST_HITS;
  const listing = rankedListing('hits', complete ? hits : hits.slice(0, MOST_HITS), ({ id }) => id);
  const connection = paginate(listing, page, (hit) => ({ ...hit, view }));
  return Object.assign(connection, { complete });
}

export const search: Domain = {
  schema,
  resolvers: {
    Query: {
      search: (root: Root, args: SearchArguments, context: Context) =>
        pageOfHits(viewOf(root, context), args),
    },
    SearchHit: { node: ({ view, id }: SearchHit & { readonly view: View }) => findNode(view, id) },
  },
  weights: { 'Query.search': 500 },
};
