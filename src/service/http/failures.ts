import type { FastifyError, FastifyInstance, FastifyRequest } from 'fastify';
import type { ErrorCode } from '../../model/problems.ts';
import { type PlainError, statusOf, tellError } from './errors.ts';

/** What a request gets when it fails before or outside of GraphQL: JSON with our codes, never a stack. */
export function answerFailures(app: FastifyInstance): void {
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const told = tellFailure(error, request);
    const status = told.status ?? statusOf(told.code);
    if (status === 503) reply.header('retry-after', '1');
    return reply.code(status).type('application/json; charset=utf-8').send(bodyFor(request, told));
  });
  app.setNotFoundHandler((request, reply) => {
    const message = `Nothing is at ${request.method} ${request.url.split('?')[0]}`;
    return reply.code(404).send({ code: 'NOT_FOUND', message });
  });
}

/** Fastify's own refusals carry a status of the 400s; their messages name nothing internal. */
function tellFailure(error: FastifyError, request: FastifyRequest): PlainError & { status?: number } {
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
function bodyFor(request: FastifyRequest, { code, message, problems }: PlainError): object {
  const more = problems.length > 0 ? { problems } : {};
  return request.url.startsWith('/graphql')
    ? { errors: [{ message, extensions: { code, ...more } }] }
    : { code, message, ...more };
}
