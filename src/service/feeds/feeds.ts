import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import Negotiator from 'negotiator';
import type { Feed } from '../../model/catalogue.ts';
import { CasebackError } from '../../model/problems.ts';
import { resolved } from '../../state/resolve.ts';
import { audienceOf } from '../access/asker.ts';
import { citeAs } from '../cite/cite-as.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import { keptFor } from './caching.ts';
import { conditional } from './conditional.ts';
import { answerPreflight, shareWithOrigins } from './cross-origin.ts';
import { EVENTS_TYPE, EventStreams } from './events.ts';
import { digestOf, FORMS, type Form } from './representations.ts';
import type { FeedWatch } from './watch.ts';

/** A request for a feed by its id. */
interface Named {
  readonly Params: { readonly id: string };
}

/** What the addresses of feeds need. */
export interface FeedsOptions {
  readonly readiness: Readiness;
  readonly options: CheckedOptions;
  readonly rate: Rate;
  readonly watch: FeedWatch;
}

/** A parameter that takes ids alone, so that the ending of an address is none of it. */
const ID = ':id(^[a-z0-9-]+)';
/** Pictures of ours load nothing and run nothing, wherever they are opened. */
const PICTURE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox";

/**
 * Feeds at addresses of their own: `/feeds` lists those that the asker sees, `/feeds/ID.json` answers one, likewise `.csv`, `.svg`,
 * `.png` and `.vl.json`; `/feeds/ID/events` tells when the answer has changed. Requests may be conditional (RFC 9110, section 13).
 */
export async function feeds(
  app: FastifyInstance,
  { readiness, options, rate, watch }: FeedsOptions,
): Promise<void> {
  const streams = new EventStreams(watch, options.limits);
  app.addHook('preClose', async () => {
    streams.close();
    watch.close();
  });
  // A refusal holds for this moment alone; some could be kept otherwise (RFC 9110, section 15.1).
  app.addHook('onError', async (_request, reply) => {
    reply.header('cache-control', 'no-store');
  });

  /** The feed as the asker sees it. @throws CasebackError NOT_FOUND, for what is hidden as for what never was */
  const feedFor = ({ params: { id }, who }: FastifyRequest<Named>): Feed =>
    resolved(readiness.archive().state(audienceOf(who)), id, ['Feed']).thing;

  const chargeTo = (request: FastifyRequest) => (work: number) => rate.charge(askerOf(request), work);

  const route = (url: string, get: (request: FastifyRequest<Named>, reply: FastifyReply) => unknown) => {
    app.get<Named>(url, get);
    app.route<Named>({
      method: 'OPTIONS',
      url,
      // A browser asks without saying who is there, so only what visitors see is shared.
      config: { isForAll: true },
      handler: (request, reply) =>
        answerPreflight(request, reply, readiness.archive().state('reader').feed(request.params.id)),
    });
    app.route({
      method: ['POST', 'PUT', 'PATCH', 'DELETE'],
      url,
      // Ahead of the body, which nobody reads.
      onRequest: (request, reply, done) => {
        reply.code(405).header('allow', 'GET, HEAD, OPTIONS');
        reply.send({ code: 'BAD_INPUT', message: `${request.method} is not allowed; use GET` });
        done();
      },
      handler: (_request, reply) => reply,
    });
  };

  route('/feeds', (request, reply) => {
    if (!takes(request, FORMS.json)) return notAcceptable(reply, FORMS.json);
    const seen = readiness.archive().state(audienceOf(request.who)).feeds();
    const body = Buffer.from(JSON.stringify({ feeds: seen.toSorted(byId).map(listed) }));
    keptFor(0, request, reply, options);
    return conditional(request, reply, { etag: `"${digestOf('list', body)}"` }, () =>
      reply.type(FORMS.json).send(body),
    );
  });

  for (const form of Object.keys(FORMS) as Form[])
    route(`/feeds/${ID}.${form}`, async (request, reply) => {
      const feed = feedFor(request);
      shareWithOrigins(request, reply, feed);
      if (!takes(request, FORMS[form])) return notAcceptable(reply, FORMS[form]);
      const { id } = feed;
      const archive = readiness.archive();
      const audience = audienceOf(request.who);
      const view = archive.state(audience);
      const answer = await watch.now(id, audience, chargeTo(request));
      // It may have been hidden since.
      if (!answer) throw new CasebackError('NOT_FOUND', `No feed has the id "${id}"`);
      const { body, type, digest } = await answer.in(form);
      const { modified } = answer;
      keptFor(feed.maxAge, request, reply, options);
      const link = await citeAs(archive, view, answer, form === 'csv' ? 'csv' : 'json');
      if (link !== undefined) reply.header('link', link);
      return conditional(request, reply, { etag: `"${digest}"`, modified }, () => {
        // Never later than Date (RFC 9110, section 8.8.2.1); whoever comes back with such a date is answered in full.
        reply.header('last-modified', new Date(Math.min(modified, Date.now())).toUTCString());
        if (form === 'svg') reply.header('content-security-policy', PICTURE_POLICY);
        if (form === 'csv') reply.header('content-disposition', `inline; filename="${id}.csv"`);
        return reply.type(type).send(body);
      });
    });

  route(`/feeds/${ID}/events`, async (request, reply) => {
    const feed = feedFor(request);
    shareWithOrigins(request, reply, feed);
    if (!takes(request, EVENTS_TYPE)) return notAcceptable(reply, EVENTS_TYPE);
    return streams.open(request, reply, feed.id, chargeTo(request));
  });
}

const byId = (a: Feed, b: Feed) => (a.id < b.id ? -1 : 1);

/** A feed as the list has it, with the addresses that answer it. */
function listed({ id, title, maxAge }: Feed): object {
  const addresses = Object.keys(FORMS).map((form) => [form, `/feeds/${id}.${form}`]);
  return {
    id,
    title,
    maxAge,
    page: `/feeds/${id}`,
    ...Object.fromEntries(addresses),
    events: `/feeds/${id}/events`,
  };
}

/** Whether the asker takes a media type (RFC 9110, section 12.5.1). */
function takes({ headers: { accept } }: FastifyRequest, type: string): boolean {
  if (accept === undefined) return true;
  const [bare] = type.split(';');
  return new Negotiator({ headers: { accept } }).mediaType([bare]) !== undefined;
}

function notAcceptable(reply: FastifyReply, type: string): FastifyReply {
  const message = `This address answers in ${type.split(';')[0]}; Accept does not have it`;
  return reply.code(406).header('cache-control', 'no-store').send({ code: 'BAD_INPUT', message });
}
