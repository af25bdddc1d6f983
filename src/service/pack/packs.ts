import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { LRUCache } from 'lru-cache';
import { CasebackError } from '../../model/problems.ts';
import type { Pack } from '../../pack/pack.ts';
import { packOfPublication } from '../../questions/packs.ts';
import type { Facts } from '../../state/facts.ts';
import { resolved } from '../../state/resolve.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { audienceOf } from '../access/asker.ts';
import { citedStatesOf, stateCited } from '../cite/cited-states.ts';
import { conditional } from '../feeds/conditional.ts';
import { inTime } from '../pages/in-time.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { askerOf, type Rate } from '../server/rate.ts';

interface Asked {
  readonly Params: { readonly publication: string };
  readonly Querystring: Readonly<Record<string, unknown>>;
}

/** What making a pack costs, in units of one plain field: an earlier state, and some pictures. */
const WORK = 20_000;
/** How long a copy may be shown without asking again, s: something may be recalled, and is then hidden in the same state, too. */
const MAX_AGE = 300;
/** Bytes of packs that are kept, so that asking again for one costs little. */
const KEPT = 64 * 1024 * 1024;

/**
 * Packs of publications as ZIP, at `/publications/ID/pack.zip?state=…`: made from what readers see, or with `audience=desk`, for whoever may see
 * that, from the desk's. Without a state the asker is led to the address of the present one.
 */
export async function packs(
  app: FastifyInstance,
  { readiness, options, rate }: { readiness: Readiness; options: CheckedOptions; rate: Rate },
): Promise<void> {
  /** The name of the present, the same one until something changes that its audience sees: then the pack is another one. */
  const names = new WeakMap<Facts, string>();
  const kept = new LRUCache<string, Pack>({
    maxSize: KEPT,
    sizeCalculation: ({ files }) => files.reduce((sum, { content }) => sum + content.length, 1),
  });

  app.get<Asked>('/publications/:publication/pack.zip', async (request, reply) => {
    const archive = readiness.archive();
    const { publication } = request.params;
    const audience = audienceAsked(request);
    const { state } = request.query;
    const states = await citedStatesOf(archive);
    if (state === undefined || state === '') {
      const view = archive.state(audience);
      resolved(view, publication, ['Publication']);
      const name = names.get(view.facts) ?? states.nameOf(view);
      names.set(view.facts, name);
      const asked = new URLSearchParams({ ...(audience === 'desk' && { audience }), state: name });
      reply.header('cache-control', 'no-store');
      return reply.redirect(`/publications/${publication}/pack.zip?${asked}`, 303);
    }
    if (typeof state !== 'string') throw new CasebackError('BAD_INPUT', 'state is given twice; give it once');
    const cited = states.read(state);
    const instant = new Date(cited.at).toISOString();
    // What was recalled since is hidden in an earlier state, too: after any entry it may be another pack.
    const key = [audience, archive.version, publication, state].join(' ');
    let pack = kept.get(key);
    if (!pack) {
      rate.charge(askerOf(request), WORK);
      pack = await inTime(reply, options.limits.time, async (signal) => {
        const view = await stateCited(archive, cited, audience, signal);
        const { PACK_PAGES } = await import('../pages/pack-preview.ts');
        const wishes = { state: { instant, name: state }, pages: PACK_PAGES, photos: archive.photos };
        return packOfPublication(view, publication, wishes, signal);
      });
      kept.set(key, pack);
    }
    return sendPack(request, reply, pack, instant.slice(0, 10));
  });

  // A refusal holds for this moment alone.
  app.addHook('onError', async (_request, reply) => {
    reply.header('cache-control', 'no-store');
  });
}

/** As whom a pack is made: as readers see it, whoever asks, unless the desk's is asked for. @throws CasebackError NOT_ALLOWED, BAD_INPUT */
function audienceAsked({ query: { audience }, who }: FastifyRequest<Asked>): Audience {
  if (audience === undefined || audience === 'reader') return 'reader';
  if (audience !== 'desk') throw new CasebackError('BAD_INPUT', 'audience is neither reader nor desk');
  if (audienceOf(who) === 'desk') return 'desk';
  throw new CasebackError('NOT_ALLOWED', "The desk's pack takes somebody who sees what is not published");
}

async function sendPack(
  request: FastifyRequest,
  reply: FastifyReply,
  { files, contents: { publication } }: Pack,
  day: string,
): Promise<FastifyReply> {
  const [{ DIGESTS }, { zipOf }] = await Promise.all([
    import('../../pack/metadata.ts'),
    import('../../pack/zip.ts'),
  ]);
  const digest = files.find(({ path }) => path === DIGESTS)?.sha256 as string;
  reply.headers({
    'cache-control': `${request.who.by === undefined ? 'public' : 'private'}, max-age=${MAX_AGE}`,
    vary: 'authorization, cookie',
  });
  return conditional(request, reply, { etag: `"${digest.slice(0, 32)}"` }, () =>
    reply
      .type('application/zip')
      .header('content-disposition', `attachment; filename="${publication.id}.zip"`)
      .send(zipOf(files, day)),
  );
}
