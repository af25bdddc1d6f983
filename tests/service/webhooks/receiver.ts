import { createServer, type IncomingHttpHeaders, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { Webhook as Verifier } from 'standardwebhooks';

/** A request as the receiver got it. */
export interface Received {
  readonly path: string;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

/** A real server that webhooks are sent to. */
export interface Receiver {
  readonly origin: string;
  readonly received: Received[];
  /** How it answers from now on. */
  answer: (response: ServerResponse, received: Received) => void;
  /** Waits until it has got so many, or fails. */
  until(count: number): Promise<void>;
  close(): Promise<void>;
}

export async function receiver(host = '127.0.0.1', port = 0): Promise<Receiver> {
  const received: Received[] = [];
  const server = createServer(async (request, response) => {
    let body = '';
    for await (const piece of request) body += piece;
    const one = { path: request.url ?? '', headers: request.headers, body };
    received.push(one);
    got.answer(response, one);
  });
  await new Promise<void>((resolve) => server.listen(port, host, resolve));
  const got: Receiver = {
    origin: `http://${host}:${(server.address() as AddressInfo).port}`,
    received,
    answer: (response) => response.writeHead(204).end(),
    until: (count) =>
      until(() => received.length >= count, `${count} messages; there are ${received.length}`),
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
  return got;
}

/** Waits for something that is about to happen. */
export async function until(is: () => boolean | Promise<boolean>, what = 'it'): Promise<void> {
  for (let left = 500; left > 0; left--) {
    if (await is()) return;
    await pause(20);
  }
  throw new Error(`waited in vain for ${what}`);
}

/** What the library of the specification makes of a message; throws where its signature is not valid. */
// biome-ignore lint/suspicious/noExplicitAny: tests read deep into messages
export function verified(secret: string, { headers, body }: Received): any {
  return new Verifier(secret).verify(body, headers as Record<string, string>);
}
