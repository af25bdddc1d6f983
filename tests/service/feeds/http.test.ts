import { parse as readCsv } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Archive } from '../../../src/archive.ts';
import { type Served, serve } from '../serving.ts';
import { addDevice, archiveWithFeeds, file } from './feeding.ts';

// Feeds over HTTP: RFC 9110 (HTTP semantics), RFC 9111 (caching), RFC 4180 (CSV) and the Fetch standard ("CORS protocol").

let archive: Archive;
let readers: Served;
beforeAll(async () => {
  archive = await archiveWithFeeds();
  readers = await serve({}, archive);
});
afterAll(() => readers.close());

const get = (url: string, headers: Record<string, string> = {}, method: 'GET' | 'HEAD' | 'OPTIONS' = 'GET') =>
  readers.app.inject({ method, url, headers });

test('a feed answers what GraphQL answers to its question, with its rows', async () => {
  const { statusCode, headers, body } = await get('/feeds/all-devices.json');
  const data = await readers.ask('{ devices { nodes { id name } } }');
  expect(statusCode).toBe(200);
  expect(headers['content-type']).toBe('application/json; charset=utf-8');
  expect(JSON.parse(body)).toEqual({
    feed: { id: 'all-devices', title: 'Devices by name' },
    data,
    rows: data.devices.nodes,
  });
  expect(data.devices.nodes.length).toBeGreaterThan(1);
});

test('as CSV it has the rows of its path, with a heading (RFC 4180, section 2)', async () => {
  const { headers, body } = await get('/feeds/all-devices.csv');
  expect(headers['content-type']).toBe('text/csv; charset=utf-8; header=present');
  const { devices } = await readers.ask('{ devices { nodes { id name } } }');
  expect(readCsv(body, { columns: true })).toEqual(devices.nodes);
});

test('what a spreadsheet would read as a formula is neutralised', async () => {
  await file(archive, {
    devices: [
      {
        id: 'formula',
        name: '=1+1',
        maker: 'tarn',
        released: '2020',
        bodySite: 'ear',
        visibility: 'published',
      },
    ],
    feeds: [{ id: 'formula-feed', title: 'F', question: '{ device(id: "formula") { name } }' }],
  });
  const { body } = await get('/feeds/formula-feed.csv');
  expect(body).toBe("name\r\n'=1+1\r\n");
});

test('headers say who may keep it, for how long, and what it is compared by (RFC 9111, 5.2.2; RFC 9110, 8.8)', async () => {
  const { headers } = await get('/feeds/all-devices.json');
  expect(headers['cache-control']).toBe('public, max-age=120');
  expect(headers.etag).toMatch(/^"[\w-]{24}"$/u);
  expect(Date.parse(String(headers['last-modified']))).toBeLessThanOrEqual(Date.now());
  expect(headers.vary).toBe('Origin');
  expect(headers['set-cookie']).toBeUndefined();
  // No two forms have one tag (8.8.3: it is of a representation).
  const csv = await get('/feeds/all-devices.csv');
  expect(csv.headers.etag).not.toBe(headers.etag);
});

test('304 has the headers that 200 would have had, and no content (15.4.5)', async () => {
  const first = await get('/feeds/all-devices.json');
  const { etag } = first.headers;
  const conditions: readonly Record<string, string>[] = [
    { 'if-none-match': `"a", W/${etag}` },
    { 'if-none-match': '*' },
    { 'if-modified-since': String(first.headers['last-modified']) },
  ];
  for (const condition of conditions) {
    const again = await get('/feeds/all-devices.json', condition);
    expect(again.statusCode).toBe(304);
    expect(again.body).toBe('');
    for (const name of ['etag', 'cache-control', 'vary', 'date'] as const)
      expect(again.headers[name] !== undefined, name).toBe(true);
    expect(again.headers.etag).toBe(etag);
    expect(again.headers['cache-control']).toBe(first.headers['cache-control']);
  }
  expect((await get('/feeds/all-devices.json', { 'if-match': '"other"' })).statusCode).toBe(412);
});

