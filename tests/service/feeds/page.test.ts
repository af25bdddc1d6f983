import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Archive } from '../../../src/archive.ts';
import { type Served, serve } from '../serving.ts';
import { addDevice, archiveWithFeeds, file } from './feeding.ts';

// The page of a feed, and oEmbed 1.0 (https://oembed.com, sections 2.2 to 4) with CSP Level 3, "frame-ancestors".

const TREND = `{ trend(of: { share: { category: "PressureSensor" } }) {
  cautions chart { title subtitle n description cautions vegaLite } total { periods { period n value interval { low high } } } } }`;

let archive: Archive;
let readers: Served;
beforeAll(async () => {
  archive = await archiveWithFeeds();
  await file(archive, {
    feeds: [
      {
        id: 'trend',
        title: 'Pressure <sensors>',
        question: TREND,
        rows: 'trend.total.periods',
        origins: ['*'],
      },
      { id: 'unframed', title: 'For nobody', question: '{ devices { totalCount } }' },
      {
        id: 'broken',
        title: 'Broken',
        question: '{ device(id: "tarn-sennit-1") { candidates: id } }',
        rows: 'none',
        origins: ['*'],
      },
    ],
  });
  readers = await serve({}, archive);
});
afterAll(() => readers.close());

const get = (url: string, headers: Record<string, string> = {}) =>
  readers.app.inject({ url, headers: { host: '127.0.0.1:4860', ...headers } });

test('it has chart, words for who cannot see it, n, cautions, table, day and links to the other forms', async () => {
  const { statusCode, headers, body } = await get('/feeds/trend');
  expect([statusCode, headers['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
  const { data, rows } = (await get('/feeds/trend.json')).json();
  const { chart, cautions } = data.trend;
  const escaped = (text: string) =>
    text
      .replaceAll('&', '&amp;')
      .replaceAll('<', '&lt;')
      .replaceAll('>', '&gt;')
      .replaceAll("'", '&#39;')
      .replaceAll('"', '&quot;');
  expect(body).toContain('<h1>Pressure &lt;sensors&gt;</h1>');
  expect(body).toContain(`alt="${escaped(chart.description)}"`);
  expect(body).toContain(`n: ${chart.n}. Caseback archive, state of <time datetime="`);
  expect([...chart.cautions, ...cautions].length).toBeGreaterThan(0);
  for (const caution of [...chart.cautions, ...cautions])
    expect(body).toContain(`<li>${escaped(caution)}</li>`);
  expect(body.match(/<th scope="row">/gu)).toHaveLength(rows.length);
  expect(body).toContain('<th scope="col">interval, low</th>');
  for (const form of ['json', 'csv', 'svg', 'png', 'vl.json'])
    expect(body).toContain(`href="/feeds/trend.${form}"`);
  const [, picture] = /<img src="(?<src>[^"]+)"/u.exec(body) ?? [];
  expect((await get(String(picture))).headers['content-type']).toBe('image/svg+xml; charset=utf-8');
  // The day is that of the state which the answer is from, as its chart has it.
  const [, since = ''] = /<time datetime="(?<since>[^"]+)"/u.exec(body) ?? [];
  expect(new Date(since).toUTCString().slice(0, 22)).toBe(String(headers['last-modified']).slice(0, 22));
});

test('a feed without a chart is a table, and one without rows says where the rest is', async () => {
  const { body } = await get('/feeds/all-devices');
  expect(body).not.toContain('<img');
  expect(body).not.toContain('all-devices.svg');
  expect(body).toMatch(/<table>.*<th scope="col">name<\/th>/su);
  const none = await get('/feeds/broken');
  expect([none.statusCode, none.body.includes('<table>')]).toEqual([200, false]);
  expect(none.body).toContain('href="/feeds/broken.json"');
});

test('conditional requests as for any other form (RFC 9110, section 13)', async () => {
  const { headers } = await get('/feeds/count');
  expect(headers['cache-control']).toBe('public, max-age=60');
  const etag = String(headers.etag);
  expect((await get('/feeds/count', { 'if-none-match': etag })).statusCode).toBe(304);
  expect((await get('/feeds/count', { 'if-match': '"other"' })).statusCode).toBe(412);
  await addDevice(archive, 'draft');
  expect((await get('/feeds/count', { 'if-none-match': etag })).statusCode).toBe(304);
  await addDevice(archive, 'published');
  const next = await get('/feeds/count', { 'if-none-match': etag });
  expect([next.statusCode, next.headers.etag === etag]).toEqual([200, false]);
});

