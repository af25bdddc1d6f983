import helmet from '@fastify/helmet';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { CasebackError } from '../../model/problems.ts';
import type { CheckedOptions } from '../server/options.ts';
import { PAGE_HEADERS } from '../server/security.ts';
import type { Gate } from './authenticate.ts';
import { clearCookie, cookieIn, SESSION_COOKIE, setCookie } from './cookies.ts';
import { ownPath, send, signInPage } from './sign-in-page.ts';
import { signOn } from './sign-on-routes.ts';

/** Bytes of a form: a token and an address. */
const FORM_BYTES = 8_192;
const FORM = 'application/x-www-form-urlencoded';

/** Pages on which people sign in and out, in plain HTML. Every form is held to its origin, like any other change. */
export async function signIn(
  app: FastifyInstance,
  { gate, options }: { gate: Gate; options: CheckedOptions },
): Promise<void> {
  const { accounts, signOn: elsewhere } = options.access;
  await app.register(helmet, PAGE_HEADERS);
  // Forms are read here alone: elsewhere a form of a foreign page could pass for a question.
  app.addContentTypeParser(FORM, { parseAs: 'string', bodyLimit: FORM_BYTES }, (_request, body, done) =>
    done(null, new URLSearchParams(String(body))),
  );
  const config = { isForAll: true } as const;

  app.get<{ Querystring: { next?: unknown } }>('/sign-in', { config }, (request, reply) => {
    const { next } = request.query;
    return send(
      reply,
      signInPage(request, { next, elsewhere: elsewhere?.label, hasAccounts: accounts !== undefined }),
    );
  });
  if (!accounts) return;

  app.post('/sign-in', { config, bodyLimit: FORM_BYTES }, async (request, reply) => {
    const form = formOf(request);
    const token = (form.get('token') ?? '').trim();
    const next = form.get('next') ?? undefined;
    const refuse = (status: number, problem: string) =>
      send(reply.code(status), signInPage(request, { next, problem, elsewhere: elsewhere?.label }));
    if (token === '')
      return refuse(400, 'The token is missing. Paste the one that an administrator gave you.');
    try {
      const before = cookieIn(request, SESSION_COOKIE);
      const begun = await gate.attempt(request, reply, token, (known) => known.signIn(token, before));
      if (!begun) return refuse(401, 'This token is not valid: it is unknown, expired or revoked.');
      setCookie(reply, SESSION_COOKIE, begun.secret);
      return reply.redirect(ownPath(next), 303);
    } catch (error) {
      if (!(error instanceof CasebackError) || error.code !== 'TOO_MANY') throw error;
      return refuse(429, `${error.message}.`);
    }
  });

  app.post('/sign-out', { config, bodyLimit: FORM_BYTES }, async (request, reply) => {
    const session = cookieIn(request, SESSION_COOKIE);
    const { name } = request.who;
    if (formOf(request).get('everywhere') === 'yes' && name !== undefined && request.who.by !== 'local')
      await accounts.signOutEverywhere(name);
    if (session !== undefined) await accounts.signOut(session);
    clearCookie(reply, SESSION_COOKIE);
    return reply.redirect('/sign-in', 303);
  });

  if (elsewhere) await app.register(signOn, { accounts, signOn: elsewhere });
}

function formOf({ body }: FastifyRequest): URLSearchParams {
  if (body instanceof URLSearchParams) return body;
  return new URLSearchParams();
}