test('HEAD has what GET has but the content (9.3.2)', async () => {
  const [one, other] = [await get('/feeds/count.json'), await get('/feeds/count.json', {}, 'HEAD')];
  for (const headers of [one.headers, other.headers]) {
    delete headers.date;
    delete headers['x-request-id'];
  }
  expect(other.headers).toEqual(one.headers);
  expect(other.body).toBe('');
});

test('other methods are refused with those allowed (15.5.6), media types that are not had, too (15.5.7)', async () => {
  for (const method of ['POST', 'PUT', 'PATCH', 'DELETE'] as const) {
    const { statusCode, headers } = await readers.app.inject({ method, url: '/feeds/count.json' });
    expect([statusCode, headers.allow]).toEqual([405, 'GET, HEAD, OPTIONS']);
  }
  const { statusCode, headers } = await get('/feeds/count.json', { accept: 'text/html, image/*' });
  expect([statusCode, headers['cache-control']]).toEqual([406, 'no-store']);
  for (const accept of ['*/*', 'application/*', 'text/html, application/json;q=0.1'])
    expect((await get('/feeds/count.json', { accept })).statusCode, accept).toBe(200);
});

test('a feed that is hidden is told as one that never was', async () => {
  const hidden = await get('/feeds/waiting.json');
  const never = await get('/feeds/wailing.json');
  expect(hidden.statusCode).toBe(404);
  expect(hidden.body.replaceAll('waiting', 'wailing')).toBe(never.body);
  expect(hidden.headers['cache-control']).toBe('no-store');
  expect((await get('/feeds')).body).not.toContain('waiting');
  const desk = await serve({ audience: 'desk' }, archive);
  const seen = await desk.app.inject('/feeds/waiting.json');
  expect(seen.statusCode).toBe(200);
  expect(seen.headers['cache-control']).toBe('private, max-age=60');
  await desk.app.close();
});

test('pages of listed origins may read it, no others, and never with cookies (Fetch, "CORS protocol")', async () => {
  const origin = 'https://desk.example.org';
  const listed = await get('/feeds/all-devices.json', { origin });
  expect(listed.headers['access-control-allow-origin']).toBe(origin);
  const other = await get('/feeds/all-devices.json', { origin: 'https://other.example.org' });
  expect(other.headers['access-control-allow-origin']).toBeUndefined();
  expect(other.headers.vary).toBe('Origin');
  const open = await get('/feeds/count.json', { origin: 'https://other.example.org' });
  expect(open.headers['access-control-allow-origin']).toBe('*');
  const asking = {
    'access-control-request-method': 'GET',
    'access-control-request-headers': 'if-none-match',
  };
  const ahead = await get('/feeds/all-devices.json', { origin, ...asking }, 'OPTIONS');
  expect(ahead.statusCode).toBe(204);
  expect(ahead.headers['access-control-allow-origin']).toBe(origin);
  expect(String(ahead.headers['access-control-allow-headers']).toLowerCase()).toContain('if-none-match');
  const refused = await get('/feeds/all-devices.json', { origin: 'null', ...asking }, 'OPTIONS');
  expect(refused.headers['access-control-allow-origin']).toBeUndefined();
  // What is hidden is told as what never was.
  const [hidden, never] = await Promise.all(
    ['waiting', 'wailing'].map((id) => get(`/feeds/${id}.json`, { origin, ...asking }, 'OPTIONS')),
  );
  expect([hidden.statusCode, hidden.headers.vary]).toEqual([never.statusCode, never.headers.vary]);
  for (const { headers } of [listed, open, ahead])
    expect(headers['access-control-allow-credentials']).toBeUndefined();
});

