import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  buildASTSchema,
  concatAST,
  GraphQLError,
  type GraphQLField,
  type GraphQLFieldResolver,
  GraphQLInterfaceType,
  GraphQLObjectType,
  GraphQLScalarType,
  type GraphQLSchema,
  parse,
  printSchema,
  Source,
  valueFromASTUntyped,
} from 'graphql/index.js';
import type { Context } from './context.ts';
import { DEFAULT_PAGE, LARGEST_PAGE } from './paginate.ts';
import { allow } from './permissions.ts';
import { RESOLVERS } from './resolvers.ts';
import { SCALARS } from './scalars.ts';

/** The hand-written schema language, a file a subject. */
const FOLDER = join(import.meta.dirname, '../../../schema/api');

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
  const schema = buildASTSchema(
    concatAST(files.map((file) => parse(new Source(readFileSync(join(FOLDER, file), 'utf8'), file)))),
  );
  for (const type of objectTypes(schema)) {
    const isPage = /(?:Connection|Edge)$/u.test(type.name);
    for (const field of Object.values(type.getFields())) {
      if (isPage) field.description ??= PAGE_WORDS[field.name];
      if (isConnection(field)) for (const arg of field.args) arg.description ??= PAGE_WORDS[arg.name];
    }
  }
  return schema;
}

/**
 * The schema with everything that answers it.
 * @throws Error when a resolver or scalar names something that the schema does not have
 */
export function serviceSchema(): GraphQLSchema {
  const schema = readSchema();
  for (const resolvers of RESOLVERS) {
    for (const [typeName, fields] of Object.entries(resolvers)) {
      const type = schema.getType(typeName);
      for (const [name, resolve] of Object.entries(fields)) {
        const field = type instanceof GraphQLObjectType ? type.getFields()[name] : undefined;
        if (!field) throw new Error(`the schema has no field ${typeName}.${name}`);
        const resolver = resolve as GraphQLFieldResolver<unknown, Context>;
        field.resolve = typeName === 'Mutation' ? allowed(name, resolver) : resolver;
      }
    }
  }
  for (const [name, check] of Object.entries(SCALARS)) checkScalar(schema, name, check);
  for (const type of Object.values(schema.getTypeMap())) {
    if (type instanceof GraphQLInterfaceType)
      type.resolveType = (source: { readonly __typename: string }) => source.__typename;
  }
  return schema;
}

/** A mutation that asks the asker's role first. */
function allowed(
  name: string,
  resolve: GraphQLFieldResolver<unknown, Context>,
): GraphQLFieldResolver<unknown, Context> {
  return async (root, args, context, info) => {
    allow(name, context);
    return resolve(root, args, context, info);
  };
}

/** The schema as one text, as it stands at `/schema.graphql`. */
export function printedSchema(): string {
  return `# What the query service promises.\n\n${printSchema(readSchema())}\n`;
}

/** The weight of each field that has one, by `Type.field`: see `@cost` in the schema. */
export function weightsOf(schema: GraphQLSchema): ReadonlyMap<string, number> {
  return new Map(
    objectTypes(schema).flatMap((type) =>
      Object.values(type.getFields()).flatMap((field): [string, number][] => {
        const weight = field.astNode?.directives?.find(({ name }) => name.value === 'cost')?.arguments?.[0]
          .value;
        return weight?.kind === 'IntValue' ? [[`${type.name}.${field.name}`, Number(weight.value)]] : [];
      }),
    ),
  );
}

const objectTypes = (schema: GraphQLSchema) =>
  Object.values(schema.getTypeMap()).filter(
    (type): type is GraphQLObjectType => type instanceof GraphQLObjectType && !type.name.startsWith('__'),
  );

const isConnection = ({ type }: GraphQLField<unknown, unknown>) => /Connection!?$/u.test(String(type));

function checkScalar(schema: GraphQLSchema, name: string, check: (value: unknown) => unknown): void {
  const type = schema.getType(name);
  if (!(type instanceof GraphQLScalarType)) throw new Error(`the schema has no scalar ${name}`);
  const parseValue = (value: unknown) => {
    try {
      return check(value);
    } catch (error) {
      throw new GraphQLError((error as Error).message);
    }
  };
  type.parseValue = parseValue;
  type.parseLiteral = (literal, variables) => parseValue(valueFromASTUntyped(literal, variables));
}
