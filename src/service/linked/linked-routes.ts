import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { memberId, thingId } from '../../model/ids.ts';
import { linkedDataOf, linkedTerms } from '../../questions/linked.ts';
import { audienceOf } from '../access/asker.ts';
import { conditional } from '../feeds/conditional.ts';
import { inTime } from '../pages/in-time.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { askerOf, type Rate } from '../server/rate.ts';

const TYPE = 'application/ld+json; charset=utf-8';
/** How long a copy of what is the same for all may be shown without asking again, s. */
const MAX_AGE = 3_600;
/** Work of a record, in units of one plain field: as of `linkedData` of the schema. */
const WORK = 2_000;

interface Named {
  readonly id: string;
  readonly member?: string;
  readonly thing?: string;
}

/** Addresses of things: ids have one to three steps. Behind each, of the document, where the last step may have dots of its own. */
const ADDRESSES = [
  ['/records/:id', '/records/:id(^.+).jsonld'],
  ['/records/:id/:member', '/records/:id/:member(^.+).jsonld'],
  ['/records/:id/:member/:thing', '/records/:id/:member/:thing(^.+).jsonld'],
] as const;

/**
 * Linked data: `GET /records/ID.jsonld`, to which the address of the thing itself, `/records/ID`, leads (303, as a thing is no document), and what is
 * the same for all: `/context.jsonld`, `/vocabulary`, `/taxonomy`. Addresses in documents begin with that under which people reach the
 * service, where it is known.
 */
export async function linkedRoutes(
  app: FastifyInstance,
  {
    readiness,
    options,
    rate,
  }: { readonly readiness: Readiness; readonly options: CheckedOptions; readonly rate: Rate },
): Promise<void> {
  const base = options.access.publicUrl?.href;
  const { time } = options.limits;

  const record = async (request: FastifyRequest<{ Params: Named }>, reply: FastifyReply) => {
    const id = idOf(request.params);
    const view = readiness.archive().state(audienceOf(request.who));
    rate.charge(askerOf(request), WORK);
    const document = await inTime(reply, time, (signal) => linkedDataOf(view, id, base, signal));
    reply.headers({ 'cache-control': 'no-cache', vary: 'authorization, cookie' });
    return send(request, reply, document);
  };
  for (const [thing, document] of ADDRESSES) {
    app.get<{ Params: Named }>(document, record);
    app.get<{ Params: Named }>(thing, (request, reply) => {
      const [address] = request.url.split('?');
      reply.header('cache-control', 'no-cache');
      return reply.redirect(`${address}.jsonld`, 303);
    });
  }

  let made: ReturnType<typeof linkedTerms> | undefined;
  for (const [path, name] of [
    ['/context.jsonld', 'context'],
    ['/vocabulary', 'vocabulary'],
    ['/taxonomy', 'taxonomy'],
  ] as const)
    app.get(path, { config: { isForAll: true } }, async (request, reply) => {
      made ??= linkedTerms(base);
      const document = (await made)[name];
      // Programs of other sites read it to understand documents; it says nothing of the archive.
      reply.headers({
        'cache-control': `public, max-age=${MAX_AGE}`,
        'access-control-allow-origin': '*',
        'cross-origin-resource-policy': 'cross-origin',
      });
      return send(request, reply, document);
    });
}

function idOf({ id, member, thing }: Named): string {
  if (member === undefined) return id;
  const outer = memberId(id, member);
  return thing === undefined ? outer : thingId(outer, thing);
}

/** A document with the digest of its bytes as its entity tag. */
function send(request: FastifyRequest, reply: FastifyReply, document: object): FastifyReply {
  const body = JSON.stringify(document);
  const etag = `"${createHash('sha256').update(body).digest('base64url').slice(0, 27)}"`;
  return conditional(request, reply, { etag }, () => reply.type(TYPE).send(body));
}
