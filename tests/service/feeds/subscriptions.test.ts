import { createHash } from 'node:crypto';
import { type Client, createClient } from 'graphql-ws';
import { afterAll, beforeAll, expect, test } from 'vitest';
import WebSocket from 'ws';
import type { Archive } from '../../../src/archive.ts';
import { type Served, serve } from '../serving.ts';
import { addDevice, archiveWithFeeds } from './feeding.ts';

// Subscriptions by the protocol graphql-transport-ws, asked with the client of its own package (graphql-ws).

let archive: Archive;
let served: Served;
let url: string;
beforeAll(async () => {
  archive = await archiveWithFeeds();
  served = await serve({}, archive);
  url = `${(await served.app.listen({ port: 0, host: '127.0.0.1' })).replace('http', 'ws')}/graphql`;
});
afterAll(() => served.close());

const client = (connectionParams = {}): Client =>
  createClient({ url, webSocketImpl: WebSocket, retryAttempts: 0, connectionParams });
const CHANGED = 'subscription ($id: ID!) { feedChanged(id: $id) { feed digest since } }';
const tag = async () => String((await served.app.inject('/feeds/all-devices.json')).headers.etag);

test('a subscription tells the answer of now, and then each other one', async () => {
  const asking = client();
  const told = asking.iterate<{ feedChanged: { digest: string } }>({
    query: CHANGED,
    variables: { id: 'all-devices' },
  });
  const digest = async () => `"${(await told.next()).value?.data?.feedChanged.digest}"`;
  const first = await digest();
  expect(first).toBe(await tag());
  await addDevice(archive, 'draft');
  await addDevice(archive, 'published');
  const second = await digest();
  expect(second).toBe(await tag());
  expect(second).not.toBe(first);
  await told.return?.();
  await asking.dispose();
});

test('a hidden feed is told as one that never was; a query and a mistake are errors with codes', async () => {
  const asking = client();
  const failure = async (query: string, variables = {}) => {
    try {
      const { value } = await asking.iterate({ query, variables }).next();
      return value?.errors;
    } catch (error) {
      return error;
    }
  };
  const [hidden, never] = [
    await failure(CHANGED, { id: 'waiting' }),
    await failure(CHANGED, { id: 'wailing' }),
  ];
  expect(JSON.stringify(hidden)).toContain('NOT_FOUND');
  expect(JSON.stringify(hidden).replaceAll('waiting', 'wailing')).toBe(JSON.stringify(never));
  expect(JSON.stringify(await failure('{ devices { totalCount } }'))).toContain('Only subscriptions');
  expect(JSON.stringify(await failure('subscription { nothing }'))).toContain('BAD_INPUT');
  await asking.dispose();
});

test('a token that is not valid is refused, and so is a page of another site', async () => {
  const refused = client({ authorization: 'Bearer caseback_nobody' });
  const error = await refused
    .iterate({ query: CHANGED, variables: { id: 'count' } })
    .next()
    .catch((one) => one);
  expect(error.code).toBe(4403);
  const foreign = new WebSocket(url, 'graphql-transport-ws', { origin: 'https://other.example.org' });
  const code = await new Promise((resolve) => foreign.once('close', resolve));
  expect(code).toBe(4403);
});

test('over HTTP a subscription is refused with a message that says where it runs', async () => {
  const { errors } = await served.answer(CHANGED, { id: 'count' });
  expect(errors?.[0].message).toContain('WebSocket');
});

test('a service that answers readers known documents alone holds their subscriptions to it, too', async () => {
  const known = 'subscription { feedChanged(id: "count") { digest } }';
  const documents = new Map([[`sha256:${createHash('sha256').update(known).digest('hex')}`, known]]);
  const held = await serve({ documents, documentsOnly: true }, archive);
  const at = (await held.app.listen({ port: 0, host: '127.0.0.1' })).replace('http', 'ws');
  const asking = createClient({ url: `${at}/graphql`, webSocketImpl: WebSocket, retryAttempts: 0 });
  const first = async (query: string, variables = {}) => {
    const told = asking.iterate({ query, variables });
    try {
      return JSON.stringify((await told.next()).value);
    } catch (error) {
      return JSON.stringify(error);
    } finally {
      await told.return?.();
    }
  };
  expect(await first(CHANGED, { id: 'count' })).toContain('DOCUMENTS_ONLY');
  expect(await first(known)).toMatch(/"digest":"[\w-]{24}"/u);
  await asking.dispose();
  await held.app.close();
});
