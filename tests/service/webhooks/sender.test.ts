import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { FastifyBaseLogger } from 'fastify';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { Accounts } from '../../../src/access/accounts.ts';
import { sqliteAccounts } from '../../../src/access/sqlite-accounts.ts';
import type { Archive } from '../../../src/archive.ts';
import { MemoryJournal } from '../../../src/journal/memory/journal.ts';
import type { FeedWatch } from '../../../src/service/feeds/watch.ts';
import { Metrics } from '../../../src/service/server/metrics.ts';
import { addressRules } from '../../../src/service/webhooks/addresses.ts';
import { systemResolve } from '../../../src/service/webhooks/post.ts';
import { MOST_WAITING } from '../../../src/service/webhooks/queue.ts';
import { PAUSES } from '../../../src/service/webhooks/retries.ts';
import { WebhookSender } from '../../../src/service/webhooks/sender.ts';
import { WebhookStore } from '../../../src/service/webhooks/store.ts';
import { webhooksFile, webhookTables } from '../../../src/service/webhooks/tables.ts';
import { Webhooks } from '../../../src/service/webhooks/webhooks.ts';
import { sharedSchema } from '../../postgres/shared.ts';
import { addDevice, archiveWithFeeds, FEEDS, file, watchOver } from '../feeds/feeding.ts';
import { archiveOf, BY } from '../serving.ts';
import { type Receiver, receiver, until, verified } from './receiver.ts';

const LOCAL = { name: 'bench', account: 'local' } as const;
const MINUTE = 60_000;
const log = { error: () => undefined } as unknown as FastifyBaseLogger;

/** Where webhooks are kept. */
interface Kept {
  open(): WebhookStore;
  remove(): Promise<void> | void;
}

