import helmet from '@fastify/helmet';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Feed } from '../../model/catalogue.ts';
import { CasebackError } from '../../model/problems.ts';
import { isInvented } from '../../questions/citation.ts';
import { audienceOf } from '../access/asker.ts';
import { citeAs } from '../cite/cite-as.ts';
import { html } from '../pages/html.ts';
import { layout } from '../pages/layout.ts';
import { waitingPage } from '../pages/start-page.ts';
import { statusOf } from '../server/errors.ts';
import { askerOf } from '../server/rate.ts';
import { PAGE_HEADERS } from '../server/security.ts';
import { siteOf } from '../server/site.ts';
import { keptFor } from './caching.ts';
import { conditional } from './conditional.ts';
import type { FeedsOptions } from './feeds.ts';
import { feedPage } from './page.ts';
import { digestOf } from './representations.ts';

const HTML = 'text/html; charset=utf-8';

/** `GET /feeds/ID`: a feed as a page, which sites of the origins that it lists may frame, and no others. */
export async function feedPages(
  app: FastifyInstance,
  { readiness, options, rate, watch }: FeedsOptions,
): Promise<void> {
  await app.register(helmet, PAGE_HEADERS);

  const refuse = (reply: FastifyReply, status: number, title: string, message: string) => {
    const body = html`<h1>${title}</h1><p>${message}</p>`;
    reply.code(status).header('cache-control', 'no-store');
    return reply.type(HTML).send(layout({ title: `${title} · Caseback`, at: '', body }).text);
  };

  app.get('/feeds/:id(^[a-z0-9-]+$)', async (request: FastifyRequest<{ Params: { id: string } }>, reply) => {
    if (readiness.state !== 'ready') {
      reply.header('retry-after', '2').header('cache-control', 'no-store').code(503);
      return reply.type(HTML).send(waitingPage(readiness.state).text);
    }
    const { id } = request.params;
    try {
      const charge = (work: number) => rate.charge(askerOf(request), work);
      const audience = audienceOf(request.who);
      const archive = readiness.archive();
      const view = archive.state(audience);
      const answer = await watch.now(id, audience, charge);
      if (!answer)
        return refuse(
          reply,
          404,
          'No such feed',
          `No feed has the id “${id}”. /feeds lists those that there are.`,
        );
      const { feed, modified } = answer;
      frameBy(reply, feed);
      const body = feedPage(answer, {
        site: siteOf(request, options),
        isInvented: view.derived(isInvented),
      }).text;
      keptFor(feed.maxAge, request, reply, options);
      const link = await citeAs(archive, view, answer, 'json');
      if (link !== undefined) reply.header('link', link);
      const etag = `"${digestOf('html', Buffer.from(body))}"`;
      return conditional(request, reply, { etag, modified }, () => {
        reply.header('last-modified', new Date(Math.min(modified, Date.now())).toUTCString());
        return reply.type(HTML).send(body);
      });
    } catch (error) {
      if (!(error instanceof CasebackError)) throw error;
      return refuse(reply, statusOf(error.code), 'No answer just now', `${error.message}.`);
    }
  });
}

/**
 * Lets sites of some origins show a page in a frame (Content Security Policy Level 3, "frame-ancestors"). X-Frame-Options knows no lists,
 * and would refuse them all where a browser heeded it.
 */
function frameBy(reply: FastifyReply, { origins }: Feed): void {
  if (origins.length === 0) return;
  const policy = String(reply.getHeader('content-security-policy'));
  const ancestors = origins.includes('*') ? '*' : `'self' ${origins.join(' ')}`;
  reply.header(
    'content-security-policy',
    policy.replace(/frame-ancestors [^;]*/u, `frame-ancestors ${ancestors}`),
  );
  reply.removeHeader('x-frame-options');
}
