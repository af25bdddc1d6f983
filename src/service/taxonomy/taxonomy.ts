import { lineage, meaningOf, TERM_PARENTS, TERMS } from '../../model/taxonomy.ts';
import type { Domain } from '../base/domain.ts';

const schema = `
"A term of the component taxonomy."
type Term {
  "The term."
  name: String!
  "The sentence that explains it."
  meaning: String!
  "The term right above it; null for \`Component\`, the root."
  parent: String
  "Everything above it, nearest first."
  above: [String!]!
  "Terms right below it."
  below: [String!]!
}

extend type Query {
  "The component taxonomy, in its own order: general terms ahead of special ones."
  taxonomy(
    "Only this term and what stands under it."
    under: String
  ): [Term!]!
}
`;

const below = new Map(
  TERMS.map((term) => [term, TERM_PARENTS.filter(([, parent]) => parent === term).map(([child]) => child)]),
);
const terms = TERMS.map((name) => {
  const [, ...above] = lineage(name);
  return { name, meaning: meaningOf(name), parent: above[0] ?? null, above, below: below.get(name) };
});

export const taxonomy: Domain = {
  schema,
  resolvers: {
    Query: {
      taxonomy: (_root: unknown, { under }: { under?: string | null }) =>
        under ? terms.filter(({ name, above }) => name === under || above.includes(under)) : terms,
    },
  },
};