const inFolder = (): Kept & { readonly folder: string } => {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-test-'));
  return {
    folder,
    open: () => new WebhookStore(webhookTables({ folder })),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
};
const inDatabase = async (): Promise<Kept> => {
  const schema = await sharedSchema();
  return {
    open: () => new WebhookStore(webhookTables({ folder: '/nowhere', database: schema.url })),
    remove: () => schema.drop(),
  };
};

let archive: Archive;
let watch: FeedWatch;
let got: Receiver;
beforeAll(async () => {
  archive = await archiveWithFeeds();
  got = await receiver();
});
afterAll(async () => {
  await archive.close();
  await got.close();
});

/** The clock of what sends: it goes on by itself, and further when a test says so. */
let ahead = 0;
const clock = () => new Date(Date.now() + ahead);

/** A process that sends. */
class Process {
  readonly webhooks: Webhooks;
  readonly sender: WebhookSender;
  readonly metrics = new Metrics();

  constructor(store: WebhookStore, accounts?: Accounts, on = archive, watching = watch) {
    this.webhooks = new Webhooks(store, addressRules([got.origin, down.origin], ['127.0.0.0/8']), clock);
    this.sender = new WebhookSender({
      webhooks: this.webhooks,
      watch: watching,
      archive: () => on,
      accounts,
      publicUrl: new URL('https://caseback.example.org/'),
      posting: { resolve: systemResolve, time: 5_000 },
      metrics: this.metrics,
      log,
      clock,
      poll: 50,
    });
    this.webhooks.onChange = () => this.sender.wake();
    this.sender.start();
  }

  /** Registers an address, and waits until the answer of now is noted. */
  async register(feed: string, address: string, more: object = {}): Promise<{ id: string; secret: string }> {
    const { webhook, secret } = await this.webhooks.register({ feed, address, ...more }, LOCAL);
    await until(async () => (await this.webhooks.store.messages(webhook.id)).length > 0, 'the answer of now');
    return { id: webhook.id, secret };
  }

  async close(): Promise<void> {
    await this.sender.stop();
    await this.webhooks.close();
  }
}

/** Lets time pass. */
const later = (process: Process, ms: number) => {
  ahead += ms;
  process.sender.wake();
};

let down: Receiver;
const NOT_DOWN: Receiver['answer'] = (response) => response.writeHead(204).end();
beforeEach(async () => {
  watch = watchOver(archive);
  down = await receiver();
  down.answer = (response) => response.writeHead(500).end();
  ahead = 0;
  got.received.length = 0;
  got.answer = NOT_DOWN;
});
afterEach(async () => {
  watch.close();
  await down.close();
});

describe.each([
  ['in a file', inFolder],
  ['in a PostgreSQL database', inDatabase],
] as const)('webhooks %s', (_where, make) => {
  let kept: Kept;
  let running: Process[];
  const begin = (
    ...more: ConstructorParameters<typeof Process> extends [unknown, ...infer R] ? R : never
  ) => {
    const process = new Process(kept.open(), ...more);
    running.push(process);
    return process;
  };
  beforeEach(async () => {
    kept = await make();
    running = [];
  });
  afterEach(async () => {
    for (const process of running) await process.close();
    await kept.remove();
  });

  test('a change of the answer is told once, signed; what readers do not see is told to the desk alone', async () => {
    const process = begin();
    const reader = await process.register('count', `${got.origin}/reader`);
    const desk = await process.register('count', `${got.origin}/desk`, { audience: 'desk' });
    await addDevice(archive, 'draft');
    await got.until(1);
    await addDevice(archive, 'published');
    await got.until(3);
    await pause(200);
    expect(got.received.map(({ path }) => path).toSorted()).toEqual(['/desk', '/desk', '/reader']);
    const [message] = got.received.filter(({ path }) => path === '/reader');
    const answer = await watch.now('count', 'reader');
    // Standard Webhooks 1.0.0, "Payload structure": verified by the library of the specification.
    expect(verified(reader.secret, message)).toEqual({
      type: 'feed.changed',
      timestamp: answer?.since,
      data: {
        feed: { id: 'count', title: 'Devices' },
        audience: 'reader',
        etag: `"${answer?.digest}"`,
        addresses: Object.fromEntries(
          ['json', 'csv', 'svg', 'png', 'vl.json'].map((form) => [
            form,
            `https://caseback.example.org/feeds/count.${form}`,
          ]),
        ),
      },
    });
    expect(() => verified(desk.secret, message)).toThrow('No matching signature');
    const listed = await process.webhooks.messages(reader.id);
    expect(listed).toMatchObject([
      { id: message.headers['webhook-id'], state: 'delivered', tries: 1, outcome: '204' },
    ]);
    expect(message.headers['webhook-id']).toMatch(/^[^.]+$/u);
  });

  test('what was not taken survives a restart, under the same id, and so does what changed while nothing ran', async () => {
    let process = begin();
    const { secret } = await process.register('count', `${down.origin}/hook`);
    await addDevice(archive, 'published');
    await down.until(1);
    await process.close();
    running.pop();
    ahead += MINUTE;
    down.answer = NOT_DOWN;
    process = begin();
    await down.until(2);
    const [first, second] = down.received;
    expect(second.headers['webhook-id']).toBe(first.headers['webhook-id']);
    expect(second.body).toBe(first.body);
    // The timestamp is that of the try: the library refuses what is older than five minutes, or as much ahead.
    expect(Number(second.headers['webhook-timestamp'])).toBeGreaterThan(
      Number(first.headers['webhook-timestamp']),
    );
    verified(secret, first);
    verified(secret, second);
    await process.close();
    running.pop();
    await addDevice(archive, 'published');
    process = begin();
    await down.until(3);
    expect(verified(secret, down.received[2]).data.etag).toBe(
      `"${(await watch.now('count', 'reader'))?.digest}"`,
    );
    await pause(200);
    expect(down.received).toHaveLength(3);
  });

  test('a receiver that is down, or does not answer, holds up no other', async () => {
    const process = begin();
    down.answer = () => undefined;
    for (const name of ['a', 'b', 'c']) await process.register('count', `${down.origin}/${name}`);
    const up = await process.register('count', `${got.origin}/up`);
    await addDevice(archive, 'published');
    await down.until(3);
    await got.until(1);
    await addDevice(archive, 'published');
    await got.until(2);
    for (const one of got.received) verified(up.secret, one);
    // One at a time goes to each.
    expect(down.received).toHaveLength(3);
  });

  test('pauses grow; after the last the message is given up, and listed, and a receiver that took nothing is turned off', async () => {
    const process = begin();
    const { id } = await process.register('count', `${down.origin}/hook`);
    await addDevice(archive, 'published');
    await down.until(1);
    for (const [i, ms] of PAUSES.entries()) {
      await until(async () => (await process.webhooks.messages(id))[0]?.tries === i + 1, `try ${i + 1}`);
      const [message] = await process.webhooks.messages(id);
      const wait = Date.parse(String(message.nextTry)) - Date.parse(String(message.tried));
      expect(wait).toBeGreaterThanOrEqual(ms);
      expect(wait).toBeLessThan(ms * 1.1 + 6_000);
      later(process, wait + 1);
      await down.until(i + 2);
    }
    await until(async () => (await process.webhooks.one(id)).state === 'off');
    expect(await process.webhooks.messages(id)).toMatchObject([
      { state: 'given-up', tries: PAUSES.length + 1, nextTry: null, outcome: '500' },
    ]);
    expect((await process.webhooks.one(id)).note).toMatch(
      /^no message was taken since .*; the last try: 500$/u,
    );
    expect(new Set(down.received.map(({ headers }) => headers['webhook-id'])).size).toBe(1);
    const text = await process.metrics.text();
    expect(text).toContain(`caseback_webhook_tries_total{outcome="failed"} ${PAUSES.length + 1}`);
    expect(text).toContain('caseback_webhook_messages_given_up_total 1');
    // Turned on again, it is told what it missed.
    down.answer = NOT_DOWN;
    await process.webhooks.resume(id);
    await down.until(PAUSES.length + 2);
    expect(down.received.at(-1)?.headers['webhook-id']).not.toBe(down.received[0].headers['webhook-id']);
    await until(async () => (await process.metrics.text()).includes('outcome="delivered"} 1'));
  });

  test('410 turns it off at once; 429 and 503 put off all that waits for as long as Retry-After says', async () => {
    const process = begin();
    const gone = await process.register('count', `${down.origin}/gone`);
    const busy = await process.register('count', `${got.origin}/busy`);
    down.answer = (response) => response.writeHead(410).end();
    got.answer = (response) => response.writeHead(503, { 'retry-after': '3600' }).end();
    await addDevice(archive, 'published');
    await down.until(1);
    await got.until(1);
    await until(async () => (await process.webhooks.one(gone.id)).state === 'off');
    expect((await process.webhooks.one(gone.id)).note).toBe('the receiver answered 410 Gone');
    await until(async () => (await process.webhooks.one(busy.id)).heldUntil !== null);
    await addDevice(archive, 'published');
    await until(async () => (await process.webhooks.messages(busy.id)).length === 2);
    later(process, 59 * MINUTE);
    await pause(200);
    expect([got.received.length, down.received.length]).toEqual([1, 1]);
    got.answer = NOT_DOWN;
    later(process, 2 * MINUTE);
    await got.until(3);
    expect(down.received).toHaveLength(1);
  });

  test('while a secret is being changed messages are signed with both, then with the new one alone', async () => {
    const process = begin();
    const { id, secret: old } = await process.register('count', `${got.origin}/hook`);
    const { secret } = await process.webhooks.rotate(id, 1);
    expect(secret).not.toBe(old);
    await process.webhooks.test(id);
    await got.until(1);
    for (const one of [secret, old])
      expect(verified(one, got.received[0])).toMatchObject({
        type: 'webhook.test',
        data: { feed: { id: 'count' } },
      });
    later(process, 61 * MINUTE);
    await until(
      async () => (await process.webhooks.one(id)).oldUntil === null,
      'the old secret to be forgotten',
    );
    expect(await process.webhooks.store.secrets(id)).toEqual({ secret, old: null, oldUntil: null });
    // Within the five minutes that the library allows.
    ahead = 0;
    await process.webhooks.test(id);
    await got.until(2);
    verified(secret, got.received[1]);
    expect(() => verified(old, got.received[1])).toThrow('No matching signature');
    expect(String(got.received[1].headers['webhook-signature']).split(' ')).toHaveLength(1);
    // A secret that somebody found out ends at once.
    const { secret: third } = await process.webhooks.rotate(id, 0);
    await process.webhooks.test(id);
    await got.until(3);
    verified(third, got.received[2]);
    expect(() => verified(secret, got.received[2])).toThrow('No matching signature');
  });

  test('of two processes one sends, and the other when that has ended', async () => {
    const [one, other] = [begin(), begin()];
    await one.register('count', `${got.origin}/hook`);
    await addDevice(archive, 'published');
    await got.until(1);
    await pause(300);
    expect(got.received).toHaveLength(1);
    await one.close();
    running.splice(0, 1);
    await addDevice(archive, 'published');
    await got.until(2);
    await pause(300);
    expect(got.received).toHaveLength(2);
    expect((await other.webhooks.list()).length).toBe(1);
  });

  test('what is registered, removed or turned off by another process counts within a look', async () => {
    const process = begin();
    const elsewhere = new Webhooks(kept.open(), process.webhooks.rules);
    const { webhook, secret } = await elsewhere.register(
      { feed: 'count', address: `${got.origin}/hook` },
      LOCAL,
    );
    await until(async () => (await elsewhere.store.messages(webhook.id)).length > 0);
    await addDevice(archive, 'published');
    await got.until(1);
    verified(secret, got.received[0]);
    await elsewhere.remove(webhook.id);
    await pause(200);
    await addDevice(archive, 'published');
    await pause(300);
    expect(got.received).toHaveLength(1);
    await expect(elsewhere.one(webhook.id)).rejects.toThrow(/no webhook has the id/u);
    await elsewhere.close();
  });
});

describe('webhooks', () => {
  let kept: ReturnType<typeof inFolder>;
  let process: Process;
  beforeEach(() => {
    kept = inFolder();
    process = new Process(kept.open());
  });
  afterEach(async () => {
    await process.close();
    kept.remove();
  });

  test('are kept in a file that its owner alone reads, which is made with the first of them', async () => {
    await pause(150);
    expect(() => statSync(webhooksFile(kept.folder))).toThrow('ENOENT');
    const { secret } = await process.register('count', `${got.origin}/hook`);
    expect(statSync(webhooksFile(kept.folder)).mode & 0o777).toBe(0o600);
    // A secret that signs cannot be kept as a digest (HMAC, RFC 2104); so it is nowhere else.
    expect(readFileSync(webhooksFile(kept.folder)).includes(secret)).toBe(true);
    // Standard Webhooks 1.0.0: base64 of 24 to 64 bytes behind whsec_.
    expect(secret).toMatch(/^whsec_[A-Za-z0-9+/]+={0,2}$/u);
    expect(Buffer.from(secret.slice(6), 'base64').length).toBe(32);
  });

  test('tell that a feed is seen no more, and that it is back; only what they were registered for', async () => {
    // An archive of its own, whose feed comes and goes.
    const journal = new MemoryJournal();
    const own = await archiveOf(undefined, journal);
    const feed = { ...FEEDS[1], id: 'comes' };
    await file(own, { feeds: [feed] });
    const watching = watchOver(own);
    const other = inFolder();
    const sending = new Process(other.open(), undefined, own, watching);
    try {
      const all = await sending.register('comes', `${got.origin}/all`);
      await sending.register('comes', `${got.origin}/changed`, { events: ['feed.changed'] });
      await sending.register('comes', `${got.origin}/removed`, { events: ['feed.removed'] });
      await own.recallRecord('comes', BY);
      await got.until(2);
      await file(own, { feeds: [{ ...feed, title: 'Devices again' }] });
      await got.until(4);
      await pause(200);
      expect(got.received.map(({ path, body }) => `${path} ${JSON.parse(body).type}`).toSorted()).toEqual([
        '/all feed.changed',
        '/all feed.removed',
        '/changed feed.changed',
        '/removed feed.removed',
      ]);
      const removed = got.received.find(({ path }) => path === '/all');
      expect(removed && verified(all.secret, removed)).toEqual({
        type: 'feed.removed',
        timestamp: expect.any(String),
        data: { feed: { id: 'comes' }, audience: 'reader' },
      });
    } finally {
      await sending.close();
      watching.close();
      other.remove();
      await own.close();
    }
  });

  test('of which more wait than may are told the newest; what was given up is listed', async () => {
    const { id } = await process.register('count', `${down.origin}/hook`);
    down.answer = (response) => response.writeHead(503, { 'retry-after': '86400' }).end();
    await addDevice(archive, 'published');
    await down.until(1);
    const { enqueue } = await import('../../../src/service/webhooks/queue.ts');
    const webhook = await process.webhooks.one(id);
    const answer = await watch.now('count', 'reader');
    for (let i = 0; i < MOST_WAITING + 5; i++) {
      const one = Object.create(answer ?? null, { digest: { value: `d${i}` } });
      await enqueue(process.webhooks.store, webhook, one, { now: clock().toISOString(), site: '' });
    }
    const messages = await process.webhooks.messages(id);
    expect(messages.filter(({ state }) => state === 'waiting')).toHaveLength(MOST_WAITING);
    expect(messages.filter(({ state }) => state === 'given-up')).toHaveLength(6);
    expect(messages.at(-1)).toMatchObject({
      state: 'given-up',
      outcome: 'more than 100 waited; later ones tell more',
    });
    expect(messages[0]).toMatchObject({ state: 'waiting', digest: `d${MOST_WAITING + 4}` });
  });

  test('for the desk end with the right of whoever registered them', async () => {
    const accounts = new Accounts(sqliteAccounts(kept.folder));
    await accounts.add('Ed', { role: 'editor' });
    await process.close();
    process = new Process(kept.open(), accounts);
    const owner = { name: 'Ed', account: 'person' } as const;
    const address = `${got.origin}/hook`;
    const { webhook } = await process.webhooks.register(
      { feed: 'waiting', address, audience: 'desk' },
      owner,
    );
    const { webhook: forReaders } = await process.webhooks.register({ feed: 'count', address }, owner);
    await until(async () => (await process.webhooks.store.messages(webhook.id)).length > 0);
    await addDevice(archive, 'draft');
    await got.until(1);
    await accounts.change('Ed', { role: 'contributor' });
    await addDevice(archive, 'draft');
    await until(async () => (await process.webhooks.one(webhook.id)).state === 'off');
    expect((await process.webhooks.one(webhook.id)).note).toBe(
      'Ed, who registered it for the desk, is no editor any more',
    );
    await pause(200);
    expect(got.received).toHaveLength(1);
    expect((await process.webhooks.one(forReaders.id)).state).toBe('on');
    await accounts.close();
  });

  test('refuse what cannot be registered, in words that name the fix', async () => {
    const { webhooks } = process;
    const one = { feed: 'count', address: `${got.origin}/hook` };
    await webhooks.register(one, LOCAL);
    await expect(webhooks.register(one, LOCAL)).rejects.toThrow(/registered for the feed already, as /u);
    await expect(webhooks.register({ ...one, events: [] }, LOCAL)).rejects.toThrow(/events is empty/u);
    await expect(webhooks.register({ ...one, address: 'http://10.0.0.1/' }, LOCAL)).rejects.toThrow(
      /must begin with https/u,
    );
    await expect(webhooks.rotate('no-such')).rejects.toThrow(/no webhook/u);
    await expect(webhooks.rotate('no-such', 1_000)).rejects.toThrow(/0 to 168/u);
    await expect(webhooks.test('no-such')).rejects.toThrow(/no webhook/u);
  });
});
