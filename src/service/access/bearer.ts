import type { FastifyReply, FastifyRequest } from 'fastify';
import { CasebackError } from '../../model/problems.ts';

/** `Authorization: Bearer` with a token in the characters of RFC 6750, section 2.1; the scheme in any case (RFC 9110, 11.1). */
const BEARER = /^bearer(?: +(?<token>[\w.~+/-]+=*) *)?$/iu;

/**
 * The token that a request brings; undefined when it brings none. Another scheme is none of ours. A token in the address or in the
 * body is not looked for: addresses end up in logs (RFC 6750, section 5.3).
 */
export function bearerIn({ headers }: FastifyRequest): string | undefined {
  const { authorization } = headers;
  if (authorization === undefined || !/^bearer(?: |$)/iu.test(authorization)) return undefined;
  return BEARER.exec(authorization)?.groups?.token ?? '';
}

/** Says how to sign in (RFC 6750, section 3): bare where nothing was brought, with the reason where it was not valid. */
export function challenge(reply: FastifyReply, error?: 'invalid_token' | 'invalid_request'): void {
  reply.header('www-authenticate', `Bearer realm="caseback"${error ? `, error="${error}"` : ''}`);
}

/** A header that begins as one with a token and has none. */
export function malformedBearer(): CasebackError {
  return new CasebackError(
    'BAD_INPUT',
    'Authorization has no valid token; write "Bearer" and the token behind it',
  );
}
