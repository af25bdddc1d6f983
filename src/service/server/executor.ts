import { createRequire } from 'node:module';
import {
  type DocumentNode,
  type ExecutionArgs,
  type ExecutionResult,
  execute,
  GraphQLError,
  type GraphQLSchema,
  getOperationAST,
  getVariableValues,
  Kind,
  NoSchemaIntrospectionCustomRule,
  OperationTypeNode,
  type SelectionSetNode,
  specifiedRules,
  type VariableDefinitionNode,
  validate,
} from 'graphql/index.js';
import type { CompiledQuery } from 'graphql-jit';
import { LRUCache } from 'lru-cache';
import { type Cost, costOf, tooMuchWork, weightsOf } from '../../api-schema/cost.ts';
import { depthRule } from '../../api-schema/depth.ts';
import { parseQuestion } from '../../api-schema/parse-question.ts';
import { variableMistake } from '../../api-schema/variable-mistake.ts';
import { inSpan } from '../../telemetry/spans.ts';
import { oneLine } from '../../text/plain-text.ts';
import type { Context } from '../graphql/context.ts';
import type { Limits } from './options.ts';
import { repeatedTooOften } from './repeats.ts';
import { sizeRule, tooLargeIn } from './sizes.ts';

const require = createRequire(import.meta.url);

/** Runs of an operation as written before it is compiled; many are asked but once. */
const COMPILE_AFTER = 2;

/**
 * Documents kept, and words and marks of them in all: read and compiled, each takes a kilobyte or two. What is wrong with others
 * is kept apart, as messages alone, so that they cannot crowd these out.
 */
const KEPT = { max: 1_000, maxSize: 100_000 };
const KEPT_WRONG = { max: 200, maxSize: 2 ** 20 };
/** Characters of a document; texts that are longer come as variables. */
const LONGEST = 1_000_000;
/** Characters of a document from which on nothing of it is kept. */
const LONG = 50_000;
/** Words and marks of a document from which on it is not compiled; that takes longer than reading it. */
const LARGE = 1_500;

/** One operation of a document, and what was found out about it. */
interface Operation {
  readonly isQuery: boolean;
  readonly name: string | undefined;
  /** Fields at the root of a mutation; 0 for a query. */
  readonly changes: number;
  readonly variables: readonly VariableDefinitionNode[];
  readonly cost: Cost;
  /** How often it ran. */
  runs: number;
  compiled?: CompiledQuery;
}

interface Kept {
  readonly document: DocumentNode;
  /** Words and marks in it. */
  readonly tokens: number;
  /** By name as asked for; undefined for none. */
  readonly operations: Map<string | undefined, Operation>;
}

/** Mistakes of a document or its variables: the request never ran. */
export class NotRun extends Error {
  readonly errors: readonly GraphQLError[];

  constructor(errors: readonly GraphQLError[]) {
    super('the request has mistakes');
    this.errors = errors;
  }
}

/**
 * Runs operations over a schema. A document is read, validated and weighed once; an operation asked for again and again is
 * compiled to code of its own (graphql-jit), which answers as the reference implementation does.
 */
