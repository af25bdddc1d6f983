import type { FastifyInstance } from 'fastify';
import type { Accounts } from '../../access/accounts.ts';
import type { SignOn, Underway } from '../../access/sign-on.ts';
import { CasebackError } from '../../model/problems.ts';
import { statusOf } from '../server/errors.ts';
import { clearCookie, cookieIn, SESSION_COOKIE, SIGN_ON_COOKIE, setCookie } from './cookies.ts';
import { ownPath, send, signInPage } from './sign-in-page.ts';

/** How long somebody may be away signing in, in s. */
const AWAY = 600;

/** The way to the issuer of single sign-on and back. */
export async function signOn(
  app: FastifyInstance,
  { accounts, signOn: elsewhere }: { accounts: Accounts; signOn: SignOn },
): Promise<void> {
  const config = { isForAll: true } as const;

  // A link and not a form: browsers let no form lead on to another site under our policy (form-action).
  app.get<{ Querystring: { next?: unknown } }>('/sign-in/single', { config }, async (request, reply) => {
    const site = request.headers['sec-fetch-site'];
    if (site !== undefined && site !== 'same-origin' && site !== 'none')
      throw new CasebackError('NOT_ALLOWED', 'Begin on the page that signs in');
    const { url, underway } = await elsewhere.begin();
    const kept = { ...underway, next: ownPath(request.query.next) };
    setCookie(reply, SIGN_ON_COOKIE, Buffer.from(JSON.stringify(kept)).toString('base64url'), AWAY);
    return reply.header('cache-control', 'no-store').redirect(url.href, 303);
  });

  app.get('/sign-in/return', { config }, async (request, reply) => {
    const kept = underwayIn(cookieIn(request, SIGN_ON_COOKIE));
    try {
      if (!kept)
        throw new CasebackError(
          'NOT_ALLOWED',
          'This sign-in was not begun here, or took too long; try again',
        );
      const query = new URLSearchParams(request.url.split('?').slice(1).join('?'));
      const identity = await elsewhere.end(query, kept);
      const begun = await accounts.signInAs(identity, cookieIn(request, SESSION_COOKIE));
      clearCookie(reply, SIGN_ON_COOKIE);
      setCookie(reply, SESSION_COOKIE, begun.secret);
      return reply.header('cache-control', 'no-store').redirect(kept.next, 303);
    } catch (error) {
      if (!(error instanceof CasebackError)) throw error;
      clearCookie(reply, SIGN_ON_COOKIE);
      return send(
        reply.code(statusOf(error.code)),
        signInPage(request, { problem: `${error.message}.`, elsewhere: elsewhere.label }),
      );
    }
  });
}

/** What a browser brings back of its own; only it could have put it there. */
function underwayIn(cookie: string | undefined): (Underway & { readonly next: string }) | undefined {
  if (!cookie) return undefined;
  try {
    const { state, nonce, verifier, next } = JSON.parse(Buffer.from(cookie, 'base64url').toString('utf8'));
    const isWhole = [state, nonce, verifier].every((one) => typeof one === 'string' && one !== '');
    return isWhole ? { state, nonce, verifier, next: ownPath(next) } : undefined;
  } catch {
    return undefined;
  }
}
