import { LRUCache } from 'lru-cache';
import Negotiator from 'negotiator';
import { CasebackError } from '../../model/problems.ts';
import type { Asked } from './executor.ts';

/** What a request asks for, whose document may have to be found by its identifier; one of the two is there. */
export type Requested = Omit<Asked, 'query'> & {
  readonly query: string | undefined;
  /** As "GraphQL over HTTP", appendix A, has it. */
  readonly documentId: string | undefined;
};

/**
 * Checks the parameters of a request. Of `extensions`, which must be a map, only `state` is used, a state token.
 * @throws CasebackError BAD_INPUT that names the parameter, what it is and what it must be
 */
export function readParameters(given: unknown): Requested {
  if (!isMap(given)) throw bad(`The body is ${kindOf(given)}; send one JSON object with "query"`);
  const { query, documentId, variables, operationName, extensions } = given;
  if (isGiven(documentId) && typeof documentId !== 'string')
    throw bad(`documentId is ${kindOf(documentId)}; it must be text, such as "sha256:" and 64 digits`);
  const isNamed = typeof documentId === 'string';
  if (typeof query !== 'string' && !(isNamed && !isGiven(query)))
    throw bad(`query is ${kindOf(query)}; it must be the text of a document`);
  if (isGiven(variables) && !isMap(variables))
    throw bad(`variables is ${kindOf(variables)}; it must be a map`);
  if (isGiven(extensions) && !isMap(extensions))
    throw bad(`extensions is ${kindOf(extensions)}; it must be a map`);
  if (isGiven(operationName) && typeof operationName !== 'string')
    throw bad(`operationName is ${kindOf(operationName)}; it must be text`);
  return {
    query: typeof query === 'string' ? query : undefined,
    documentId: isNamed ? documentId : undefined,
    variables: isMap(variables) ? variables : {},
    operationName: typeof operationName === 'string' && operationName !== '' ? operationName : undefined,
    ...(isMap(extensions) && typeof extensions.state === 'string' ? { state: extensions.state } : {}),
  };
}

/** The parameters of a GET request: variables and extensions are JSON in the URL. */
export function readUrlParameters(given: Readonly<Record<string, unknown>>): Requested {
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
    throw bad(`${parameter} is not JSON; write a JSON map, percent-encoded`);
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

/** Media types of an answer (GraphQL over HTTP, section "Media Types"), the default first. */
export const JSON_TYPE = 'application/json';
export const GRAPHQL_TYPE = 'application/graphql-response+json';
export type MediaType = typeof JSON_TYPE | typeof GRAPHQL_TYPE;

/** What was chosen for Accept headers seen lately; clients send few different ones. */
const chosen = new LRUCache<string, MediaType | 'neither'>({ max: 200 });

/**
 * The media type to answer in, or undefined when the client takes neither. Without an Accept header, and for
 * one that takes anything, it is `application/json`.
 */
export function negotiate(accept: string | undefined): MediaType | undefined {
  if (accept === undefined) return JSON_TYPE;
  let type = chosen.get(accept);
  if (type === undefined) {
    const found = new Negotiator({ headers: { accept } }).mediaType([JSON_TYPE, GRAPHQL_TYPE]);
    type = (found as MediaType | undefined) ?? 'neither';
    chosen.set(accept, type);
  }
  return type === 'neither' ? undefined : type;
}
