import { once } from 'node:events';
import { get, type IncomingMessage } from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';
import fastify from 'fastify';
import { MultiGraph } from 'graphology';
import { parse } from 'graphology-graphml';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { fromBuffer } from 'yauzl';
import type { Archive } from '../../src/archive.ts';
import {
  EXPORT_FORMATS,
  type ExportFile,
  exportFiles,
  exportsOf,
  today,
} from '../../src/questions/exports.ts';
import { sendMade } from '../../src/service/exports/sending.ts';
import { Pace } from '../../src/state/pace.ts';
import { State } from '../../src/state/state.ts';
import { parseCsv } from '../export/rfc4180.ts';
import { turnsOf } from '../taking-turns.ts';
import { demoArchive } from '../trends/demo.ts';
import { HIDDEN } from './invented.ts';
import { archiveOf, type Served, serve } from './serving.ts';

// Exports over HTTP and GraphQL. ZIP files are read by yauzl, GraphML by graphology's reader; what is asked with conditions follows
// RFC 9110, section 13, and where metadata of tables is found the W3C's "Model for Tabular Data and Metadata on the Web", section 5.

let archive: Archive;
let served: Served;
let origin: string;
beforeAll(async () => {
  archive = await demoArchive();
  served = await serve({}, archive);
  origin = await served.app.listen({ port: 0, host: '127.0.0.1' });
});
afterAll(() => served.close());

const fetched = (url: string, headers: Record<string, string> = {}, method: 'GET' | 'HEAD' = 'GET') =>
  served.app.inject({ method, url, headers });

async function contentOf({ pieces }: ExportFile): Promise<Buffer> {
  const gathered: Buffer[] = [];
  for await (const piece of pieces(() => undefined)) gathered.push(Buffer.from(piece as string));
  return Buffer.concat(gathered);
}

/** Files of a ZIP, in its order. */
async function unzipped(bytes: Buffer): Promise<ReadonlyMap<string, Buffer>> {
  const files = new Map<string, Buffer>();
  const zip = await new Promise<import('yauzl').ZipFile>((done, fail) =>
    fromBuffer(bytes, { lazyEntries: true }, (error, opened) => (error ? fail(error) : done(opened))),
  );
  zip.readEntry();
  zip.on('entry', (entry: import('yauzl').Entry) =>
    zip.openReadStream(entry, async (error, stream) => {
      if (error) throw error;
      const chunks: Buffer[] = [];
      for await (const chunk of stream) chunks.push(chunk as Buffer);
      files.set(entry.fileName, Buffer.concat(chunks));
      zip.readEntry();
    }),
  );
  await once(zip, 'end');
  return files;
}

const SCOPES = [
  ['everything', undefined, '/exports/archive', 'caseback'],
  ['a device', 'tarn-sennit-3', '/exports/device/tarn-sennit-3', 'tarn-sennit-3'],
  ['a specimen', 'tarn-sennit-3/a', '/exports/specimen/tarn-sennit-3/a', 'tarn-sennit-3.a'],
] as const;

describe.each(SCOPES)('%s', (_, id, folder, saved) => {
  test.each(EXPORT_FORMATS)(
    'as %s: each file is what the export writes, and the ZIP is all of them',
    async (format) => {
      const files = await exportFiles(archive.state('reader'), id, format, { date: today() });
      const contents = new Map<string, Buffer>();
      for (const file of files) {
        const { statusCode, headers, rawPayload } = await fetched(`${folder}/${file.name}`);
        const content = await contentOf(file);
        expect([statusCode, headers['content-type']]).toEqual([200, file.mediaType]);
        expect(rawPayload.equals(content), file.name).toBe(true);
        expect(headers['content-disposition']).toBe(`attachment; filename="${saved}.${file.name}"`);
        contents.set(file.name, content);
      }
      const zip = await fetched(`${folder}/${format}.zip`);
      expect(zip.headers['content-type']).toBe('application/zip');
      expect(await unzipped(zip.rawPayload)).toEqual(contents);
      // Equal files, equal bytes: so a copy can be asked for by its tag.
      expect((await fetched(`${folder}/${format}.zip`)).rawPayload.equals(zip.rawPayload)).toBe(true);
    },
  );

  test('a table leads to its metadata, which names it (Tabular Data Model, sections 5.2 and 5.3)', async () => {
    const address = `http://localhost${folder}/components.csv`;
    const { headers } = await fetched(new URL(address).pathname);
    const link = /^<([^>]+)>; rel="describedby"; type="application\/csvm\+json"$/u.exec(String(headers.link));
    const metadata = new URL(link?.[1] as string, address);
    // The default location of section 5.3 is the same.
    expect(metadata.href).toBe(new URL('csv-metadata.json', address).href);
    const said = (await fetched(metadata.pathname)).json() as { tables: { url: string }[] };
    // "If the metadata does not originate from … does not explicitly include a reference to the requested file, it is ignored."
    expect(said.tables.map(({ url }) => new URL(url, metadata).href)).toContain(address);
  });
});

