import { CasebackError } from '../../model/problems.ts';

/** A GraphQL request (GraphQL over HTTP, section "Request Parameters"). */
export interface Parameters {
  readonly query: string;
  readonly variables: Record<string, unknown>;
  readonly operationName: string | undefined;
}

/**
 * Checks the parameters of a request. `extensions` must be a map but is not used.
 * @throws CasebackError BAD_INPUT that names the parameter, what it is and what it must be
 */
export function readParameters(given: unknown): Parameters {
  if (!isMap(given)) throw bad(`The body is ${kindOf(given)}; send one JSON object with "query"`);
  const { query, variables, operationName, extensions } = given;
  if (typeof query !== 'string') throw bad(`query is ${kindOf(query)}; it must be the text of a document`);
  if (isGiven(variables) && !isMap(variables))
    throw bad(`variables is ${kindOf(variables)}; it must be a map`);
  if (isGiven(extensions) && !isMap(extensions))
    throw bad(`extensions is ${kindOf(extensions)}; it must be a map`);
  if (isGiven(operationName) && typeof operationName !== 'string')
    throw bad(`operationName is ${kindOf(operationName)}; it must be text`);
  return {
    query,
    variables: isMap(variables) ? variables : {},
    operationName: typeof operationName === 'string' && operationName !== '' ? operationName : undefined,
  };
}

/** The parameters of a GET request: variables and extensions are JSON in the URL. */
export function readUrlParameters(given: Readonly<Record<string, unknown>>): Parameters {
  return readParameters({
    ...given,
    variables: fromJson(given.variables, 'variables'),
    extensions: fromJson(given.extensions, 'extensions'),
  });
}

function fromJson(text: unknown, parameter: string): unknown {
  if (text === undefined || text === '') return undefined;
  try {
    return JSON.parse(String(text));
  } catch {
    throw bad(`${parameter} is no JSON; write a JSON map, percent-encoded`);
  }
}

const isGiven = (value: unknown) => value !== undefined && value !== null;
const isMap = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const kindOf = (value: unknown) =>
  value === undefined
    ? 'missing'
    : value === null
      ? 'null'
      : Array.isArray(value)
        ? 'a list'
        : `a ${typeof value}`;
const bad = (message: string) => new CasebackError('BAD_INPUT', message);
