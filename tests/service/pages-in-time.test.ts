import { type ClientRequest, get } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, test, vi } from 'vitest';
import { type Served, serve } from './serving.ts';

/** Work of pages that comes to no end: the signal that each was given. */
const given = vi.hoisted(() => ({ sheet: [] as AbortSignal[], pattern: [] as AbortSignal[] }));
const endless = vi.hoisted(
  () => (signal: AbortSignal) =>
    new Promise((_, reject) => signal.addEventListener('abort', () => reject(signal.reason))),
);
vi.mock('../../src/questions/evidence.ts', async (original) => ({
  ...(await original<object>()),
  sheetOf: (_state: unknown, _id: string, signal: AbortSignal) => {
    given.sheet.push(signal);
    return endless(signal);
  },
}));
vi.mock('../../src/questions/patterns.ts', async (original) => ({
  ...(await original<object>()),
  findPattern: (_state: unknown, { signal }: { signal: AbortSignal }) => {
    given.pattern.push(signal);
    return endless(signal);
  },
}));

let served: Served;
afterEach(async () => {
  given.sheet.length = 0;
  given.pattern.length = 0;
  await served.close();
});

test.each([
  ['the start page', '/', given.pattern],
  ['a checking sheet', '/publications/letter-one/sheet', given.sheet],
])('%s that takes too long is refused, and what works on it ends', async (_, url, signals) => {
  served = await serve({ limits: { time: 100 } });
  const response = await served.app.inject({ url });
  expect([response.statusCode, response.json()]).toEqual([
    422,
    { code: 'OUT_OF_BUDGET', message: expect.stringContaining('longer than 100 ms') },
  ]);
  expect(signals.map(({ aborted }) => aborted)).toEqual([true]);
});

test('pages are made once for all who want them, and no longer than somebody does', async () => {
  served = await serve();
  await served.app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = served.app.server.address() as AddressInfo;
  const asked: readonly ClientRequest[] = [0, 1].map(() => get({ port, path: '/' }));
  for (const one of asked) one.on('error', () => undefined);
  await vi.waitFor(() => expect(given.pattern.length).toBe(1));
  asked[0].destroy();
  // Time enough for the service to notice.
  await new Promise((resolve) => setTimeout(resolve, 100));
  expect(given.pattern.map(({ aborted }) => aborted)).toEqual([false]);
  asked[1].destroy();
  await vi.waitFor(() => expect(given.pattern.map(({ aborted }) => aborted)).toEqual([true]));
});
