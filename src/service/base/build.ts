import {
  buildSchema,
  GraphQLError,
  type GraphQLFieldResolver,
  GraphQLInterfaceType,
  GraphQLObjectType,
  GraphQLScalarType,
  type GraphQLSchema,
  valueFromASTUntyped,
} from 'graphql/index.js';
import type { Context, Domain } from './domain.ts';

/**
 * One schema of all domains, with their resolvers.
 * @throws Error when a resolver or scalar names something that the schema does not have
 */
export function buildServiceSchema(domains: readonly Domain[]): GraphQLSchema {
  const schema = buildSchema(domains.map((domain) => domain.schema).join('\n'));
  for (const { resolvers, scalars = {}, weights = {} } of domains) {
    for (const [type, fields] of Object.entries(resolvers)) {
      for (const [field, resolve] of Object.entries(fields)) {
        // Each resolver states its own source and arguments; the schema is what makes them true.
        fieldOf(schema, type, field).resolve = resolve as unknown as GraphQLFieldResolver<unknown, Context>;
      }
    }
    for (const [name, check] of Object.entries(scalars)) checkScalar(schema, name, check);
    for (const key of Object.keys(weights)) {
      const [type, field] = key.split('.');
      fieldOf(schema, type, field);
    }
  }
  for (const type of Object.values(schema.getTypeMap())) {
    if (type instanceof GraphQLInterfaceType) {
      type.resolveType = (source: { readonly __typename: string }) => source.__typename;
    }
  }
  return schema;
}

function fieldOf(schema: GraphQLSchema, typeName: string, fieldName: string) {
  const type = schema.getType(typeName);
  const field = type instanceof GraphQLObjectType ? type.getFields()[fieldName] : undefined;
  if (!field) throw new Error(`the schema has no field ${typeName}.${fieldName}`);
  return field;
}

function checkScalar(schema: GraphQLSchema, name: string, check: (value: unknown) => unknown): void {
  const type = schema.getType(name);
  if (!(type instanceof GraphQLScalarType)) throw new Error(`the schema has no scalar ${name}`);
  const parse = (value: unknown) => {
    try {
      return check(value);
    } catch (error) {
      throw new GraphQLError((error as Error).message);
    }
  };
  type.parseValue = parse;
  type.parseLiteral = (literal, variables) => parse(valueFromASTUntyped(literal, variables));
}

/** Weights of all domains in one table. */
export function allWeights(domains: readonly Domain[]): ReadonlyMap<string, number> {
  return new Map(domains.flatMap(({ weights = {} }) => Object.entries(weights)));
}
