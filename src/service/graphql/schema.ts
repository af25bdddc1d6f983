import {
  GraphQLError,
  type GraphQLFieldResolver,
  GraphQLInterfaceType,
  GraphQLObjectType,
  GraphQLScalarType,
  type GraphQLSchema,
  printSchema,
  valueFromASTUntyped,
} from 'graphql/index.js';
import { readSchema } from '../../api-schema/read-schema.ts';
import type { Context } from './context.ts';
import { allow } from './permissions.ts';
import { RESOLVERS } from './resolvers.ts';
import { SCALARS } from './scalars.ts';

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
        if (typeName === 'Subscription') {
          Object.assign(field, resolve);
          continue;
        }
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
