import type { FastifyBaseLogger, FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { GraphQLError, type GraphQLFormattedError } from 'graphql/index.js';
import Negotiator from 'negotiator';
import {
  CasebackError,
  ERROR_CODES,
  type ErrorCode,
  type Problem,
  toldProblem,
} from '../../model/problems.ts';
import { QuantityError } from '../../model/quantity.ts';
import { oneLine } from '../../text/plain-text.ts';
import { html } from '../pages/html.ts';
import { layout } from '../pages/layout.ts';
import { logSparingly } from './sparing-log.ts';

/** What is no fault of anything and passes by itself. */
const EXPECTED: ReadonlySet<ErrorCode> = new Set(['NOT_READY', 'STOPPING']);

/** An error as it leaves the service: no stack, no path of ours. */
interface PlainError {
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
    if (ERROR_CODES[code].status >= 500 && !EXPECTED.has(code))
      logSparingly(log, code, { err: error, requestId }, message);
    return { code, message: inOneLine(message), problems: problems.map(toldProblem) };
  }
  if (error instanceof QuantityError)
    return { code: 'BAD_INPUT', message: inOneLine(error.message), problems: [] };
  // Work that ended because its asker has gone.
  if (error instanceof Error && error.name === 'AbortError')
    return { code: 'UNAVAILABLE', message: 'The request was ended before its answer', problems: [] };
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
  const { locations } = error;
  const path = error.path?.map((step) => (typeof step === 'string' ? oneLine(step, LONGEST_NAME) : step));
  const place = { ...(locations && { locations }), ...(path && { path }) };
  // Without an error underneath it is the query that is wrong: its text, its variables, or its size.
  const cause = error instanceof CasebackError ? error : error.originalError;
  if (!cause || cause instanceof GraphQLError) {
    const code = error.extensions?.code ?? (path && !cause ? undefined : 'BAD_INPUT');
    if (code !== undefined) return { message: inOneLine(error.message), ...place, extensions: { code } };
  }
  const { code, message, problems } = tellError(cause ?? error, log, requestId);
  return {
    message: inOneLine(message),
    ...place,
    extensions: { code, ...(problems.length > 0 && { problems }) },
  };
}

/** Characters of a name in a path, which the asker may have chosen. */
const LONGEST_NAME = 100;
/** Characters of a message: about what a terminal shows in a few lines. */
const LONGEST_MESSAGE = 400;

/** A message quotes what was wrong, which may be long or have many lines; it never grows beyond a line itself. */
function inOneLine(message: string): string {
  return oneLine(message, LONGEST_MESSAGE);
}

/** HTTP status of a code. */
export function statusOf(code: unknown): number {
  return ERROR_CODES[code as ErrorCode]?.status ?? (code === 'INTERNAL' ? 500 : 400);
}

/** What a request gets when it fails before or outside of GraphQL: JSON with our codes, never a stack. */
export function answerFailures(app: FastifyInstance): void {
  app.setErrorHandler(answerFailure);
  app.setNotFoundHandler((request, reply) => {
    const message = inOneLine(`Nothing is at ${request.method} ${request.url.split('?')[0]}`);
    return reply.code(404).send({ code: 'NOT_FOUND', message });
  });
}

/** Answers a request with what went wrong. */
export function answerFailure(
  error: FastifyError | CasebackError,
  request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply {
  const told = tellFailure(error, request);
  const status = told.status ?? statusOf(told.code);
  if (status === 503 && !reply.hasHeader('retry-after')) reply.header('retry-after', '1');
  if (ACCESS.has(told.code) && prefersHtml(request)) return refusalPage(reply.code(status), told);
  return reply.code(status).type('application/json; charset=utf-8').send(bodyFor(request, told));
}

/** Refusals that meet people in a browser before any page does. */
const ACCESS: ReadonlySet<string> = new Set(['SIGNED_OUT', 'NOT_ALLOWED', 'TOO_MANY']);
/** As strict as a page can be that has a style sheet and a way to sign in. */
const POLICY =
  "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

/** Whether whoever asks would rather have a page than JSON (RFC 9110, section 12.5.1); who takes anything gets JSON. */
function prefersHtml({ headers: { accept } }: FastifyRequest): boolean {
  const types = ['application/json', 'text/html'];
  return accept !== undefined && new Negotiator({ headers: { accept } }).mediaType(types) === 'text/html';
}

/** A refusal as a plain page. */
function refusalPage(reply: FastifyReply, { code, message }: PlainError): FastifyReply {
  const title =
    code === 'SIGNED_OUT' ? 'Not signed in' : code === 'TOO_MANY' ? 'Too many requests' : 'Not allowed';
  const body = html`<h1>${title}</h1><p>${message}.</p><p><a href="/sign-in">Sign in</a></p>`;
  reply.headers({ 'content-security-policy': POLICY, 'cache-control': 'no-store' });
  return reply
    .type('text/html; charset=utf-8')
    .send(layout({ title: `${title} · Caseback`, at: '', body }).text);
}

/** Fastify's own refusals carry a status of the 400s; their messages name nothing internal. */
function tellFailure(
  error: FastifyError | CasebackError,
  request: FastifyRequest,
): PlainError & { status?: number } {
  if (error instanceof CasebackError) return tellError(error, request.log, request.id);
  const { statusCode: status, code, message } = error;
  if (status === undefined || status >= 500 || !code?.startsWith('FST_')) {
    // Malformed JSON comes from the parser as a SyntaxError with status 400.
    if (status === 400) return { code: 'BAD_INPUT', message, problems: [], status };
    return tellError(error, request.log, request.id);
  }
  const ours: ErrorCode = status === 413 ? 'TOO_LARGE' : 'BAD_INPUT';
  return { code: ours, message, problems: [], status };
}

/** GraphQL clients look for a list of errors. */
function bodyFor(request: FastifyRequest, { code, message: whole, problems }: PlainError): object {
  const message = inOneLine(whole);
  const more = problems.length > 0 ? { problems } : {};
  return request.url.startsWith('/graphql')
    ? { errors: [{ message, extensions: { code, ...more } }] }
    : { code, message, ...more };
}