test('no two files of a scope share a name, whatever their kinds', async () => {
  const sets = await exportsOf(archive.state('desk'), undefined, { date: today() });
  const names = sets.flatMap(({ format, files }) => [`${format}.zip`, ...files.map(({ name }) => name)]);
  expect(new Set(names).size).toBe(names.length);
  // What a browser saves, and a spreadsheet may show as a title, begins as no formula does (OWASP, CSV Injection).
  for (const name of names) expect(name).toMatch(/^[a-z][A-Za-z0-9.-]+$/u);
});

test('/exports lists what there is', async () => {
  const { exports: listed } = (await fetched('/exports')).json() as {
    exports: { kind: string; zip: string; files: { address: string; mediaType: string }[] }[];
  };
  expect(listed.map(({ kind }) => kind)).toEqual(EXPORT_FORMATS);
  for (const { zip, files } of listed)
    for (const url of [zip, ...files.map(({ address }) => address)])
      expect((await fetched(url, {}, 'HEAD')).statusCode, url).toBe(200);
});

test('what is not there is refused: a file with those there are, a device as one that never was', async () => {
  const file = await fetched('/exports/archive/nodes.tsv');
  expect([file.statusCode, file.json().message]).toEqual([
    404,
    expect.stringContaining('nodes.csv, edges.csv'),
  ]);
  for (const url of ['/exports/device/tarn-sennit-33/nodes.csv', '/exports/specimen/tarn-sennit-3/z/csv.zip'])
    expect((await fetched(url)).json()).toMatchObject({ code: 'NOT_FOUND' });
});

describe('conditional requests', () => {
  test('of a small file: a tag and a length at once, 304, 412, and another tag when it is another file', async () => {
    const url = '/exports/device/tarn-sennit-3/placement.csv';
    const first = await fetched(url);
    const etag = String(first.headers.etag);
    expect(first.headers['content-length']).toBe(String(first.rawPayload.length));
    const again = await fetched(url, { 'if-none-match': etag });
    expect([again.statusCode, again.body, again.headers.etag]).toEqual([304, '', etag]);
    expect((await fetched(url, { 'if-match': '"other"' })).statusCode).toBe(412);
    expect((await fetched(url, { 'if-match': etag })).body).toBe(first.body);
    expect((await fetched('/exports/device/tarn-sennit-4/placement.csv')).headers.etag).not.toBe(etag);
    const head = await fetched(url, {}, 'HEAD');
    expect([head.statusCode, head.body, head.headers.etag]).toEqual([200, '', etag]);
  });

  test('of a large file: a tag once somebody had it whole, and ahead for who asks with one', async () => {
    const before = await fetched('/exports/archive/edges.csv');
    const known = await fetched('/exports/archive/edges.csv', {}, 'HEAD');
    expect(before.rawPayload.length).toBeGreaterThan(2 ** 20);
    expect([known.statusCode, known.body]).toEqual([200, '']);
    const etag = String(known.headers.etag);
    expect(etag).toMatch(/^"[\w-]{27}"$/u);
    // Another service over the same records, which has sent nothing yet.
    const other = await serve({}, await demoArchive());
    const ask = (headers: Record<string, string>) =>
      other.app.inject({ url: '/exports/archive/edges.csv', headers });
    const unchanged = await ask({ 'if-none-match': etag });
    expect([unchanged.statusCode, unchanged.body]).toEqual([304, '']);
    const changed = await ask({ 'if-none-match': '"older"' });
    expect([changed.statusCode, changed.headers.etag]).toEqual([200, etag]);
    expect(changed.rawPayload.equals(before.rawPayload)).toBe(true);
    await other.close();
  });
});

