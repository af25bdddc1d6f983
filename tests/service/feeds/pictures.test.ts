import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Archive } from '../../../src/archive.ts';
import { type Served, serve } from '../serving.ts';
import { archiveWithFeeds, file } from './feeding.ts';

// Pictures of feeds: PNG (ISO/IEC 15948, section 5.2, signature; 11.2.2, IHDR), SVG, Vega-Lite.

let archive: Archive;
let readers: Served;
beforeAll(async () => {
  archive = await archiveWithFeeds();
  const trend = 'trend(of: { quantity: { device: MASS } })';
  await file(archive, {
    feeds: [
      { id: 'mass', title: 'Mass', question: `{ ${trend} { of chart { title vegaLite } } }` },
      { id: 'mass-drawn', title: 'Mass', question: `{ ${trend} { of chart { svg vegaLite } } }` },
      {
        id: 'line',
        title: 'A line',
        question: '{ generations(productLine: "tarn-sennit") { chart(of: PARTS) { title vegaLite } } }',
      },
      {
        id: 'side-by-side',
        title: 'Two devices',
        question: '{ compareDevices(ids: ["tarn-sennit-1", "tarn-sennit-2"]) { chart { n vegaLite } } }',
      },
      {
        id: 'first',
        title: 'First accelerometer',
        question: '{ trend(of: { share: { category: "Accelerometer" } }) { adoptersChart { vegaLite } } }',
      },
      { id: 'narrow', title: 'Mass', question: `{ ${trend} { chart(size: COLUMN) { svg } } }` },
    ],
  });
  readers = await serve({}, archive);
});
afterAll(() => readers.close());

const get = (url: string, headers: Record<string, string> = {}) => readers.app.inject({ url, headers });

test('a feed that asks for a chart is a Vega-Lite document, an SVG and a PNG of the same size', async () => {
  const document = await get('/feeds/mass.vl.json');
  expect(document.json().$schema).toBe('https://vega.github.io/schema/vega-lite/v6.json');
  const svg = await get('/feeds/mass.svg');
  expect(svg.headers['content-type']).toBe('image/svg+xml; charset=utf-8');
  expect(svg.body).toContain(document.json().title.text[0]);
  const [, width, height] = /^<svg[^>]*? width="([\d.]+)"[^>]*? height="([\d.]+)"/u.exec(svg.body) ?? [];
  const png = await get('/feeds/mass.png');
  expect(png.headers['content-type']).toBe('image/png');
  expect([...png.rawPayload.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  // Twice as many dots as px.
  const [across, down] = [png.rawPayload.readUInt32BE(16), png.rawPayload.readUInt32BE(20)];
  expect(Math.abs(across - 2 * Number(width))).toBeLessThanOrEqual(2);
  expect(Math.abs(down - 2 * Number(height))).toBeLessThanOrEqual(2);
});

test.each([
  ['line', 'Tarn Sennit: parts that came and went'],
  ['side-by-side', 'Device: Tarn Sennit 1 and Tarn Sennit 2'],
  ['first', 'First with a component of the category Accelerometer'],
])('a feed that asks for the chart of %s gives it in every form', async (id, title) => {
  const document = (await get(`/feeds/${id}.vl.json`)).json();
  expect(document.title.text.join(' ')).toBe(title);
  expect((await get(`/feeds/${id}.svg`)).body).toContain(document.title.text[0]);
  expect((await get(`/feeds/${id}.png`)).statusCode).toBe(200);
});

test('a picture runs nothing and has a tag to be compared by', async () => {
  const { headers } = await get('/feeds/mass.svg');
  expect(headers['x-content-type-options']).toBe('nosniff');
  expect(String(headers['content-security-policy'])).toMatch(/sandbox|default-src 'none'/u);
  const again = await get('/feeds/mass.svg', { 'if-none-match': String(headers.etag) });
  expect([again.statusCode, again.body]).toEqual([304, '']);
});

test('drawn by the question or by the feed, it is the same picture; without its document it is no Vega-Lite', async () => {
  expect((await get('/feeds/mass-drawn.svg')).body).toBe((await get('/feeds/mass.svg')).body);
  expect((await get('/feeds/narrow.svg')).body).toContain('<svg');
  expect((await get('/feeds/narrow.vl.json')).statusCode).toBe(404);
});
