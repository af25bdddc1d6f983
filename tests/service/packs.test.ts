import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { filesInZip } from '../../src/pack/read-zip.ts';
import { demoArchive } from '../trends/demo.ts';
import { type Served, serve } from './serving.ts';

// Packs over HTTP and through GraphQL, on the demo archive with one publication that is a draft.

const BY = { actor: 'bench', reason: 'test' };
let archive: Archive;
let reader: Served;
let desk: Served;
beforeAll(async () => {
  archive = await demoArchive();
  await archive.importDocuments(
    [
      {
        file: 'made',
        locate: () => ({ line: 1, column: 1 }),
        kind: 'catalogue',
        catalogue: catalogueSchema.parse({
          caseback: 'catalogue/1',
          publications: [
            {
              id: 'waiting',
              kind: 'article',
              title: 'Not yet',
              visibility: 'draft',
              claims: [
                {
                  id: 'c1',
                  sentence: 'The Sennit 3 has a pressure sensor.',
                  supportedBy: ['tarn-sennit-3/a/U3'],
                },
              ],
            },
          ],
        }),
      },
    ],
    BY,
  );
  reader = await serve({}, archive);
  desk = await serve({ audience: 'desk' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

const get = (url: string, { app }: Served = reader, headers: Record<string, string> = {}) =>
  app.inject({ method: 'GET', url, headers });
const PACK = '/publications/two-ends-of-a-board/pack.zip';

describe('a pack at its address', () => {
  test('is led to under the name of the state, and is the same there for ever', async () => {
    const led = await get(PACK);
    expect([led.statusCode, led.headers['cache-control']]).toEqual([303, 'no-store']);
    const address = String(led.headers.location);
    expect(address).toMatch(/^\/publications\/two-ends-of-a-board\/pack\.zip\?state=[\w-]{64}$/u);
    // As long as nothing changes that readers see, it is the same pack.
    expect((await get(PACK)).headers.location).toBe(address);
    const first = await get(address);
    expect(first.headers).toMatchObject({
      'content-type': 'application/zip',
      'content-disposition': 'attachment; filename="two-ends-of-a-board.zip"',
      'cache-control': 'public, max-age=300',
    });
    const files = await filesInZip(first.rawPayload, 'the answer');
    const { state } = JSON.parse(Buffer.from(files.get('pack.json') as Uint8Array).toString());
    expect(address.endsWith(state.name)).toBe(true);
    await archive.correct({ value: { of: 'thovane-calcar-2', field: 'name', is: 'Renamed' } }, BY, 'desk');
    const again = await get(address);
    expect(again.rawPayload.equals(first.rawPayload)).toBe(true);
    // Another service, which knows the archive by its journal alone.
    const other = await serve({}, archive);
    expect((await get(address, other)).rawPayload.equals(first.rawPayload)).toBe(true);
    await other.app.close();
  });

  // RFC 9110, section 13.1.2.
  test('is not sent again to whoever has it', async () => {
    const address = String((await get(PACK)).headers.location);
    const { headers } = await get(address);
    expect((await get(address, reader, { 'if-none-match': String(headers.etag) })).statusCode).toBe(304);
    expect((await get(address, reader, { 'if-none-match': '"another"' })).statusCode).toBe(200);
  });

  test('is what readers see, whoever asks; the desk asks for its own, and readers are refused that', async () => {
    for (const served of [reader, desk])
      expect((await get('/publications/waiting/pack.zip', served)).statusCode).toBe(404);
    const never = await get('/publications/never-was/pack.zip');
    const hidden = await get('/publications/waiting/pack.zip');
    expect(hidden.body.replaceAll('waiting', 'never-was')).toBe(never.body);
    expect((await get(`${PACK}?audience=desk`)).statusCode).toBe(403);
    const led = await get('/publications/waiting/pack.zip?audience=desk', desk);
    const files = await filesInZip((await get(String(led.headers.location), desk)).rawPayload, 'the answer');
    expect(Buffer.from(files.get('ro-crate-preview.html') as Uint8Array).toString()).toContain(
      'not for readers',
    );
    expect((await get(String(led.headers.location))).statusCode).toBe(403);
  });

  test('refuses a state of another archive, and an audience that is none', async () => {
    expect((await get(`${PACK}?state=${'A'.repeat(64)}`)).json()).toMatchObject({ code: 'BAD_INPUT' });
    expect((await get(`${PACK}?audience=everybody`)).json()).toMatchObject({ code: 'BAD_INPUT' });
  });
});

test('through GraphQL: what it would hold, its digest, and what reads otherwise since an earlier one', async () => {
  const query = `query ($since: String!) { publication(id: "two-ends-of-a-board") { pack {
    address digest files { path mediaType title sentences } leftOut { id why }
    changes(since: $since) { sentence figure statement isThere changes { what was is } because } } } }`;
  const state = new URL(String((await get(PACK)).headers.location), 'https://example.org').searchParams.get(
    'state',
  );
  const ask = async () => (await reader.ask(query, { since: state })).publication.pack;
  const before = await ask();
  expect(before.address).toBe(PACK);
  const files = await filesInZip((await get(String((await get(PACK)).headers.location))).rawPayload, 'it');
  const own = ['manifest-sha256.txt', 'ro-crate-metadata.json', 'ro-crate-preview.html'];
  expect(before.files.map(({ path }: { path: string }) => path)).toEqual(
    [...files.keys()].filter((path) => !own.includes(path)),
  );
  expect(before.changes).toEqual([]);
  const { correction } = await archive.correct(
    {
      identify: {
        specimen: 'thovane-calcar-2/a',
        component: 'U3',
        candidates: [{ part: 'quistle/QWR4T10', probability: 0.6 }],
        state: 'settled',
        basis: [],
        cites: [],
      } as never,
    },
    BY,
    'desk',
  );
  const after = await ask();
  expect(after.digest).not.toBe(before.digest);
  expect(after.changes.map(({ sentence }: { sentence: string }) => sentence)).toEqual(
    correction.publications
      .flatMap(({ claims }) => claims.map(({ claim }) => claim))
      .filter((id) => id.startsWith('two-ends-of-a-board/'))
      .sort(),
  );
  for (const one of after.changes) {
    expect(one).toMatchObject({ figure: null, isThere: true });
    expect(one.because.join()).toContain(correction.id);
  }
});