describe('who may fetch what', () => {
  test('readers get what is published, the desk gets drafts too, and a closed archive answers nobody', async () => {
    const own = await archiveOf();
    const [reader, desk] = [await serve({}, own), await serve({ audience: 'desk' }, own)];
    const nodes = async ({ app }: Served) =>
      parseCsv((await app.inject({ url: '/exports/archive/nodes.csv' })).body).rows.map(({ id }) => id);
    const [seen, all] = [await nodes(reader), await nodes(desk)];
    const hidden = HIDDEN.specimens[0] as string;
    expect([seen.includes(hidden), all.includes(hidden)]).toEqual([false, true]);
    const device = hidden.slice(0, hidden.indexOf('/'));
    const status = async ({ app }: Served) =>
      (await app.inject({ url: `/exports/device/${device}/csv.zip` })).statusCode;
    expect([await status(reader), await status(desk)]).toEqual([404, 200]);
    await Promise.all([reader.app.close(), desk.app.close()]);
    const closed = await serve({ access: { isOpen: false } }, own);
    for (const url of ['/exports', '/exports/archive/nodes.csv', '/exports/device/tarn-sennit-2/csv.zip'])
      expect((await closed.app.inject({ url })).statusCode, url).toBe(401);
    await closed.close();
  });

  test('a file of everything costs five requests, and at most two are under way to one asker', async () => {
    const bounded = await serve({ rate: 1 }, archive);
    const codes: number[] = [];
    for (let i = 0; i < 4; i++)
      codes.push((await bounded.app.inject({ url: '/exports/archive/placement.csv' })).statusCode);
    expect(codes).toEqual([200, 200, 429, 429]);
    await bounded.app.close();
    // Both stop where they would let others have their turn, until the gate is opened.
    let open: () => void = () => undefined;
    const gate = new Promise<void>((done) => {
      open = done;
    });
    const spy = vi.spyOn(Pace.prototype, 'rest').mockReturnValue(gate);
    const [gone, slow] = [new AbortController(), fetch(`${origin}/exports/archive/nodes.csv`)];
    const left = fetch(`${origin}/exports/archive/csv.zip`, { signal: gone.signal });
    left.catch(() => undefined);
    try {
      await vi.waitFor(() => expect(spy.mock.calls.length).toBeGreaterThanOrEqual(2));
      const third = await fetch(`${origin}/exports/archive/edges.csv`);
      expect([third.status, third.headers.get('retry-after')]).toEqual([429, '30']);
      expect(await third.json()).toMatchObject({ code: 'TOO_MANY' });
      // One of a device is not counted.
      expect((await fetch(`${origin}/exports/device/tarn-sennit-3/csv-metadata.json`)).status).toBe(200);
      gone.abort();
      await expect(left.then((response) => response.text())).rejects.toThrow();
      await vi.waitFor(async () =>
        expect((await fetch(`${origin}/exports/archive/csv-metadata.json`)).status).toBe(200),
      );
    } finally {
      open();
      spy.mockRestore();
    }
    expect((await (await slow).text()).slice(0, 3)).toBe('id,');
  });
});

describe('nobody waits for an export', () => {
  test('what is made waits for what is taken, and work ends when the asker has gone', async () => {
    let [made, open] = [0, 0];
    async function* endless(signal: AbortSignal) {
      open++;
      try {
        for (;;) {
          signal.throwIfAborted();
          made++;
          yield Buffer.alloc(65_536, 'x');
          await new Promise(setImmediate);
        }
      } finally {
        open--;
      }
    }
    const app = fastify();
    const { facts } = archive.state('reader');
    app.get('/', (request, reply) =>
      sendMade(request, reply, { facts, key: 'endless', mediaType: 'text/plain', chunks: endless }),
    );
    const address = await app.listen({ port: 0, host: '127.0.0.1' });
    const [response] = (await once(get(address), 'response')) as [IncomingMessage];
    await vi.waitFor(
      async () => {
        const before = made;
        await pause(100);
        expect(made).toBe(before);
      },
      { timeout: 10_000 },
    );
    // What the sockets of both sides take, some MiB, and no more of an endless answer.
    expect(made).toBeLessThan(1_000);
    expect(open).toBe(1);
    response.destroy();
    await vi.waitFor(() => expect(open).toBe(0));
    await app.close();
  });

  test.each(['nodes.csv', 'components.csv', 'graph.graphml', 'csv.zip'])(
    '%s is made a specimen a turn',
    async (name) => {
      const peek = State.prototype.peek;
      const url = `/exports/archive/${name}`;
      const own = await serve({}, await demoArchive());
      const { value, steps } = await turnsOf(async (step) => {
        const spy = vi.spyOn(State.prototype, 'peek').mockImplementation(function (this: State, row) {
          step();
          return peek.call(this, row);
        });
        const { statusCode } = await own.app.inject({ url });
        spy.mockRestore();
        return statusCode;
      });
      expect(value).toBe(200);
      expect(steps.reduce((sum, count) => sum + count)).toBeGreaterThan(30);
      expect(Math.max(...steps)).toBeLessThanOrEqual(2);
      await own.close();
    },
  );
});

