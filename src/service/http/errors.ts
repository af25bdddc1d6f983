import type { FastifyBaseLogger } from 'fastify';
import { GraphQLError, type GraphQLFormattedError } from 'graphql/index.js';
import { PatternError } from '../../gql/checked.ts';
import { CasebackError, ERROR_CODES, type ErrorCode, type Problem } from '../../model/problems.ts';
import { QuantityError } from '../../model/quantity.ts';
import { badPattern } from '../patterns/mistakes.ts';

/** An error as it leaves the service: no stack, no path of ours. */
export interface PlainError {
  readonly code: ErrorCode | 'INTERNAL';
  readonly message: string;
  readonly problems: readonly Problem[];
}

/** A GraphQL error, of graphql-js or of graphql-jit (which has a class of its own). */
interface GraphQLErrorLike extends Error {
  readonly locations?: GraphQLFormattedError['locations'];
  readonly path?: GraphQLFormattedError['path'];
  readonly originalError?: unknown;
  readonly extensions?: Readonly<Record<string, unknown>>;
}

/**
 * What may be told of an error. Ours are told whole; anything unforeseen is logged, and told as its request
 * id only.
 */
export function tellError(error: unknown, log: FastifyBaseLogger, requestId: string): PlainError {
  if (error instanceof CasebackError) {
    const { code, message, problems } = error;
    if (ERROR_CODES[code].status >= 500) log.error({ err: error, requestId }, message);
    return { code, message, problems };
  }
  if (error instanceof PatternError) return tellError(badPattern(error.problems), log, requestId);
  if (error instanceof QuantityError) return { code: 'BAD_INPUT', message: error.message, problems: [] };
  log.error({ err: error, requestId }, 'unforeseen error');
  return {
    code: 'INTERNAL',
    message: `Something failed inside the service. The log has the details under request ${requestId}.`,
    problems: [],
  };
}

/** A GraphQL error in the form of the response (GraphQL specification, section 7.1.2), with our code. */
export function formatGraphQLError(
  error: GraphQLErrorLike,
  log: FastifyBaseLogger,
  requestId: string,
): GraphQLFormattedError {
  const { locations, path } = error;
  const place = { ...(locations && { locations }), ...(path && { path }) };
  // Without an error underneath it is the query that is wrong: its text, its variables, or its size.
  const cause = error.originalError;
  if (!cause || cause instanceof GraphQLError) {
    const code = error.extensions?.code ?? (path && !cause ? undefined : 'BAD_INPUT');
    if (code !== undefined) return { message: error.message, ...place, extensions: { code } };
  }
  const { code, message, problems } = tellError(cause ?? error, log, requestId);
  return {
    message,
    ...place,
    extensions: { code, ...(problems.length > 0 && { problems }) },
  };
}

/** HTTP status of a code. */
export function statusOf(code: unknown): number {
  return ERROR_CODES[code as ErrorCode]?.status ?? (code === 'INTERNAL' ? 500 : 400);
}
