import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { idOfIri, placeAt } from '../../src/linked/places.ts';
import { ask, quadsOf, storeOf } from '../linked/reading.ts';
import { demoArchive } from '../trends/demo.ts';
import { type Served, serve } from './serving.ts';

// Linked data over HTTP and GraphQL. Addresses answer by RFC 9110: 200 with an entity tag and 304 for it (section 13), 303 from a thing to the
// document about it (section 15.4.4).

const SITE = 'https://desk.example.org/';
let served: Served;
let at: Served;
beforeAll(async () => {
  served = await serve({}, await demoArchive());
  at = await serve({ access: { publicUrl: new URL(SITE) }, hosts: 'any' }, await demoArchive());
}, 60_000);
afterAll(async () => {
  for (const one of [served, at]) await one.close();
});

const get = (url: string, headers: Record<string, string> = {}, from = served) =>
  from.app.inject({ method: 'GET', url, headers });

describe('addresses of records', () => {
  test.for([
    'tarn',
    'tarn-sennit-3',
    'tarn-sennit-3/a',
    'quistle/QWR4T10',
    'bench-letter-31/c1',
    'tarn-sennit-3/a/U3',
    'thovane-calcar-2:duplicated-sensors',
    'Accelerometer',
  ])('%s: the document, once more only when it changed, and the way to it from the thing', async (id) => {
    const { statusCode, headers, body } = await get(`/records/${id}.jsonld`);
    expect([statusCode, headers['content-type']], body).toEqual([200, 'application/ld+json; charset=utf-8']);
    expect(await quadsOf(JSON.parse(body) as object)).toContain(
      id === 'Accelerometer' ? `taxonomy/${id}` : `records/${id}>`,
    );
    const again = await get(`/records/${id}.jsonld`, { 'if-none-match': String(headers.etag) });
    expect([again.statusCode, again.body]).toEqual([304, '']);
    const thing = await get(`/records/${id}`);
    expect([thing.statusCode, thing.headers.location]).toEqual([303, `/records/${id}.jsonld`]);
  });

  test('nothing there: the code and what is near', async () => {
    const { statusCode, body } = await get('/records/tarn-sennit-33.jsonld');
    expect(statusCode).toBe(404);
    expect(JSON.parse(body)).toMatchObject({
      code: 'NOT_FOUND',
      message: expect.stringContaining('tarn-sennit-3'),
    });
  });

  test('exports begin their addresses where records do', async () => {
    const { body } = await get('/exports/specimen/tarn-sennit-3/a/specimen.jsonld', {}, at);
    expect(body).toContain(`${SITE}records/`);
    expect(body).not.toContain('caseback.invalid');
  });

  test('addresses in a document lead to documents of the service that wrote it', async () => {
    const { body } = await get('/records/pulse-comes-to-the-wrist.jsonld', {}, at);
    const place = placeAt(SITE);
    const named = ask(storeOf(body), 'SELECT DISTINCT ?o WHERE { ?s ?p ?o FILTER(isIRI(?o)) }')
      .map(([iri]) => idOfIri(iri as string, place))
      .filter((id) => id !== undefined);
    expect(named.length).toBeGreaterThan(15);
    for (const id of named) expect((await get(`/records/${id}.jsonld`, {}, at)).statusCode, id).toBe(200);
    // Its terms are described where their address is.
    const [term] = ask(
      storeOf(body),
      `SELECT DISTINCT ?p WHERE { ?s ?p ?o FILTER(STRSTARTS(STR(?p), "${SITE}vocabulary#")) }`,
    );
    const vocabulary = await get('/vocabulary', {}, at);
    expect(await quadsOf(JSON.parse(vocabulary.body) as object)).toContain(
      `<${term?.[0]}> <http://www.w3.org/2000/01/rdf-schema#comment>`,
    );
  });
});

test('context, vocabulary and taxonomy are for programs of all sites', async () => {
  for (const url of ['/context.jsonld', '/vocabulary', '/taxonomy']) {
    const { statusCode, headers } = await get(url, { origin: 'https://elsewhere.example.org' });
    expect([statusCode, headers['content-type'], headers['access-control-allow-origin']]).toEqual([
      200,
      'application/ld+json; charset=utf-8',
      '*',
    ]);
    expect((await get(url, { 'if-none-match': String(headers.etag) })).statusCode).toBe(304);
  }
  // The context that is published is the one that documents carry.
  const { body } = await get('/context.jsonld');
  const record = await get('/records/tarn.jsonld');
  expect((JSON.parse(record.body) as { '@context': object })['@context']).toEqual(
    (JSON.parse(body) as { '@context': object })['@context'],
  );
});

test('GraphQL gives the same document, and says what is wrong', async () => {
  const query = 'query ($id: ID!, $base: String) { linkedData(id: $id, base: $base) }';
  const { linkedData } = await served.ask(query, { id: 'bench-letter-31' });
  expect(linkedData).toEqual(JSON.parse((await get('/records/bench-letter-31.jsonld')).body));
  const based = await served.ask(query, { id: 'bench-letter-31', base: SITE });
  expect(based.linkedData).toEqual(JSON.parse((await get('/records/bench-letter-31.jsonld', {}, at)).body));
  const refused = await served.answer(query, { id: 'never-was' });
  expect([refused.data.linkedData, refused.errors?.[0]?.extensions.code]).toEqual([null, 'NOT_FOUND']);
  const nowhere = await served.answer(query, { id: 'tarn', base: 'nowhere' });
  expect(nowhere.errors?.[0]?.extensions.code).toBe('BAD_INPUT');
});
