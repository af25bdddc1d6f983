import {
  type DocumentNode,
  GraphQLError,
  type GraphQLSchema,
  getOperationAST,
  getVariableValues,
  type VariableDefinitionNode,
} from 'graphql/index.js';
import { type Cost, costOf } from './cost.ts';

/** What was found out about a document, once, before it is run. */
export interface Plan {
  readonly isQuery: boolean;
  readonly variables: readonly VariableDefinitionNode[];
  readonly cost: Cost;
}

/** Answers the plan of a document, made the first time it is seen. */
export function planner(
  schema: GraphQLSchema,
  weights: ReadonlyMap<string, number>,
): (document: DocumentNode, operationName: string | undefined) => Plan | undefined {
  // Mercurius keeps documents it has seen; a plan lives as long as its document.
  const plans = new WeakMap<DocumentNode, Plan>();
  return (document, operationName) => {
    const known = plans.get(document);
    if (known) return known;
    const operation = getOperationAST(document, operationName);
    const cost = costOf(schema, weights, document, operationName);
    if (!operation || !cost) return undefined;
    const { operation: kind, variableDefinitions: variables = [] } = operation;
    const plan = { isQuery: kind === 'query', variables, cost };
    plans.set(document, plan);
    return plan;
  };
}

/** Mistakes in the variables of a request. */
export class BadVariables extends Error {
  readonly errors: readonly GraphQLError[];

  constructor(errors: readonly GraphQLError[]) {
    super('the variables have mistakes');
    this.errors = errors;
  }
}

/**
 * The variables with their defaults filled in, as the GraphQL specification has it (section 6.1.2). Compiled
 * documents need this done for them: graphql-jit 0.8 forgets the defaults of non-null fields and variables.
 * @throws BadVariables
 */
export function coerceVariables(
  schema: GraphQLSchema,
  { variables }: Plan,
  given: Readonly<Record<string, unknown>>,
): Record<string, unknown> {
  const { errors, coerced } = getVariableValues(schema, variables, given, { maxErrors: 20 });
  if (errors) throw new BadVariables(errors);
  return coerced;
}

/** @throws GraphQLError with code OUT_OF_BUDGET when an operation asks for more work than allowed */
export function checkCost({ cost }: Plan, variables: Readonly<Record<string, unknown>>, limit: number): void {
  const work = cost(variables);
  if (work <= limit) return;
  throw new GraphQLError(
    `The query may ask for ${Math.round(work)} units of work (fields, times the items of each list); at most ${limit} are allowed. Ask for smaller pages or fewer fields.`,
    { extensions: { code: 'OUT_OF_BUDGET' } },
  );
}
