import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { ifItStands } from '../sources/decision.ts';
import { findNode } from '../sources/find.ts';

export const node: Domain = {
  schema: `
"Anything that has an id of its own in the archive."
interface Node {
  "Global id: \`device\`, \`device/specimen\`, \`device/specimen/U3\`, \`maker/part\`, \`publication/claim\`, \`device:pattern\`, or the plain id of another record."
  id: ID!
}

"The questions that the archive answers."
type Query {
  "The thing with a global id, whatever its kind; null when nothing visible has it."
  node(
    "Global id."
    id: ID!
  ): Node
}
`,
  resolvers: {
    Query: {
      node: (root: Root, { id }: { id: string }, context: Context) =>
        ifItStands(findNode(viewOf(root, context), id)),
    },
  },
};