test('a hidden feed is as one that never was', async () => {
  const [hidden, never] = [await get('/feeds/waiting'), await get('/feeds/neverwas')];
  expect([hidden.statusCode, never.statusCode]).toEqual([404, 404]);
  expect(hidden.body.replaceAll('waiting', 'neverwas')).toBe(never.body);
  expect((await get('/oembed?url=http://127.0.0.1:4860/feeds/waiting')).body).toBe(
    (await get('/oembed?url=http://127.0.0.1:4860/feeds/neverwas')).body,
  );
});

test('sites of listed origins may frame it, and no header says otherwise (CSP Level 3, frame-ancestors)', async () => {
  const framing = async (id: string) => {
    const { headers } = await get(`/feeds/${id}`);
    const ancestors = /frame-ancestors [^;]*/u.exec(String(headers['content-security-policy']))?.[0];
    return [ancestors, headers['x-frame-options']];
  };
  expect(await framing('all-devices')).toEqual([
    "frame-ancestors 'self' https://desk.example.org",
    undefined,
  ]);
  expect(await framing('trend')).toEqual(['frame-ancestors *', undefined]);
  expect(await framing('unframed')).toEqual(["frame-ancestors 'none'", 'DENY']);
  // Nothing else of the policy is looser than on our other pages.
  const policy = async (url: string) => String((await get(url)).headers['content-security-policy']);
  const rest = (text: string) => text.replace(/frame-ancestors [^;]*/u, '');
  expect(rest(await policy('/feeds/trend'))).toBe(rest(await policy('/sign-in')));
});

test('oEmbed: what the page names answers how to frame it (sections 2.3.4 and 4)', async () => {
  const { body } = await get('/feeds/trend');
  const [, href = ''] =
    /type="application\/json\+oembed" title="[^"]*" href="(?<href>[^"]+)"/u.exec(body) ?? [];
  expect(href).toBe(
    'http://127.0.0.1:4860/oembed?url=http%3A%2F%2F127.0.0.1%3A4860%2Ffeeds%2Ftrend&amp;format=json',
  );
  const { pathname, search } = new URL(href.replaceAll('&amp;', '&'));
  const answer = await get(`${pathname}${search}`);
  expect(answer.headers['content-type']).toMatch(/^application\/json/u);
  const told = answer.json();
  expect(told).toMatchObject({
    version: '1.0',
    type: 'rich',
    title: 'Pressure <sensors>',
    provider_name: 'Caseback',
    provider_url: 'http://127.0.0.1:4860/',
    cache_age: 60,
    width: 720,
    height: 760,
  });
  expect(told.html).toBe(
    '<iframe src="http://127.0.0.1:4860/feeds/trend" title="Pressure &lt;sensors&gt;" width="720" height="760" loading="lazy"></iframe>',
  );
  expect(answer.headers['access-control-allow-origin']).toBe('*');
  expect((await get('/feeds/unframed')).body).not.toContain('oembed');
});

test('oEmbed keeps to the maximum of whoever asks, and refuses by its statuses (sections 2.2 and 2.3.4)', async () => {
  const at = (more: string) => get(`/oembed?url=http://127.0.0.1:4860/feeds/trend${more}`);
  for (const [more, width, height] of [
    ['&maxwidth=400', 400, 760],
    ['&maxheight=300', 720, 300],
    ['&maxwidth=5000&maxheight=5000', 720, 760],
  ] as const) {
    const told = (await at(more)).json();
    expect([told.width, told.height]).toEqual([width, height]);
    expect(told.html).toContain(`width="${width}" height="${height}"`);
  }
  expect((await at('&format=json')).statusCode).toBe(200);
  expect((await at('&format=xml')).statusCode).toBe(501);
  for (const wrong of [
    '&maxwidth=0',
    '&maxwidth=-1',
    '&maxwidth=x',
    '&maxheight=1.5',
    '&maxwidth=1&maxwidth=2',
  ])
    expect([wrong, (await at(wrong)).statusCode]).toEqual([wrong, 400]);
  expect((await get('/oembed')).statusCode).toBe(400);
  for (const url of [
    'http://other.example/feeds/trend',
    'http://127.0.0.1:4860/feeds/trend.json',
    'http://127.0.0.1:4860/feeds/unframed',
    'http://127.0.0.1:4860/docs',
    'no address',
  ])
    expect([url, (await get(`/oembed?url=${encodeURIComponent(url)}`)).statusCode]).toEqual([url, 404]);
});

test('where nobody reads without an account, oEmbed answers 401 (section 2.3.4)', async () => {
  const closed = await serve({ access: { isOpen: false } }, archive);
  const { statusCode } = await closed.app.inject('/oembed?url=http://127.0.0.1:4860/feeds/trend&format=json');
  expect(statusCode).toBe(401);
  await closed.app.close();
});
