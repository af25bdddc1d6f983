import type { FastifyInstance, FastifyRequest } from 'fastify';
import { CasebackError } from '../../model/problems.ts';
import { audienceOf } from '../access/asker.ts';
import { html } from '../pages/html.ts';
import { siteOf } from '../server/site.ts';
import { keptFor } from './caching.ts';
import { shareWithOrigins } from './cross-origin.ts';
import type { FeedsOptions } from './feeds.ts';

/** Size of the frame, px, where the consumer has no maximum. */
const SIZE = { width: 720, height: 760 } as const;

interface Asked {
  readonly Querystring: Readonly<Record<'url' | 'format' | 'maxwidth' | 'maxheight', unknown>>;
}

/**
 * `GET /oembed`: how to frame the page of a feed (oEmbed 1.0, "rich"). A feed that no site may frame has no answer here, as one that is
 * not there.
 */
export async function oembed(app: FastifyInstance, { readiness, options }: FeedsOptions): Promise<void> {
  app.get('/oembed', (request: FastifyRequest<Asked>, reply) => {
    const { url, format, maxwidth, maxheight } = request.query;
    reply.header('cache-control', 'no-store');
    if (format !== undefined && format !== 'json') {
      // oEmbed 1.0, section 2.3.4: "501 Not Implemented".
      const message = 'Answers are given as JSON alone; ask with format=json';
      return reply.code(501).send({ code: 'BAD_INPUT', message });
    }
    if (typeof url !== 'string' || url === '')
      throw new CasebackError('BAD_INPUT', 'url is missing; give the address of the page of a feed');
    const site = siteOf(request, options);
    const id = feedAt(url, [site, `${request.protocol}://${request.host}`]);
    const state = readiness.archive().state(audienceOf(request.who));
    const feed = id === undefined ? undefined : state.feed(id);
    if (!feed || feed.origins.length === 0)
      throw new CasebackError('NOT_FOUND', 'There is no feed at this address that may be framed');
    const width = most('maxwidth', maxwidth, SIZE.width);
    const height = most('maxheight', maxheight, SIZE.height);
    shareWithOrigins(request, reply, feed);
    keptFor(feed.maxAge, request, reply, options);
    return reply.type('application/json; charset=utf-8').send({
      version: '1.0',
      type: 'rich',
      title: feed.title,
      provider_name: 'Caseback',
      provider_url: `${site}/`,
      cache_age: feed.maxAge,
      width,
      height,
      html: html`<iframe src="${site}/feeds/${feed.id}" title="${feed.title}" width="${width}" height="${height}" loading="lazy"></iframe>`
        .text,
    });
  });
}

/** The id of the feed whose page is at an address of one of some sites. */
function feedAt(address: string, sites: readonly string[]): string | undefined {
  const url = URL.parse(address);
  if (!url || !sites.includes(url.origin)) return undefined;
  return /^\/feeds\/(?<id>[a-z0-9-]+)$/u.exec(url.pathname)?.groups?.id;
}

/** The usual size, or the maximum that a consumer has, where that is less. */
function most(name: string, given: unknown, usual: number): number {
  if (given === undefined) return usual;
  const value = Number(given);
  if (typeof given === 'string' && /^\d{1,6}$/u.test(given) && value > 0) return Math.min(value, usual);
  throw new CasebackError('BAD_INPUT', `${name} is not a size; write pixels as a whole number from 1 on`);
}
