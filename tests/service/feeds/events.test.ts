import { connect } from 'node:net';
import { EventSource } from 'eventsource';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Archive } from '../../../src/archive.ts';
import { MemoryJournal } from '../../../src/journal/memory/journal.ts';
import { archiveOf, type Served, serve } from '../serving.ts';
import { addDevice, archiveWithFeeds, file, watchOver } from './feeding.ts';

// Server-sent events after WHATWG HTML, section "Server-sent events", read by an independent client (package eventsource).

let archive: Archive;
let served: Served;
let origin: string;
beforeAll(async () => {
  archive = await archiveWithFeeds();
  served = await serve({}, archive);
  origin = await served.app.listen({ port: 0, host: '127.0.0.1' });
});
afterAll(() => served.close());

/** A listener, and what it was told. */
class Listening {
  readonly told: {
    readonly id: string;
    readonly data: { readonly digest: string; readonly feed: string };
  }[] = [];
  readonly source: EventSource;
  #wake: () => void = () => undefined;

  constructor(feed: string, last?: string) {
    const headers = last === undefined ? {} : { 'last-event-id': last };
    this.source = new EventSource(`${origin}/feeds/${feed}/events`, {
      fetch: (url, init) => fetch(url, { ...init, headers: { ...init?.headers, ...headers } }),
    });
    this.source.addEventListener('changed', ({ lastEventId, data }) => {
      this.told.push({ id: lastEventId, data: JSON.parse(data) });
      this.#wake();
    });
  }

  async opened(): Promise<this> {
    if (this.source.readyState !== EventSource.OPEN)
      await new Promise((resolve) => this.source.addEventListener('open', resolve));
    return this;
  }

  async until(isSo: () => boolean): Promise<void> {
    while (!isSo())
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
  }
}

const tagOf = async (feed: string) =>
  String((await served.app.inject(`/feeds/${feed}.json`)).headers.etag).replaceAll('"', '');

