import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  buildASTSchema,
  concatAST,
  type DocumentNode,
  type GraphQLField,
  GraphQLObjectType,
  type GraphQLSchema,
  parse,
  Source,
} from 'graphql/index.js';
import { DEFAULT_PAGE, LARGEST_PAGE } from './page-sizes.ts';

/** The hand-written schema language, a file a subject. */
const FOLDER = join(import.meta.dirname, '../../schema/api');

/**
 * What the GraphQL Cursor Connections Specification names is said once, here, and left out of the files: the arguments,
 * and the fields of connections and edges.
 */
const PAGE_WORDS: Readonly<Record<string, string>> = {
  first: `Items from the start (or behind \`after\`), 0 to ${LARGEST_PAGE}; ${DEFAULT_PAGE} when neither this nor \`last\` is given.`,
  after: 'Only items behind this cursor.',
  last: `Items from the end (or ahead of \`before\`), 0 to ${LARGEST_PAGE}; not together with \`first\`.`,
  before: 'Only items ahead of this cursor.',
  edges: 'The items on this page, each with its cursor.',
  nodes: 'The items on this page, without cursors.',
  pageInfo: 'Where this page stands in the list.',
  totalCount: 'Number of items in the whole list.',
  cursor: 'Marks this place in the list; stays valid when the list grows or shrinks.',
  node: 'The item.',
};

/** The schema as its files have it, without resolvers. */
export function readSchema(): GraphQLSchema {
  const files = globSync('*.graphql', { cwd: FOLDER }).sort();
  // Whether it is valid is asked by tests, not at each start.
  const schema = buildASTSchema(concatAST(files.map(readFile)), { assumeValid: true });
  for (const type of Object.values(schema.getTypeMap())) {
    if (!(type instanceof GraphQLObjectType) || type.name.startsWith('__')) continue;
    const isPage = /(?:Connection|Edge)$/u.test(type.name);
    for (const field of Object.values(type.getFields())) {
      if (isPage) field.description ??= PAGE_WORDS[field.name];
      if (isConnection(field)) for (const arg of field.args) arg.description ??= PAGE_WORDS[arg.name];
    }
  }
  return schema;
}

function readFile(file: string): DocumentNode {
  return parse(new Source(readFileSync(join(FOLDER, file), 'utf8'), file), { noLocation: true });
}

const isConnection = ({ type }: GraphQLField<unknown, unknown>) => /Connection!?$/u.test(String(type));
