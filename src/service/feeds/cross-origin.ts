import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Feed } from '../../model/catalogue.ts';

/** Header fields that a page may send besides those that need no question (Fetch, "CORS-safelisted request-header"). */
const HEADERS =
  'If-Match, If-Modified-Since, If-None-Match, If-Unmodified-Since, Last-Event-ID, Cache-Control';
/** How long a browser may remember the answer to its question, s. */
const REMEMBERED = '600';

/**
 * Lets pages of the origins that a feed lists read it (Fetch, "CORS protocol"), and no others. Cookies are never asked for, so that
 * what such a page reads is what visitors see.
 */
export function shareWithOrigins(
  request: FastifyRequest,
  reply: FastifyReply,
  { origins }: Pick<Feed, 'origins'>,
): boolean {
  if (origins.length === 0) return false;
  const isForAll = origins.includes('*');
  const { origin } = request.headers;
  // An answer kept for one page may be given to another one.
  if (!isForAll) varyBy(reply, 'Origin');
  else reply.header('cross-origin-resource-policy', 'cross-origin');
  if (!isForAll && (origin === undefined || !origins.includes(origin))) return false;
  reply.header('access-control-allow-origin', isForAll ? '*' : origin);
  reply.header('access-control-expose-headers', 'ETag, Link');
  return true;
}

/** Answers a browser that asks ahead whether a page may read a feed. @param feed as visitors see it; undefined where they see none */
export function answerPreflight(
  request: FastifyRequest,
  reply: FastifyReply,
  feed: Feed | undefined,
): FastifyReply {
  const isAllowed = feed !== undefined && shareWithOrigins(request, reply, feed);
  if (isAllowed && request.headers['access-control-request-method'] !== undefined) {
    varyBy(reply, 'Access-Control-Request-Method');
    varyBy(reply, 'Access-Control-Request-Headers');
    reply.header('access-control-allow-methods', 'GET, HEAD');
    reply.header('access-control-allow-headers', HEADERS);
    reply.header('access-control-max-age', REMEMBERED);
  }
  return reply.code(204).header('allow', 'GET, HEAD, OPTIONS').send();
}

/** Adds a field to those that the answer was chosen by (RFC 9110, section 12.5.5). */
export function varyBy(reply: FastifyReply, field: string): void {
  const before = String(reply.getHeader('vary') ?? '');
  const fields = before.split(',').map((one) => one.trim().toLowerCase());
  if (!fields.includes(field.toLowerCase()))
    reply.header('vary', before === '' ? field : `${before}, ${field}`);
}
