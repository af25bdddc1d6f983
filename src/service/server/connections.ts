import type { Socket } from 'node:net';
import type { FastifyInstance } from 'fastify';
import type { CheckedOptions } from './options.ts';
import { networkOf } from './rate.ts';

/** How long an answer may wait for a client that takes nothing of it, milliseconds. */
const UNREAD = 120_000;

/**
 * Bounds on connections: so many in all, so many from one address (not behind a proxy, whose address they all have), and none
 * that only waits for a client to read its answer.
 */
export function boundConnections(app: FastifyInstance, { limits, trustProxy }: CheckedOptions): void {
  const { server } = app;
  server.maxConnections = limits.connections;
  const isBehindProxy = typeof trustProxy === 'number' ? trustProxy > 0 : trustProxy.length > 0;
  const open = new Map<string, number>();
  server.on('connection', (socket: Socket) => {
    endUnread(socket);
    if (isBehindProxy) return;
    const address = networkOf(socket.remoteAddress ?? '');
    const count = (open.get(address) ?? 0) + 1;
    if (count > limits.connectionsEach) {
      socket.destroy();
      return;
    }
    open.set(address, count);
    socket.once('close', () => {
      const left = (open.get(address) ?? 1) - 1;
      if (left === 0) open.delete(address);
      else open.set(address, left);
    });
  });
}

/** Ends a connection of which an answer, or a part of it, was not taken for that long. */
function endUnread(socket: Socket): void {
  let taken = 0;
  const timer = setInterval(() => {
    const { bytesWritten, writableLength } = socket;
    const sent = bytesWritten - writableLength;
    if (writableLength > 0 && sent === taken) socket.destroy();
    taken = sent;
  }, UNREAD);
  timer.unref();
  socket.once('close', () => clearInterval(timer));
}