describe('GraphQL', () => {
  const QUESTION = `query ($of: ID) { exports(of: $of) { kind about zip files { name mediaType address rows lossCount losses { record field why } text } } }`;

  test('has rows, losses, text and addresses of the files of a device', async () => {
    const { exports: sets } = await served.ask(QUESTION, { of: 'tarn-sennit-3' });
    expect(sets.map(({ kind }: { kind: string }) => kind)).toEqual(EXPORT_FORMATS);
    const counts = new Map<string, number>();
    for (const { zip, files } of sets) {
      expect((await fetched(zip)).statusCode).toBe(200);
      for (const { name, mediaType, address, rows, lossCount, losses, text } of files) {
        const { body, headers } = await fetched(address);
        const isBinary = name.endsWith('.parquet');
        expect([headers['content-type'], text], name).toEqual([mediaType, isBinary ? null : body]);
        if (name.endsWith('.csv')) counts.set(name.replace('csv', 'parquet'), parseCsv(body).rows.length);
        expect(rows, name).toBe(
          name.endsWith('.csv') ? parseCsv(body).rows.length : isBinary ? counts.get(name) : null,
        );
        expect(losses.length).toBe(Math.min(100, lossCount));
      }
    }
    const graph = parse(MultiGraph, sets[1].files[0].text);
    expect(graph.order).toBeGreaterThan(30);
  });

  test('tells what a table cannot hold', async () => {
    const question = `{ exports { files { name lossCount losses { record field why } } } }`;
    const { exports: sets } = await served.ask(question);
    const placement = sets[0].files.find(({ name }: { name: string }) => name === 'placement.csv');
    expect(placement.lossCount).toBeGreaterThan(0);
    expect(placement.losses).toHaveLength(placement.lossCount);
    expect(placement.losses[0]).toMatchObject({ field: 'at', why: expect.stringContaining('not on record') });
  });

  test('has no text of large files and says where they are; nothing of what is not there', async () => {
    const { data, errors } = await served.answer(`{ exports { files { name text } } }`);
    const text = (name: string) =>
      data.exports[0].files.find((one: { name: string }) => one.name === name).text as string | null;
    expect(text('placement.csv')?.slice(0, 19)).toBe('id,device,specimen,');
    expect(data.exports[1].files[0].text === null).toBe(true);
    expect(errors?.[0]).toMatchObject({ extensions: { code: 'TOO_LARGE' } });
    const missing = await served.answer(QUESTION, { of: 'tarn-sennit-33' });
    expect([missing.data.exports, missing.errors?.[0]?.extensions.code]).toEqual([null, 'NOT_FOUND']);
  });

  test('of an earlier instant has text and rows of then, and no addresses, which answer of the present', async () => {
    const own = await serve({}, await archiveOf());
    const instant = new Date().toISOString();
    const of = `exports(of: "tarn-sennit-2") { zip files { name address rows text } }`;
    const { asOf } = await own.ask(`{ asOf(instant: "${instant}") { ${of} } }`);
    const [csv] = asOf.exports;
    expect(csv.zip).toBeNull();
    expect(csv.files.every(({ address }: { address: unknown }) => address === null)).toBe(true);
    const metadata = csv.files.find(({ name }: { name: string }) => name === 'csv-metadata.json');
    expect(JSON.parse(metadata.text)['dc:date']).toEqual({ '@value': instant, '@type': 'xsd:dateTime' });
    await own.close();
  });
});
