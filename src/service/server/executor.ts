import {
  type DocumentNode,
  type ExecutionResult,
  execute,
  GraphQLError,
  type GraphQLSchema,
  getOperationAST,
  getVariableValues,
  OperationTypeNode,
  parse,
  specifiedRules,
  type VariableDefinitionNode,
  validate,
} from 'graphql/index.js';
import { type CompiledQuery, compileQuery, isCompiledQuery } from 'graphql-jit';
import { LRUCache } from 'lru-cache';
import type { Context } from '../graphql/context.ts';
import { weightsOf } from '../graphql/schema.ts';
import { type Cost, costOf } from './cost.ts';
import { depthRule } from './depth.ts';
import type { Limits } from './options.ts';

/** Runs of an operation as written before it is compiled; many are asked but once. */
const COMPILE_AFTER = 2;

/** Documents kept, and characters of them in all. Wrong ones are kept apart, so that they cannot crowd out the others. */
const KEPT = {
  max: 1_000,
  maxSize: 16 * 2 ** 20,
  sizeCalculation: (_: unknown, text: string) => text.length + 1,
};

/** One operation of a document, and what was found out about it. */
interface Operation {
  readonly isQuery: boolean;
  readonly variables: readonly VariableDefinitionNode[];
  readonly cost: Cost;
  /** How often it ran. */
  runs: number;
  compiled?: CompiledQuery;
}

interface Kept {
  readonly document: DocumentNode;
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
  readonly #kept = new LRUCache<string, Kept>(KEPT);
  readonly #wrong = new LRUCache<string, readonly GraphQLError[]>(KEPT);

  constructor(schema: GraphQLSchema, limits: Limits) {
    this.#schema = schema;
    this.#limits = limits;
    this.#weights = weightsOf(schema);
    this.#rules = [...specifiedRules, depthRule(limits.depth)];
  }

  /**
   * Answers an operation.
   * @param mayChange called before a mutation runs; it throws where that is not allowed
   * @throws NotRun for mistakes of the document or the variables, and for more work than is allowed
   */
  run(
    { query, operationName, variables: given }: Asked,
    context: Context,
    mayChange: () => void,
  ): ExecutionResult | Promise<ExecutionResult> {
    const { document, operations } = this.#read(query);
    let operation = operations.get(operationName);
    if (!operation) {
      operation = this.#operation(document, operationName);
      operations.set(operationName, operation);
    }
    if (!operation.isQuery) mayChange();
    const variables = this.#coerced(operation, given);
    this.#checkCost(operation, variables);
    const { compiled } = operation;
    // A source that is not there: the view of the context answers.
    if (compiled) return compiled.query(undefined, context, variables);
    if (++operation.runs > COMPILE_AFTER) {
      const made = compileQuery(this.#schema, document, operationName, {
        // Resolvers are typed by the schema; what they give needs no second look.
        disableLeafSerialization: true,
      });
      if (isCompiledQuery(made)) operation.compiled = made;
    }
    return execute({
      schema: this.#schema,
      document,
      contextValue: context,
      variableValues: given,
      operationName,
    });
  }

  #read(text: string): Kept {
    const kept = this.#kept.get(text);
    if (kept) return kept;
    const wrong = this.#wrong.get(text) ?? [];
    if (wrong.length > 0) throw new NotRun(wrong);
    try {
      const document = parse(text, { maxTokens: this.#limits.tokens });
      const errors = validate(this.#schema, document, this.#rules, { maxErrors: 20 });
      if (errors.length > 0) throw new NotRun(errors);
      const read = { document, operations: new Map<string | undefined, Operation>() };
      this.#kept.set(text, read);
      return read;
    } catch (error) {
      const errors = error instanceof NotRun ? error.errors : [error as GraphQLError];
      this.#wrong.set(text, errors);
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
    return { isQuery, variables: node.variableDefinitions ?? [], cost, runs: 0 };
  }

  /**
   * The variables with their defaults filled in, as the GraphQL specification has it (section 6.1.2). Compiled documents
   * need this done for them: graphql-jit 0.8 forgets the defaults of non-null fields and variables.
   */
  #coerced({ variables }: Operation, given: Readonly<Record<string, unknown>>): Record<string, unknown> {
    if (variables.length === 0) return NONE;
    const { errors, coerced } = getVariableValues(this.#schema, variables, given, { maxErrors: 20 });
    if (errors) throw new NotRun(errors);
    return coerced;
  }

  #checkCost({ cost }: Operation, variables: Readonly<Record<string, unknown>>): void {
    const work = cost(variables);
    const limit = this.#limits.cost;
    if (work <= limit) return;
    throw new NotRun([
      new GraphQLError(
        `The query may ask for ${Math.round(work)} units of work (fields, times the items of each list); at most ${limit} are allowed. Ask for smaller pages or fewer fields.`,
        { extensions: { code: 'OUT_OF_BUDGET' } },
      ),
    ]);
  }
}

const NONE: Record<string, unknown> = {};

/** What a request asks for (GraphQL over HTTP, section "Request Parameters"). */
export interface Asked {
  readonly query: string;
  readonly operationName: string | undefined;
  readonly variables: Readonly<Record<string, unknown>>;
}
