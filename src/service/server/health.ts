import type { FastifyInstance } from 'fastify';
import type { Archive } from '../../archive.ts';
import { CasebackError } from '../../model/problems.ts';

/** Holds the archive, which may still be on its way while the service already listens. */
export class Readiness {
  #archive: Archive | undefined;
  #failed = false;

  constructor(archive: Archive | PromiseLike<Archive>) {
    if (!('then' in archive)) {
      this.#archive = archive;
      return;
    }
    archive.then(
      (opened) => {
        this.#archive = opened;
      },
      () => {
        // Whoever opens the archive reports why; the service only stays not ready.
        this.#failed = true;
      },
    );
  }

  get state(): 'ready' | 'reading' | 'failed' {
    if (this.#archive) return 'ready';
    return this.#failed ? 'failed' : 'reading';
  }

  /** @throws CasebackError NOT_READY */
  archive(): Archive {
    if (this.#archive) return this.#archive;
    throw new CasebackError(
      'NOT_READY',
      this.#failed
        ? 'The archive could not be read; the log says why'
        : 'The archive is still being read; ask again soon',
    );
  }
}

/** `GET /livez`: the process answers. `GET /readyz`: the archive is read; 503 before that. */
export async function health(app: FastifyInstance, { readiness }: { readiness: Readiness }): Promise<void> {
  const config = { isForAll: true } as const;
  app.get('/livez', { config }, () => ({ status: 'alive' }));
  app.get('/readyz', { config }, (_request, reply) => {
    const { state } = readiness;
    reply.header('cache-control', 'no-store');
    if (state !== 'ready') reply.header('retry-after', '1');
    return state === 'ready' ? { status: state } : reply.code(503).send({ status: state, code: 'NOT_READY' });
  });
}

/** Seconds after which whoever was told that the service stops may find another. */
const RESTART = '5';

/**
 * Once the service closes, requests in hand are answered and connections end with that answer; requests that come on
 * connections still open are refused.
 */
export function endConnectionsOnClose(app: FastifyInstance): void {
  let closing = false;
  app.addHook('preClose', async () => {
    closing = true;
  });
  app.addHook('onRequest', (_request, reply, done) => {
    if (!closing) return done();
    reply.header('retry-after', RESTART);
    return done(new CasebackError('STOPPING', 'The service is stopping; ask again soon'));
  });
  app.addHook('onSend', (_request, reply, payload, done) => {
    if (closing) reply.header('connection', 'close');
    done(null, payload);
  });
}
