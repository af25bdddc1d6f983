import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { documentIdOf } from '../../src/api-schema/document-id.ts';
import type { Archive } from '../../src/archive.ts';
import { CitedStates } from '../../src/service/cite/cited-states.ts';
import { StateTokens } from '../../src/service/server/state-token.ts';
import { CATALOGUE, DOSSIERS } from './invented.ts';
import { archiveOf, BY, documentOf, type Served, serve } from './serving.ts';

const NAMES = '{ devices { totalCount nodes { id name } } }';
const ONE = 'query ($id: ID!) { device(id: $id) { name } }';
const FEEDS = [
  { id: 'names', title: 'Devices by name', question: NAMES, rows: 'devices.nodes' },
  { id: 'one', title: 'A device', question: ONE, variables: { id: 'tarn-sennit-1' } },
  { id: 'waiting', title: 'Not for readers', question: '{ makers { totalCount } }', visibility: 'draft' },
  {
    id: 'changing',
    title: 'Since',
    question: '{ difference(from: "2026-01-01T00:00:00Z") { records { totalCount } } }',
  },
];

let archive: Archive;
let reader: Served;
let desk: Served;
beforeAll(async () => {
  archive = await archiveOf([CATALOGUE, ...DOSSIERS, { caseback: 'catalogue/1', feeds: FEEDS }]);
  reader = await serve({}, archive);
  desk = await serve({ audience: 'desk' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

const get = (url: string, { app }: Served = reader, headers: Record<string, string> = {}) =>
  app.inject({ method: 'GET', url, headers });
/** The address of the present state of an answer. */
async function cited(path: string, served: Served = reader): Promise<string> {
  const response = await get(path, served);
  expect([response.statusCode, response.headers['cache-control']]).toEqual([303, 'no-store']);
  return String(response.headers.location);
}
const file = (catalogue: object) =>
  archive.importDocuments([documentOf({ caseback: 'catalogue/1', ...catalogue })], BY);
const CSL = JSON.parse(readFileSync(join(import.meta.dirname, '../fixtures/csl-data.json'), 'utf8'));

describe('an address with a state', () => {
  test('answers as the feed answered then, however the archive and the feed changed since', async () => {
    const [json, csv] = [await cited('/cite/names.json'), await cited('/cite/names.csv')];
    const now = (await get('/feeds/names.json')).json();
    const rows = (await get('/feeds/names.csv')).body;
    const before = (await get(json)).json();
    expect([before.data, before.rows]).toEqual([now.data, now.rows]);
    await archive.correct({ value: { of: 'tarn-sennit-1', field: 'name', is: 'Renamed' } }, BY, 'desk');
    await file({ feeds: [{ ...FEEDS[0], question: '{ makers { totalCount } }', rows: undefined }] });
    expect((await get('/feeds/names.json')).json().data).not.toEqual(now.data);
    expect((await get(json)).json()).toEqual(before);
    expect((await get(csv)).body).toBe(rows);
    // A service that has just begun, and knows the archive by its journal alone, answers the same.
    const later = await serve({}, archive);
    expect((await get(json, later)).json()).toEqual(before);
    await later.app.close();
  });

  test('is dated by its state on any later day', async () => {
    const dated =
      '{ archive { citation } trend(of: { share: { category: "Sensor" } }) { chart { vegaLite } } }';
    await file({ feeds: [{ id: 'dated', title: 'Dated', question: dated }] });
    const address = await cited('/cite/dated.json');
    const before = (await get(address)).body;
    vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + 40 * 86_400_000 });
    try {
      expect((await get(address)).body).toBe(before);
      expect((await get('/feeds/dated.json')).json().data).not.toEqual(JSON.parse(before).data);
    } finally {
      vi.useRealTimers();
    }
  });

  test('has the ids of the answer cited, whoever asks for the same instant', async () => {
    await file({ feeds: [{ id: 'plain', title: 'Plain', question: NAMES }] });
    const address = await cited('/cite/plain.json');
    const [citation] = (await get(address.replace('.json', '.csl.json'))).json();
    const at = citation.version.replace('state of ', '');
    const asOf = await reader.ask(`query ($at: DateTime!) { asOf(instant: $at) ${NAMES} }`, { at });
    expect(asOf.asOf.devices.nodes[0].id).toContain('@');
    expect((await get(address)).json().data.devices.nodes[0].id).not.toContain('@');
  });

  test('says how it is cited: valid CSL-JSON, and a link (RFC 8574)', async () => {
    const address = await cited('/cite/one.json');
    const response = await get(address);
    const { citation } = response.json();
    expect(new Ajv({ strict: false }).validate(CSL, [citation])).toBe(true);
    expect(response.headers.link).toBe(`<${citation.URL}>; rel="cite-as"`);
    expect(citation).toMatchObject({ id: 'one', type: 'dataset', title: 'A device', URL: address });
    expect((await get(address.replace('.json', '.csl.json'))).json()).toEqual([citation]);
    expect((await get(citation.URL)).body).toBe(response.body);
  });

  test('takes variables, and documents by their identifiers', async () => {
    const variables = encodeURIComponent('{"id":"tarn-sennit-2"}');
    const other = await get(await cited(`/cite/one.json?variables=${variables}`));
    const id = documentIdOf(ONE);
    const document = await get(await cited(`/cite/${id}.json?variables=${variables}`));
    expect(other.json().data.device.name).toEqual(expect.any(String));
    expect(document.json().data).toEqual(other.json().data);
  });

  test('may be asked under conditions (RFC 9110, section 13)', async () => {
    const address = await cited('/cite/one.json');
    const { headers } = await get(address);
    const known = await get(address, reader, { 'if-none-match': String(headers.etag) });
    expect([known.statusCode, known.body]).toEqual([304, '']);
  });
});

describe('what is hidden', () => {
  test('a feed that readers do not see cannot be cited by them, now or in a state that the desk cites', async () => {
    const address = await cited('/cite/waiting.json', desk);
    expect((await get(address, desk)).json().data.makers.totalCount).toBeGreaterThan(0);
    const never = address.replace('waiting', 'never-was');
    for (const [hidden, absent] of [
      ['/cite/waiting.json', '/cite/never-was.json'],
      [address, never],
    ] as const) {
      const [one, other] = [await get(hidden), await get(absent)];
      expect([one.statusCode, one.body.replaceAll('waiting', 'never-was')]).toEqual([404, other.body]);
    }
  });

  test('what was recalled since is hidden in what was cited before, and the desk sees it', async () => {
    await file({ makers: [{ id: 'sorrel', name: 'Sorrel', makes: ['devices'] }] });
    const variables = encodeURIComponent('{"id":"tarn-sennit-2"}');
    const [asReader, atDesk] = [
      await cited(`/cite/one.json?variables=${variables}`),
      await cited(`/cite/one.json?variables=${variables}`, desk),
    ];
    expect((await get(asReader)).json().data.device).not.toBeNull();
    await archive.recallRecord('tarn-sennit-2', BY);
    for (const address of [asReader, atDesk]) {
      expect((await get(address)).json().data.device).toBeNull();
      expect((await get(address, desk)).json().data.device).not.toBeNull();
    }
  });

  test('the name of a state is of one length, another each time, and not that of another use or archive', async () => {
    const names = [
      await cited('/cite/one.json'),
      await cited('/cite/one.json'),
      await cited('/cite/one.json', desk),
    ];
    const states = names.map((address) => String(new URL(address, 'http://x').searchParams.get('state')));
    expect(new Set(states).size).toBe(3);
    expect(new Set(states.map(({ length }) => length))).toEqual(new Set([64]));
    const secret = (await archive.secret()) as Uint8Array;
    const others = [
      new StateTokens(secret).seal(1),
      new CitedStates(new Uint8Array(32)).nameOf(archive.state('reader')),
      `${states[0]?.slice(0, -1)}${states[0]?.endsWith('A') ? 'B' : 'A'}`,
      '1',
      '2026-01-01T00:00:00Z',
    ];
    for (const state of others) {
      const response = await get(`/cite/one.json?state=${state}`);
      expect([response.statusCode, response.json().code]).toEqual([400, 'BAD_INPUT']);
    }
    const beyond = new CitedStates(secret).nameOf({ facts: { sequence: 1_000_000 } } as never);
    expect((await get(`/cite/one.json?state=${beyond}`)).statusCode).toBe(400);
  });
});

test('a question that is not of one state cannot be cited', async () => {
  const response = await get('/cite/changing.json');
  expect([response.statusCode, response.json().message]).toEqual([
    400,
    '"changing" asks for difference, which is not of one state of the archive, and so cannot be cited',
  ]);
});
