import type { FastifyReply, FastifyRequest } from 'fastify';

/**
 * The prefix makes browsers refuse the cookie unless it is Secure, for this host alone and for all paths (RFC 6265bis, section
 * 4.1.3.2), so that neither a sibling host nor a page without TLS can set one. Browsers that count http://localhost and
 * http://127.0.0.1 as secure keep it there too.
 */
const PREFIX = '__Host-caseback-';
export const SESSION_COOKIE = `${PREFIX}session`;
export const SIGN_ON_COOKIE = `${PREFIX}sign-on`;

// Lax: a link from a message leads in, and the way back from single sign-on works; what changes anything is held to its
// origin besides.
const ATTRIBUTES = 'Path=/; HttpOnly; Secure; SameSite=Lax';

/** The value of a cookie that a request brings. Ours are letters, digits and marks that need no quotes. */
export function cookieIn({ headers }: FastifyRequest, name: string): string | undefined {
  for (const pair of headers.cookie?.split(';') ?? []) {
    const [written, value] = pair.split('=', 2).map((part) => part.trim());
    if (written === name) return value;
  }
  return undefined;
}

/**
 * Sends a cookie that ends with the browser, or after some seconds.
 * @param value characters that a cookie may have as they are (RFC 6265, section 4.1.1), such as base64url
 */
export function setCookie(reply: FastifyReply, name: string, value: string, maxAge?: number): void {
  const lasting = maxAge === undefined ? '' : `; Max-Age=${maxAge}`;
  reply.header('set-cookie', `${name}=${value}; ${ATTRIBUTES}${lasting}`);
}

/** Has the browser forget a cookie. */
export function clearCookie(reply: FastifyReply, name: string): void {
  setCookie(reply, name, '', 0);
}
