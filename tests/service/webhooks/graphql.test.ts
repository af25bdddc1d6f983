import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Archive } from '../../../src/archive.ts';
import { addressRules } from '../../../src/service/webhooks/addresses.ts';
import { WebhookStore } from '../../../src/service/webhooks/store.ts';
import { webhookTables } from '../../../src/service/webhooks/tables.ts';
import { Webhooks } from '../../../src/service/webhooks/webhooks.ts';
import { type ServedPeople, servePeople } from '../../access/people-served.ts';
import { addDevice, archiveWithFeeds } from '../feeds/feeding.ts';
import type { Answer } from '../serving.ts';
import { type Receiver, receiver, until, verified } from './receiver.ts';

// A whole service: an editor registers an address through GraphQL, and a real receiver takes what comes.

const folder = mkdtempSync(join(tmpdir(), 'caseback-test-'));
let archive: Archive;
let webhooks: Webhooks;
let served: ServedPeople;
let got: Receiver;
beforeAll(async () => {
  got = await receiver();
  archive = await archiveWithFeeds();
  webhooks = new Webhooks(
    new WebhookStore(webhookTables({ folder })),
    addressRules([got.origin], ['127.0.0.1']),
  );
  served = await servePeople({ archive, webhooks });
});
afterAll(async () => {
  await served.close();
  await webhooks.close();
  await archive.close();
  await got.close();
  rmSync(folder, { recursive: true });
});

async function ask(role: keyof ServedPeople['tokens'] | undefined, query: string): Promise<Answer> {
  const response = await served.app.inject({
    method: 'POST',
    url: '/graphql',
    headers: {
      accept: 'application/graphql-response+json',
      ...(role ? { authorization: `Bearer ${served.tokens[role]}` } : {}),
    },
    payload: { query },
  });
  return response.json() as Answer;
}

const WEBHOOK =
  'id feed address events audience owner state note previousSecretUntil messages { id type state tries nextTry outcome }';

test('an editor registers, tries, changes the secret, and removes; a change arrives', async () => {
  const registered = await ask(
    'editor',
    `mutation { registerWebhook(input: { feed: "count", address: "${got.origin}/hook" }) { secret webhook { ${WEBHOOK} } } }`,
  );
  expect(registered.errors).toBeUndefined();
  const { secret, webhook } = registered.data.registerWebhook;
  expect(webhook).toEqual({
    id: expect.any(String),
    feed: 'count',
    address: `${got.origin}/hook`,
    events: ['FEED_CHANGED', 'FEED_REMOVED'],
    audience: 'READER',
    owner: 'editor',
    state: 'ON',
    note: null,
    previousSecretUntil: null,
    messages: [],
  });
  await until(async () => (await webhooks.store.messages(webhook.id)).length > 0);
  await addDevice(archive, 'published');
  await got.until(1);
  expect(verified(secret, got.received[0])).toMatchObject({
    type: 'feed.changed',
    data: { feed: { id: 'count' }, addresses: { json: '/feeds/count.json' } },
  });
  // The receiver asks for what it was told of, and has it.
  const { etag } = verified(secret, got.received[0]).data;
  expect((await served.app.inject('/feeds/count.json')).headers.etag).toBe(etag);

  await ask('editor', `mutation { testWebhook(input: { id: "${webhook.id}" }) { message { id } } }`);
  await got.until(2);
  const { data } = await ask(
    'editor',
    `mutation { rotateWebhookSecret(input: { id: "${webhook.id}", hours: 2 }) { secret webhook { previousSecretUntil } } }`,
  );
  expect(data.rotateWebhookSecret.webhook.previousSecretUntil).toMatch(/Z$/u);
  const listed = await ask(
    'administrator',
    `{ webhooks(feed: "count") { totalCount nodes { ${WEBHOOK} } } }`,
  );
  expect(listed.data.webhooks).toMatchObject({
    totalCount: 1,
    nodes: [
      {
        messages: [
          { type: 'webhook.test' },
          { type: 'feed.changed', state: 'DELIVERED', tries: 1, outcome: '204' },
        ],
      },
    ],
  });
  expect(JSON.stringify(listed)).not.toMatch(/whsec_/u);
  expect((await ask('editor', '{ webhooks(feed: "waiting") { totalCount } }')).data.webhooks.totalCount).toBe(
    0,
  );
  const removed = await ask('editor', `mutation { removeWebhook(input: { id: "${webhook.id}" }) { id } }`);
  expect(removed.data.removeWebhook).toEqual({ id: webhook.id });
  expect((await ask('editor', '{ webhooks { totalCount } }')).data.webhooks.totalCount).toBe(0);
});

test('nobody below an editor is told of webhooks, in the same words whether or not there are any', async () => {
  for (const role of [undefined, 'reader', 'contributor'] as const)
    for (const query of ['{ webhooks { totalCount } }', '{ webhooks(feed: "waiting") { totalCount } }'])
      expect((await ask(role, query)).errors?.[0].extensions.code).toBe('NOT_ALLOWED');
});

test('an address that messages may not go to is refused with the reason', async () => {
  for (const [address, said] of [
    ['http://127.0.0.1:1/', 'must begin with https'],
    ['https://169.254.169.254/latest/', 'link-local (RFC 3927'],
    ['https://[::1]/', 'loopback'],
  ]) {
    const { errors } = await ask(
      'editor',
      `mutation { registerWebhook(input: { feed: "count", address: "${address}" }) { secret } }`,
    );
    expect(errors?.[0]).toMatchObject({
      message: expect.stringContaining(String(said)),
      extensions: { code: 'BAD_INPUT' },
    });
  }
});

test('a feed of which only the desk knows can be registered, and tells readers nothing', async () => {
  const { data } = await ask(
    'editor',
    `mutation { registerWebhook(input: { feed: "waiting", address: "${got.origin}/waiting" }) { webhook { id } } }`,
  );
  const { id } = data.registerWebhook.webhook;
  await until(async () => (await webhooks.store.messages(id)).length > 0);
  const before = got.received.length;
  await addDevice(archive, 'published');
  await addDevice(archive, 'draft');
  await new Promise((resolve) => setTimeout(resolve, 300));
  expect(got.received.slice(before)).toEqual([]);
  await webhooks.remove(id);
});
