import type { Domain } from '../base/domain.ts';
import { DEFAULT_PAGE, LARGEST_PAGE } from './paginate.ts';

/** Arguments that every list takes, for use inside a field's parentheses. */
export const PAGE_ARGUMENTS = `
    "Items from the start (or behind \`after\`), 0 to ${LARGEST_PAGE}; ${DEFAULT_PAGE} when neither this nor \`last\` is given."
    first: Int
    "Only items behind this cursor."
    after: String
    "Items from the end (or ahead of \`before\`), 0 to ${LARGEST_PAGE}; not together with \`first\`."
    last: Int
    "Only items ahead of this cursor."
    before: String
`;

/**
 * SDL of the edge and connection types over a node type (GraphQL Cursor Connections Specification).
 * @param plural what the items are, in a word or two, for the descriptions
 * @param more further fields of the connection
 */
export function connectionTypes(node: string, plural: string, more = '', moreOnEdge = ''): string {
  return `
"One page of ${plural}."
type ${node}Connection {
  "The ${plural} on this page, each with its cursor."
  edges: [${node}Edge!]!
  "The ${plural} on this page, without cursors."
  nodes: [${node}!]!
  "Where this page stands in the list."
  pageInfo: PageInfo!
  "Number of items in the whole list."
  totalCount: Int!
  ${more}
}

"One of the ${plural}, with its place in the list."
type ${node}Edge {
  "Marks this place in the list; stays valid when the list grows or shrinks."
  cursor: String!
  "The item."
  node: ${node}!
  ${moreOnEdge}
}
`;
}

export const connections: Domain = {
  schema: `
"Where a page stands in its list."
type PageInfo {
  "Whether items follow behind this page."
  hasNextPage: Boolean!
  "Whether items stand ahead of this page."
  hasPreviousPage: Boolean!
  "Cursor of the first item; null on an empty page."
  startCursor: String
  "Cursor of the last item; null on an empty page."
  endCursor: String
}

"Which way a list is sorted."
enum Direction {
  "Smallest, earliest or first in the alphabet first."
  ASC
  "Largest, latest or last in the alphabet first."
  DESC
}
`,
  resolvers: {},
};