export class Executor {
  readonly #schema: GraphQLSchema;
  readonly #limits: Limits;
  readonly #weights: ReadonlyMap<string, number>;
  readonly #rules;
  readonly #kept = new LRUCache<string, Kept>({ ...KEPT, sizeCalculation: ({ tokens }) => tokens });
  readonly #wrong = new LRUCache<string, readonly GraphQLError[]>({
    ...KEPT_WRONG,
    sizeCalculation: (_, text) => text.length + 1,
  });

  constructor(schema: GraphQLSchema, limits: Limits, introspection = true) {
    this.#schema = schema;
    this.#limits = limits;
    this.#weights = weightsOf(schema);
    this.#rules = [
      ...specifiedRules,
      depthRule(limits.depth),
      sizeRule,
      ...(introspection ? [] : [NoSchemaIntrospectionCustomRule]),
    ];
  }

  /**
   * Answers an operation.
   * @param mayChange called before a mutation runs; it throws where that is not allowed
   * @param started told what is about to run, and its work
   * @throws NotRun for mistakes of the document or the variables, and for more work than is allowed
   */
  run(
    { query, operationName, variables: given }: Asked,
    context: Context,
    mayChange: () => void,
    started: (operation: Started) => void = () => undefined,
  ): ExecutionResult | Promise<ExecutionResult> {
    const { document, operation, tokens } = this.#operationOf(query, operationName);
    const { isQuery, name } = operation;
    if (!isQuery) mayChange();
    const variables = this.#coerced(operation, given);
    const work = this.#checkedCost(operation, variables);
    started({ isQuery, name, work });
    const { compiled } = operation;
    // A source that is not there: the view of the context answers.
    if (compiled) return inSpan('graphql.execute', {}, () => compiled.query(undefined, context, variables));
    if (++operation.runs > COMPILE_AFTER && tokens <= LARGE) {
      const { compileQuery, isCompiledQuery } = compiler();
      const made = compileQuery(this.#schema, document, operationName, {
        // Resolvers are typed by the schema; what they give needs no second look.
        disableLeafSerialization: true,
      });
      if (isCompiledQuery(made)) operation.compiled = made;
    }
    return inSpan('graphql.execute', {}, () =>
      execute({
        schema: this.#schema,
        document,
        contextValue: context,
        variableValues: given,
        operationName,
      }),
    );
  }

  /**
   * What it takes to run a subscription, and its work.
   * @throws NotRun for mistakes of the document or the variables, for more work than is allowed, and for anything but a subscription
   */
  subscription({ query, operationName, variables }: Asked): ExecutionArgs & { readonly work: number } {
    const { document, operation } = this.#operationOf(query, operationName, OperationTypeNode.SUBSCRIPTION);
    const work = this.#checkedCost(operation, this.#coerced(operation, variables));
    return { schema: this.#schema, document, operationName, variableValues: variables, work };
  }

  /**
   * How many changes an operation asks for; 0 for a query.
   * @throws NotRun for mistakes of the document
   */
  changes({ query, operationName }: Asked): number {
    return this.#operationOf(query, operationName).operation.changes;
  }

  #operationOf(query: string, name: string | undefined, wanted?: OperationTypeNode.SUBSCRIPTION) {
    const { document, operations, tokens } = this.#read(query);
    const isSubscription = getOperationAST(document, name)?.operation === OperationTypeNode.SUBSCRIPTION;
    if (isSubscription !== (wanted !== undefined))
      throw new NotRun([new GraphQLError(isSubscription ? OVER_WEBSOCKET : OVER_HTTP)]);
    let operation = operations.get(name);
    if (!operation) {
      operation = this.#operation(document, name);
      operations.set(name, operation);
    }
    return { document, operation, tokens };
  }

  #read(text: string): Kept {
    const kept = this.#kept.get(text);
    if (kept) return kept;
    if (text.length > LONGEST)
      throw new NotRun([
        new GraphQLError(
          `The document has ${text.length.toLocaleString('en')} characters; at most ${LONGEST.toLocaleString('en')}. Send texts as variables.`,
          { extensions: { code: 'TOO_LARGE' } },
        ),
      ]);
    const wrong = this.#wrong.get(text) ?? [];
    if (wrong.length > 0) throw new NotRun(wrong);
    try {
      const document = inSpan('graphql.parse', {}, () => parseQuestion(text, this.#limits.tokens));
      const errors = inSpan('graphql.validate', {}, () => {
        const repeated = repeatedTooOften(document);
        return repeated ? [repeated] : validate(this.#schema, document, this.#rules, { maxErrors: 20 });
      });
      if (errors.length > 0) throw new NotRun(errors);
      const tokens = tokensOf(document);
      const read = { document, tokens, operations: new Map<string | undefined, Operation>() };
      if (text.length <= LONG) this.#kept.set(text, read);
      return read;
    } catch (error) {
      const errors = (error instanceof NotRun ? error.errors : [error as Error]).map(toldAlone);
      if (text.length <= LONG) this.#wrong.set(text, errors);
      throw new NotRun(errors);
    }
  }

  #operation(document: DocumentNode, name: string | undefined): Operation {
    const node = getOperationAST(document, name);
    const cost = costOf(this.#schema, this.#weights, document, name);
    if (!node || !cost) {
      const message =
        name === undefined
          ? 'The document has several operations; name one in operationName'
          : 'The document has no operation of that name';
      throw new NotRun([new GraphQLError(message)]);
    }
    const isQuery = node.operation === OperationTypeNode.QUERY;
    const changes = isQuery ? 0 : rootFields(document, node.selectionSet);
    const variables = node.variableDefinitions ?? [];
    return { isQuery, changes, name: node.name?.value, variables, cost, runs: 0 };
  }

  /**
   * The variables with their defaults filled in, as the GraphQL specification has it (section 6.1.2). Compiled documents
   * need this done for them: graphql-jit 0.8 forgets the defaults of non-null fields and variables.
   */
  #coerced(
    { variables, isQuery }: Operation,
    given: Readonly<Record<string, unknown>>,
  ): Record<string, unknown> {
    if (variables.length === 0) return NONE;
    const tooLarge = tooLargeIn(given, !isQuery);
    if (tooLarge) throw new NotRun([tooLarge]);
    const { errors, coerced } = getVariableValues(this.#schema, variables, given, { maxErrors: 20 });
    if (errors)
      throw new NotRun(
        errors.map((error) => new GraphQLError(variableMistake(this.#schema, error), { nodes: error.nodes })),
      );
    return coerced;
  }

  #checkedCost({ cost }: Operation, variables: Readonly<Record<string, unknown>>): number {
    const work = cost(variables);
    const limit = this.#limits.cost;
    if (work <= limit) return work;
    throw new NotRun([new GraphQLError(tooMuchWork(work, limit), { extensions: { code: 'OUT_OF_BUDGET' } })]);
  }
}

/** What compiles operations: loaded with the first that is worth it. */
function compiler(): typeof import('graphql-jit') {
  return require('graphql-jit');
}

const OVER_WEBSOCKET =
  'A subscription runs over WebSocket, by the protocol graphql-transport-ws, at the same address';
const OVER_HTTP = 'Only subscriptions run over WebSocket; send queries and mutations by POST';
const NONE: Record<string, unknown> = {};

/** Fields of a selection by the names that they answer to, those of fragments included. */
function rootFields(document: DocumentNode, selection: SelectionSetNode): number {
  const names = new Set<string>();
  const collect = ({ selections }: SelectionSetNode): void => {
    for (const one of selections) {
      if (one.kind === Kind.FIELD) names.add((one.alias ?? one.name).value);
      else if (one.kind === Kind.INLINE_FRAGMENT) collect(one.selectionSet);
      else
        for (const part of document.definitions)
          if (part.kind === Kind.FRAGMENT_DEFINITION && part.name.value === one.name.value)
            collect(part.selectionSet);
    }
  };
  collect(selection);
  return names.size;
}

/** Words and marks of a document, which its parser has linked to one another. */
function tokensOf({ loc }: DocumentNode): number {
  let tokens = 0;
  for (let token = loc?.startToken; token; token = token.next ?? undefined) tokens++;
  return tokens;
}

/** The error without the document that it was found in, which would be kept with it. */
function toldAlone(error: Error): GraphQLError {
  if (error instanceof RangeError)
    return new GraphQLError('The document nests too deep', { extensions: { code: 'OUT_OF_BUDGET' } });
  const { locations, extensions } = error as GraphQLError;
  const alone = new GraphQLError(oneLine(error.message, 400), { extensions: extensions ?? {} });
  Object.defineProperty(alone, 'locations', {
    value: locations?.map(({ line, column }) => ({ line, column })),
  });
  return alone;
}

/** An operation that is about to run. */
export interface Started {
  readonly isQuery: boolean;
  readonly name: string | undefined;
  /** Units of one plain field. */
  readonly work: number;
}

/** What a request asks for (GraphQL over HTTP, section "Request Parameters"). */
export interface Asked {
  readonly query: string;
  readonly operationName: string | undefined;
  readonly variables: Readonly<Record<string, unknown>>;
  /** A state token: what the asker has seen must be known before this is answered. */
  readonly state?: string;
}
