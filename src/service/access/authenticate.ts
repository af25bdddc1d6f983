import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Accounts, SignedIn } from '../../access/accounts.ts';
import { Attempts } from '../../access/attempts.ts';
import { CasebackError } from '../../model/problems.ts';
import type { CheckedOptions } from '../server/options.ts';
import { networkOf } from '../server/rate.ts';
import { type Asker, VISITOR } from './asker.ts';
import { bearerIn, challenge, malformedBearer } from './bearer.ts';
import { clearCookie, cookieIn, SESSION_COOKIE } from './cookies.ts';
import { HasPeople } from './has-people.ts';

/** What finds out who sends a request, and lets in or refuses. */
export interface Gate {
  /**
   * Tries a secret as whoever sent a request, holding up addresses that fail too often.
   * @throws CasebackError TOO_MANY
   */
  attempt<T>(
    request: FastifyRequest,
    reply: { header(name: string, value: string): unknown },
    secret: string,
    look: (accounts: Accounts) => Promise<T | undefined>,
  ): Promise<T | undefined>;
}

/**
 * Finds out who sends each request, by a token in Authorization or the cookie of a session, before any route runs
 * (`request.who`); refuses a token that is not valid, and visitors where reading needs an account.
 */
export function authenticate(app: FastifyInstance, { access, audience }: CheckedOptions): Gate {
  const { accounts, local, isOpen } = access;
  const attempts = new Attempts();
  app.decorateRequest('who', undefined as unknown as Asker);

  const visitor: Asker =
    audience === 'desk' ? { ...local, displayName: null, by: 'local', expires: undefined } : VISITOR;
  /** Whoever has not signed in: at a desk the account of this machine, as long as nobody has one of their own. */
  const hasPeople = audience === 'desk' && accounts ? new HasPeople(accounts) : undefined;
  const unsigned = async (): Promise<Asker> => ((await hasPeople?.ask()) ? VISITOR : visitor);

  const gate: Gate = {
    async attempt(request, reply, secret, look) {
      const address = networkOf(request.ip);
      const wait = attempts.wait(address, secret);
      if (wait > 0) {
        reply.header('retry-after', String(wait));
        throw new CasebackError('TOO_MANY', `Too many failed attempts from this address; wait ${wait} s`);
      }
      const found = accounts && (await look(accounts));
      if (found === undefined) attempts.failed(address);
      else attempts.succeeded(secret);
      return found;
    },
  };

  const identify = async (request: FastifyRequest, reply: FastifyReply): Promise<Asker> => {
    const token = bearerIn(request);
    if (token === '') {
      challenge(reply, 'invalid_request');
      throw malformedBearer();
    }
    if (token !== undefined) {
      const who = await gate.attempt(request, reply, token, (known) => known.bearer(token));
      if (who) return asker(reply, who);
      challenge(reply, 'invalid_token');
      throw new CasebackError('SIGNED_OUT', 'This token is not valid: it is unknown, expired or revoked');
    }
    const cookie = accounts && cookieIn(request, SESSION_COOKIE);
    if (!cookie) return unsigned();
    const who = await gate.attempt(request, reply, cookie, (known) => known.session(cookie));
    if (who) return asker(reply, who);
    clearCookie(reply, SESSION_COOKIE);
    // A page is shown as visitors see it; what was sent for somebody who is not there any more is not done for a visitor.
    const isShown = request.method === 'GET' || request.method === 'HEAD';
    if (isShown || request.routeOptions.config?.isForAll) return unsigned();
    challenge(reply);
    throw new CasebackError('SIGNED_OUT', 'The session has ended; sign in again');
  };

  const admit = (request: FastifyRequest, reply: FastifyReply): FastifyReply | undefined => {
    if (isOpen || request.who.by !== undefined || request.routeOptions.config?.isForAll) return undefined;
    const isPage = request.method === 'GET' && request.headers.accept?.includes('text/html');
    if (isPage) return reply.redirect(`/sign-in?next=${encodeURIComponent(request.url)}`, 303);
    challenge(reply);
    throw new CasebackError('SIGNED_OUT', 'This archive is read by people with an account; sign in');
  };

  app.addHook('onRequest', async (request, reply) => {
    request.who = await identify(request, reply);
    return admit(request, reply);
  });
  return gate;
}

/** What is answered to one person is nobody else's. */
function asker(reply: FastifyReply, who: SignedIn): Asker {
  reply.header('cache-control', 'no-store').header('vary', 'authorization, cookie');
  return who;
}
