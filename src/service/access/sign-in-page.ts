import type { FastifyReply, FastifyRequest } from 'fastify';
import { ROLE_MEANINGS } from '../../access/roles.ts';
import { type Html, html } from '../pages/html.ts';
import { layout } from '../pages/layout.ts';

interface Shown {
  /** Where to go on to. */
  readonly next?: unknown;
  readonly problem?: string | undefined;
  /** What single sign-on is called, where there is one. */
  readonly elsewhere?: string | undefined;
  /** Whether anybody can have an account here. @default true */
  readonly hasAccounts?: boolean;
}

/** The page that signs in, or tells who has signed in and signs out. */
export function signInPage(
  { who }: FastifyRequest,
  { next, problem, elsewhere, hasAccounts = true }: Shown,
): Html {
  const to = ownPath(next);
  const body =
    !hasAccounts || who.by === 'local'
      ? html`<h1>No accounts</h1><p>${who.by === 'local' ? (who.nameless ?? `You work here as ${who.name}, the account of this machine.`) : 'Nobody signs in to this service; it answers readers.'}</p>`
      : who.by === 'session' || who.by === 'token'
        ? html`<h1>Signed in as ${who.name}</h1>
<p>Your role is ${who.role}: ${ROLE_MEANINGS[who.role]}. You are signed out by ${who.expires} at the latest.</p>
<form method="post" action="/sign-out"><button type="submit">Sign out</button></form>
<form method="post" action="/sign-out"><input type="hidden" name="everywhere" value="yes">
<button type="submit">Sign out in every browser</button></form>`
        : html`<h1>Sign in</h1>
${problem !== undefined && html`<p class="problem" id="problem" role="alert">${problem}</p>`}
<form method="post" action="/sign-in" class="sign-in">
<input type="hidden" name="next" value="${to}">
<label for="token">Your token</label>
<input id="token" name="token" type="password" autocomplete="current-password" spellcheck="false" autocapitalize="none" required
 aria-describedby="${problem === undefined ? 'token-help' : 'problem token-help'}"${problem !== undefined && html` aria-invalid="true"`}>
<p id="token-help">It begins with <code>caseback_</code>; an administrator makes one with <code>caseback tokens make</code>.</p>
<button type="submit">Sign in</button>
</form>
${elsewhere !== undefined && html`<p><a class="button" href="/sign-in/single?next=${encodeURIComponent(to)}">${elsewhere}</a></p>`}`;
  return layout({ title: 'Sign in · Caseback', at: '/sign-in', body });
}

/**
 * A path of this service: whatever else a link asks to be led to is the start page, so that no link to us leads to another site.
 */
export function ownPath(written: unknown): string {
  const base = 'http://own.invalid';
  const url = typeof written === 'string' && /^\//u.test(written) ? URL.parse(written, base) : null;
  if (url?.origin !== base || url.pathname.startsWith('//') || url.pathname.startsWith('/sign-')) return '/';
  return `${url.pathname}${url.search}`;
}

/** A page that is made for one person and kept by nobody. */
export function send(reply: FastifyReply, page: Html): FastifyReply {
  return reply.type('text/html; charset=utf-8').header('cache-control', 'no-store').send(page.text);
}
