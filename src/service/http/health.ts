import type { FastifyInstance } from 'fastify';
import type { Readiness } from './readiness.ts';

/** `GET /livez`: the process answers. `GET /readyz`: the archive is read; 503 before that. */
export async function health(app: FastifyInstance, { readiness }: { readiness: Readiness }): Promise<void> {
  app.get('/livez', () => ({ status: 'alive' }));
  app.get('/readyz', (_request, reply) => {
    const { state } = readiness;
    reply.header('cache-control', 'no-store');
    return state === 'ready' ? { status: state } : reply.code(503).send({ status: state, code: 'NOT_READY' });
  });
}

/** Lets connections end with the answer they wait for once the service closes; others would stay open. */
export function endConnectionsOnClose(app: FastifyInstance): void {
  let closing = false;
  app.addHook('preClose', async () => {
    closing = true;
  });
  app.addHook('onSend', (_request, reply, payload, done) => {
    if (closing) reply.header('connection', 'close');
    done(null, payload);
  });
}
