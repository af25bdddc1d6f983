import { createHash } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { CasebackError } from '../../model/problems.ts';
import { newsIn } from '../../questions/news.ts';
import type { State } from '../../state/state.ts';
import { conditional } from '../feeds/conditional.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { atomOf } from './document.ts';

const TYPE = 'application/atom+xml; charset=utf-8';
/** How long a copy may be shown without asking again, s. */
const MAX_AGE = 300;

/**
 * `GET /atom.xml`: what is new, as readers see it, whoever asks; aggregators hand on what they get. Requests may be conditional
 * (RFC 9110, section 13).
 */
export async function atom(
  app: FastifyInstance,
  { readiness, options }: { readiness: Readiness; options: CheckedOptions },
): Promise<void> {
  const made = new WeakMap<State, Promise<Buffer>>();
  const { access } = options;
  const documentOf = async (view: State): Promise<Buffer> => {
    const secret = await readiness.archive().secret();
    if (!secret) throw new CasebackError('UNAVAILABLE', 'The archive is not there yet; ask again soon');
    return Buffer.from(atomOf(await newsIn(view), { site: access.publicUrl, secret }));
  };

  app.get('/atom.xml', async (request, reply) => {
    const view = readiness.archive().state('reader');
    let document = made.get(view);
    if (!document) {
      document = documentOf(view);
      made.set(view, document);
      document.catch(() => made.delete(view));
    }
    const body = await document;
    const etag = `"${createHash('sha256').update(body).digest('base64url')}"`;
    reply.header('cache-control', `${access.isOpen ? 'public' : 'private'}, max-age=${MAX_AGE}`);
    return conditional(request, reply, { etag }, () => reply.type(TYPE).send(body));
  });
}
