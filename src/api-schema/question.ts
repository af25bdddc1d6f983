import {
  type DocumentNode,
  GraphQLError,
  type GraphQLSchema,
  getOperationAST,
  getVariableValues,
  OperationTypeNode,
  parse,
  specifiedRules,
  TypeInfo,
  validate,
  visit,
  visitWithTypeInfo,
} from 'graphql/index.js';
import { costOf, tooMuchWork, weightsOf } from './cost.ts';
import { depthRule } from './depth.ts';
import { parseQuestion } from './parse-question.ts';
import { QUESTION_LIMITS } from './question-limits.ts';
import { readSchema } from './read-schema.ts';
import { variableMistake } from './variable-mistake.ts';

/** Something wrong with a stored question, and where in its text; no place for a mistake of the variables. */
export interface QuestionMistake {
  readonly in: 'question' | 'variables';
  readonly what: string;
  /** From 1, in the text of the question. */
  readonly line?: number;
  readonly column?: number;
}

/** Mistakes told of one question. */
const MOST_TOLD = 10;

const { tokens: MOST_TOKENS, depth: MOST_LEVELS, cost: MOST_WORK } = QUESTION_LIMITS;
/** Rules that a request is held to as well. */
const RULES = [...specifiedRules, depthRule(MOST_LEVELS)];

let schema: GraphQLSchema | undefined;

/**
 * What is wrong with a question that is to be stored: it must be one query that fits the schema, with values for the variables
 * that it declares (GraphQL, October 2021, sections 5 and 6.1.2). Empty when all is well.
 */
export function mistakesOfQuestion(
  text: string,
  variables: Readonly<Record<string, unknown>>,
): readonly QuestionMistake[] {
  schema ??= readSchema();
  const document = parsed(text);
  if (!('kind' in document)) return document;
  const errors = validate(schema, document, RULES, { maxErrors: MOST_TOLD });
  if (errors.length > 0) return errors.slice(0, MOST_TOLD).map(mistake);
  const operation = getOperationAST(document);
  if (!operation) return [{ in: 'question', what: 'has several operations; a feed asks one query' }];
  if (operation.operation !== OperationTypeNode.QUERY)
    return [{ in: 'question', what: `is a ${operation.operation}; a feed asks one query` }];
  const declared = operation.variableDefinitions ?? [];
  const names = new Set(declared.map(({ variable }) => variable.name.value));
  const unknown = Object.keys(variables).filter((name) => !names.has(name));
  if (unknown.length > 0)
    return [{ in: 'variables', what: `the question declares no variable "$${unknown[0]}"` }];
  const { errors: wrong, coerced } = getVariableValues(schema, declared, variables, { maxErrors: MOST_TOLD });
  const known = schema;
  if (wrong)
    return wrong
      .slice(0, MOST_TOLD)
      .map((error) => ({ in: 'variables', what: variableMistake(known, error) }));
  const work = costOf(schema, weightsOf(schema), document, undefined)?.(coerced) ?? 0;
  return work > MOST_WORK ? [{ in: 'question', what: tooMuchWork(work, MOST_WORK) }] : [];
}

/**
 * What is wrong with a document that a service is to know by its identifier: it must fit the schema; it may have several operations.
 * Empty when all is well.
 */
export function mistakesOfDocument(text: string): readonly QuestionMistake[] {
  schema ??= readSchema();
  const document = parsed(text);
  if (!('kind' in document)) return document;
  return validate(schema, document, RULES, { maxErrors: MOST_TOLD }).slice(0, MOST_TOLD).map(mistake);
}

/** Root fields whose answer is not that of the state of the request: they ask the journal, other states, or who is there. */
export const NOT_OF_STATE: ReadonlySet<string> = new Set([
  'asOf',
  'difference',
  'history',
  'me',
  'people',
  'readPhoto',
  'webhooks',
  'whatIf',
]);

/** The first root field of a question that fits the schema whose answer is not that of one state; undefined where all are. */
export function notOfState(text: string): string | undefined {
  schema ??= readSchema();
  const info = new TypeInfo(schema);
  const root = schema.getQueryType();
  let found: string | undefined;
  visit(
    parse(text),
    visitWithTypeInfo(info, {
      Field({ name: { value } }) {
        if (info.getParentType() === root && NOT_OF_STATE.has(value)) found ??= value;
      },
    }),
  );
  return found;
}

/** The document of a text, or what is wrong with its syntax. */
function parsed(text: string): DocumentNode | readonly QuestionMistake[] {
  try {
    return parseQuestion(text, MOST_TOKENS);
  } catch (error) {
    if (error instanceof GraphQLError) return [mistake(error)];
    if (error instanceof RangeError) return [{ in: 'question', what: 'nests too deep' }];
    throw error;
  }
}

function mistake({ message, locations }: GraphQLError): QuestionMistake {
  const [at] = locations ?? [];
  return { in: 'question', what: message.split('\n', 1)[0], ...(at && { line: at.line, column: at.column }) };
}