test('a question that goes wrong has a status, a code and a message, and nobody keeps it', async () => {
  await file(archive, {
    feeds: [
      { id: 'wrong', title: 'W', question: '{ findPattern(text: "MATCH (") { totalCount } }' },
      { id: 'no-rows', title: 'N', question: '{ devices { totalCount } }', rows: 'devices.nodes' },
    ],
  });
  const { statusCode, headers, body } = await get('/feeds/wrong.json');
  expect([statusCode, JSON.parse(body).code]).toEqual([400, 'BAD_PATTERN']);
  expect([headers['cache-control'], headers.etag]).toEqual(['no-store', undefined]);
  for (const url of ['/feeds/no-rows.csv', '/feeds/count.svg', '/feeds/count.png', '/feeds/count.vl.json']) {
    const refused = await get(url);
    expect([refused.statusCode, refused.json().code], url).toEqual([404, 'NOT_FOUND']);
  }
});

test('its work counts for the rate of whoever has it asked anew, and it has the limit of any question', async () => {
  const question = '{ devices(first: 500) { nodes { components(first: 50) { nodes { id } } } } }';
  await file(archive, { feeds: [{ id: 'costly', title: 'C', question }] });
  const limited = await serve({ rate: 1 }, archive);
  const statuses = async (count: number, id: string) => {
    const found: number[] = [];
    for (let i = 0; i < count; i++) found.push((await limited.app.inject(`/feeds/${id}.json`)).statusCode);
    return found;
  };
  expect(await statuses(2, 'count')).toEqual([200, 200]);
  expect(await statuses(2, 'costly')).toEqual([200, 429]);
  await limited.app.close();
  const small = await serve({ limits: { cost: 100 } }, archive);
  const refused = await small.app.inject('/feeds/costly.json');
  expect([refused.statusCode, refused.json().code]).toEqual([422, 'OUT_OF_BUDGET']);
  await small.app.close();
});

test('hidden changes change nothing of what readers get; visible ones change tag and date', async () => {
  const told = async () => {
    const { statusCode, headers, body } = await get('/feeds/all-devices.json');
    const { date: _, 'x-request-id': __, ...rest } = headers;
    return { statusCode, rest, body };
  };
  const before = await told();
  await addDevice(archive, 'draft');
  expect(await told()).toEqual(before);
  await addDevice(archive, 'published');
  const after = await told();
  expect(after.rest.etag).not.toBe(before.rest.etag);
  expect(after.body).not.toBe(before.body);
  const since = await get('/feeds/all-devices.json', {
    'if-modified-since': String(before.rest['last-modified']),
  });
  expect(since.statusCode).toBe(200);
});

test('each answer names the address under which it stays what it is (RFC 8574, cite-as)', async () => {
  const before = await get('/feeds/count.json');
  const [, address = ''] = /^<(?<address>[^>]+)>; rel="cite-as"$/u.exec(String(before.headers.link)) ?? [];
  await addDevice(archive, 'published');
  expect((await get('/feeds/count.json')).json().data).not.toEqual(before.json().data);
  const cited = await get(address, { origin: 'https://any.example' });
  expect(cited.json().data).toEqual(before.json().data);
  // What pages may read the feed may read what it said.
  expect(cited.headers['access-control-allow-origin']).toBe('*');
  const csv = String((await get('/feeds/count.csv')).headers.link);
  expect(csv).toMatch(/^<\/cite\/count\.csv\?state=[\w-]{64}>; rel="cite-as"$/u);
  const listed = async (origin: string) =>
    (await get('/cite/all-devices.json', { origin })).headers['access-control-allow-origin'];
  expect(await listed('https://desk.example.org')).toBe('https://desk.example.org');
  expect(await listed('https://other.example')).toBeUndefined();
  // A question that is not of one state cannot be cited.
  await file(archive, { feeds: [{ id: 'who', title: 'Who', question: '{ me { role } }' }] });
  expect((await get('/feeds/who.json')).headers.link).toBeUndefined();
});