/** Bytes of a stream up to a text in it. */
async function bytesOf(path: string, until: string, headers = ''): Promise<string> {
  const { hostname, port } = new URL(origin);
  const socket = connect(Number(port), hostname);
  socket.write(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1\r\n${headers}\r\n`);
  let text = '';
  for await (const chunk of socket) {
    text += chunk;
    if (text.includes(until)) break;
  }
  socket.destroy();
  return text;
}

test('a stream begins with the time to come back and the id of the answer, which is that of its tag', async () => {
  const text = await bytesOf('/feeds/count/events', 'id: ');
  expect(text).toContain('content-type: text/event-stream\r\n');
  expect(text).toContain('cache-control: no-store\r\n');
  expect(text).toContain('access-control-allow-origin: *\r\n');
  expect(text).toContain('retry: 2000\n\n');
  const whole = await bytesOf('/feeds/count/events', `id: ${await tagOf('count')}\n\n`);
  // An id without data is remembered and dispatched to nobody ("dispatch the event", step 2).
  expect(whole).not.toContain('data:');
});

test('listeners are told of what changes the answer, and of nothing else', async () => {
  const one = await new Listening('all-devices').opened();
  const other = await new Listening('all-devices').opened();
  const named = new Set([await tagOf('all-devices')]);
  await addDevice(archive, 'draft');
  await file(archive, { sources: [{ id: 'letter-nine', kind: 'correspondence', title: 'Nine' }] });
  await addDevice(archive, 'published');
  const digest = await tagOf('all-devices');
  for (const listening of [one, other]) {
    await listening.until(() => listening.told.length > 0);
    expect(listening.told).toEqual([
      { id: digest, data: { feed: 'all-devices', digest, since: expect.stringMatching(/^\d{4}-.*Z$/u) } },
    ]);
    listening.source.close();
  }
  expect(named.has(digest)).toBe(false);
});

test('whoever comes back is told at once when the answer is another one, and not when it is the same', async () => {
  const before = await tagOf('count');
  await addDevice(archive, 'published');
  const after = await tagOf('count');
  const late = await new Listening('count', before).opened();
  await late.until(() => late.told.length > 0);
  expect(late.told.map(({ id }) => id)).toEqual([after]);
  const same = await new Listening('count', after).opened();
  await addDevice(archive, 'published');
  await same.until(() => same.told.length > 0);
  expect(same.told.map(({ id }) => id)).toEqual([await tagOf('count')]);
  late.source.close();
  same.source.close();
});

test('an embargo that ends is a change, without an entry', async () => {
  let now = Date.now();
  const journal = new MemoryJournal();
  const filled = await archiveOf(undefined, journal);
  const end = new Date(now + 3_600_000).toISOString();
  const device = { id: 'soon', name: 'Soon', maker: 'tarn', released: '2020', bodySite: 'ear' };
  await file(filled, { devices: [{ ...device, visibility: 'embargoed', embargoUntil: end }] });
  await file(filled, { feeds: [{ id: 'count', title: 'Devices', question: '{ devices { totalCount } }' }] });
  const held = await Archive.open(journal, () => new Date(now));
  const watch = watchOver(held);
  const told: unknown[] = [];
  let wake = () => undefined as unknown;
  watch.subscribe('count', 'reader', (answer) => {
    told.push(answer?.data);
    wake();
  });
  await watch.settled();
  expect(held.untilOpening()).toBe(3_600_000);
  // The clock is just ahead of the end; the next look is made when the time is up, whatever else happens.
  const [{ devices }] = told as [{ devices: { totalCount: number } }];
  now += 3_600_000 - 5;
  const woken = new Promise<void>((resolve) => {
    wake = () => resolve();
  });
  // Something hidden is written, which makes the watch look at its clock again.
  await file(held, {
    sources: [{ id: 'hidden-note', kind: 'correspondence', title: 'H', visibility: 'draft' }],
  });
  await watch.settled();
  expect(told).toHaveLength(1);
  now += 5;
  await woken;
  expect(told[1]).toEqual({ devices: { totalCount: devices.totalCount + 1 } });
  watch.close();
  await held.close();
});

test('a feed that is taken back ends its streams, and is then as if it never was', async () => {
  await file(archive, { feeds: [{ id: 'brief', title: 'B', question: '{ devices { totalCount } }' }] });
  const listening = await new Listening('brief').opened();
  const failed = new Promise<number | undefined>((resolve) =>
    listening.source.addEventListener('error', ({ code }) => code !== undefined && resolve(code)),
  );
  await archive.recallRecord('brief', { actor: 'bench', reason: 'test' });
  expect(await failed).toBe(404);
  expect(listening.source.readyState).toBe(EventSource.CLOSED);
}, 20_000);

test('listeners have bounds that leave connections to others', async () => {
  const small = await serve({ limits: { connections: 5 }, logger: false }, archive);
  const address = await small.app.listen({ port: 0, host: '127.0.0.1' });
  const ends = new AbortController();
  const open = async (feed: string) =>
    (await fetch(`${address}/feeds/${feed}/events`, { signal: ends.signal })).status;
  expect([await open('count'), await open('count'), await open('count'), await open('count')]).toEqual([
    200, 200, 200, 503,
  ]);
  expect([await open('all-devices'), await open('all-devices')]).toEqual([200, 503]);
  ends.abort();
  await small.app.close();
});

test('many listeners miss no change while entries are written one after another', async () => {
  const ends = new AbortController();
  const COUNT = 40;
  const texts: string[] = Array.from({ length: COUNT }, () => '');
  let wake: () => void = () => undefined;
  const until = async (isSo: () => boolean) => {
    while (!isSo())
      await new Promise<void>((resolve) => {
        wake = resolve;
      });
  };
  for (const at of texts.keys()) {
    const { body } = await fetch(`${origin}/feeds/count/events`, { signal: ends.signal });
    void body
      ?.pipeThrough(new TextDecoderStream())
      .pipeTo(
        new WritableStream({
          write(text) {
            texts[at] += text;
            wake();
          },
        }),
      )
      .catch(() => undefined);
  }
  await until(() => texts.every((text) => text.includes('id: ')));
  for (let i = 0; i < 25; i++) await addDevice(archive, i % 3 === 0 ? 'draft' : 'published');
  const last = await tagOf('count');
  await until(() => texts.every((text) => text.includes(`id: ${last}\n`)));
  ends.abort();
  const ids = texts.map((text) => [...text.matchAll(/^id: (.*)$/gmu)].map(([, id]) => id));
  for (const told of ids) {
    expect(told).toEqual(ids[0]);
    expect(told.at(-1)).toBe(last);
    // Each differs from the one before.
    expect(told.filter((id, i) => id === told[i - 1])).toEqual([]);
  }
});

test('a service that stops ends its streams, so that listeners find another', async () => {
  const stopping = await serve({}, archive);
  const address = await stopping.app.listen({ port: 0, host: '127.0.0.1' });
  const { body } = await fetch(`${address}/feeds/count/events`);
  await stopping.app.close();
  // Ends without an error: the stream was ended, not cut.
  const text = await new Response(body).text();
  expect(text).toContain('id: ');
});
