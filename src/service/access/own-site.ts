import type { FastifyInstance, FastifyRequest } from 'fastify';
import { CasebackError } from '../../model/problems.ts';
import { bearerIn } from './bearer.ts';

/** Methods that change nothing (RFC 9110, section 9.2.1). */
const SAFE: ReadonlySet<string> = new Set(['GET', 'HEAD', 'OPTIONS', 'TRACE']);

/**
 * Refuses what a page of another site has a browser send (cross-site request forgery): every request that may change something and
 * brings no token, since a browser adds cookies by itself, and where nobody need sign in, nothing at all. A browser says where a
 * request comes from in Sec-Fetch-Site (Fetch Metadata) and Origin (RFC 6454); a program says neither and needs a token.
 */
export function refuseOtherSites(app: FastifyInstance, publicUrl: URL | undefined): void {
  app.addHook('onRequest', (request, _reply, done) => {
    if (SAFE.has(request.method) || bearerIn(request) !== undefined || isOwn(request, publicUrl))
      return done();
    done(
      new CasebackError(
        'NOT_ALLOWED',
        'This request comes from a page of another site, or does not say from where; a program sends a token in Authorization instead of a cookie',
      ),
    );
  });
}

/** Whether a request comes from a page of this service, or from no page at all. */
export function isOwn({ headers }: FastifyRequest, publicUrl: URL | undefined): boolean {
  const { origin, host, cookie } = headers;
  const site = headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return false;
  if (origin !== undefined) return isOwnOrigin(origin, host, publicUrl);
  return site !== undefined || cookie === undefined;
}

function isOwnOrigin(origin: string, host: string | undefined, publicUrl: URL | undefined): boolean {
  if (origin === publicUrl?.origin) return true;
  const url = URL.parse(origin);
  // Under the public name only its own scheme counts: a page without TLS may be anybody's.
  return (
    url !== null &&
    url.origin === origin &&
    ['http:', 'https:'].includes(url.protocol) &&
    url.host !== publicUrl?.host &&
    url.host === host?.toLowerCase()
  );
}
