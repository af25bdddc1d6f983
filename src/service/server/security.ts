import type { FastifyHelmetOptions } from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';
import type { CheckedOptions } from './options.ts';

// Everything comes from this service; nothing runs that does not stand in a file of ours.
const CONTENT_SECURITY_POLICY = {
  'default-src': ["'none'"],
  'script-src': ["'self'"],
  'style-src': ["'self'"],
  'img-src': ["'self'", 'data:'],
  'font-src': ["'self'"],
  'connect-src': ["'self'"],
  'base-uri': ["'none'"],
  'form-action': ["'self'"],
  'frame-ancestors': ["'none'"],
};

/** Headers of pages and their files. */
export const PAGE_HEADERS: FastifyHelmetOptions = {
  contentSecurityPolicy: { useDefaults: false, directives: CONTENT_SECURITY_POLICY },
  // Sites of the same owner are other sites; and whoever puts TLS in front says for how long it is to be used.
  xFrameOptions: { action: 'deny' },
  strictTransportSecurity: false,
  // Under "no-referrer" browsers send the forms of our own pages with "Origin: null" (Fetch Standard, "append a request
  // `Origin` header"), and nobody could sign in; other sites are told nothing under this one either.
  referrerPolicy: { policy: 'same-origin' },
};

/** Headers of the explorer, whose library writes style elements and carries its fonts in its style sheet. */
export const EXPLORER_HEADERS: FastifyHelmetOptions = {
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      ...CONTENT_SECURITY_POLICY,
      'style-src': ["'self'", "'unsafe-inline'"],
      'font-src': ["'self'", 'data:'],
    },
  },
};

/** Headers of the desk: its script makes no HTML of texts, and none can be made by what finds its way into it. */
export const DESK_HEADERS: FastifyHelmetOptions = {
  ...PAGE_HEADERS,
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      ...CONTENT_SECURITY_POLICY,
      'require-trusted-types-for': ["'script'"],
      'trusted-types': ["'none'"],
    },
  },
};

/**
 * On every answer, of the query route too: it is what its media type says, and no other site may embed it. Pages have
 * more; those headers are made anew for each answer, which would slow down queries that need none of them.
 */
export const HEADERS = { 'x-content-type-options': 'nosniff', 'cross-origin-resource-policy': 'same-origin' };

/** Headers on every answer, and refusal of requests under a foreign host name. */
export function secure(app: FastifyInstance, { hosts }: Pick<CheckedOptions, 'hosts'>): void {
  const allowed = hosts === 'any' ? undefined : new Set(hosts.map((host) => host.toLowerCase()));
  app.addHook('onRequest', (request, reply, done) => {
    reply.headers(HEADERS).header('x-request-id', request.id);
    if (request.headers.host === undefined && request.raw.httpVersion === '1.1') {
      const message = 'The request has no Host header, without which HTTP/1.1 has no request';
      reply.code(400).header('connection', 'close').send({ code: 'BAD_INPUT', message });
      return;
    }
    if (allowed && !allowed.has(hostName(request.headers.host))) {
      reply.code(421).send({
        code: 'BAD_INPUT',
        message: 'This service does not answer under that host name; the option "hosts" lists those it does.',
      });
      return;
    }
    done();
  });
}

/** Host name without port; an IPv6 address keeps its brackets. */
function hostName(host = ''): string {
  return host.replace(/:\d*$/u, '').toLowerCase();
}
