import { createServer } from 'node:net';
import type { TestProject } from 'vitest/node';
import { PostgresServer } from './server.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Port of this run where the address of its PostgreSQL can be had; the first to ask starts it. */
    readonly postgresDoor: number;
  }
}

/** One server for all files of a run, started when the first of them asks and gone when the run ends. */
export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  let server: Promise<PostgresServer> | undefined;
  const door = createServer((socket) => {
    socket.on('error', () => undefined);
    server ??= PostgresServer.start();
    server.then(
      (started) => socket.end(started.url()),
      (error: Error) => socket.end(`could not be started: ${error.stack}`),
    );
  });
  await new Promise<void>((resolve) => door.listen(0, '127.0.0.1', resolve));
  provide('postgresDoor', (door.address() as { port: number }).port);
  return async () => {
    door.close();
    await server?.then(
      (started) => started.remove(),
      () => undefined,
    );
  };
}
