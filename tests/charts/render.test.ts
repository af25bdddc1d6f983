import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Resvg } from '@resvg/resvg-js';
import { expect, test } from 'vitest';
import { chartSvg, pngOf } from '../../src/charts/render.ts';
import { widthOf } from '../../src/charts/text-width.ts';
import { FONT_FILES } from '../../src/text/face.ts';

const text = (words: string) => ({
  data: { values: [{ words }] },
  mark: { type: 'text', font: 'DejaVu Sans', fontSize: 20 },
  encoding: { text: { field: 'words' } },
});

test('a document that names a file or an address gets nothing from it', async () => {
  const asked: string[] = [];
  const server = createServer(({ url }, answer) => {
    asked.push(url ?? '');
    answer.end('[{"words":"taken"}]');
  }).listen(0, '127.0.0.1');
  await new Promise((done) => server.once('listening', done));
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  for (const url of [`${address}/data.json`, new URL(import.meta.url).pathname, import.meta.url]) {
    const drawn = await chartSvg({ ...text(''), data: { url, format: { type: 'json' } } }).catch(String);
    expect(drawn).not.toContain('taken');
    const image = { ...text(''), mark: { type: 'image', url: `${address}/picture.png` } };
    expect(await chartSvg(image).catch(String)).not.toContain(address);
  }
  server.close();
  expect(asked).toEqual([]);
});

test.each([
  'process.exit(1)',
  'constructor.constructor("return process")().exit(1)',
  'datum.constructor.constructor("return globalThis")()',
  '[].map.constructor("while (true) {}")()',
  'this.process',
])('the expression %s is not run', async (calculate) => {
  const document = { ...text('here'), transform: [{ calculate, as: 'words' }] };
  const drawn = await chartSvg(document).catch((error: Error) => error.message);
  expect(drawn).not.toMatch(/object process|object global|thread that draws has ended|took longer/iu);
  // The thread is there and draws.
  expect(await chartSvg(text('still here'))).toContain('still here');
});

test('a document that Vega-Lite does not take is refused, and the next is drawn', async () => {
  await expect(chartSvg({ mark: 7 })).rejects.toThrow();
  expect(await chartSvg(text('next'))).toContain('next');
});

test('of many at once each gets its own; those that find too many waiting are told to ask again', async () => {
  const all = await Promise.allSettled(Array.from({ length: 80 }, (_, i) => chartSvg(text(`number-${i}-`))));
  const drawn = all.filter(({ status }) => status === 'fulfilled');
  expect(drawn.length).toBeGreaterThanOrEqual(64);
  expect(drawn.length).toBeLessThan(80);
  for (const [i, one] of all.entries()) {
    if (one.status === 'fulfilled') expect(one.value).toContain(`number-${i}-`);
    else expect(one.reason).toMatchObject({ code: 'UNAVAILABLE' });
  }
});

test('the event loop turns while a drawing is made', async () => {
  let turns = 0;
  let isDone = false;
  const drawing = Promise.all(Array.from({ length: 40 }, () => chartSvg(text('slow')))).finally(() => {
    isDone = true;
  });
  while (!isDone) {
    turns++;
    await new Promise(setImmediate);
  }
  await drawing;
  expect(turns).toBeGreaterThan(40);
});

test('a picture as PNG has ink where its text is', async () => {
  const svg = (words: string) =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="40"><text x="10" y="30" font-family="DejaVu Sans, Verdana, sans-serif" font-size="20">${words}</text></svg>`;
  const sizes = await Promise.all(['', 'Widths'].map(async (words) => (await pngOf(svg(words), 96)).length));
  expect(sizes[1]).toBeGreaterThan(sizes[0] + 300);
  // Width and height stand at byte 16 and 20 (PNG, third edition, 11.2.1).
  const png = Buffer.from(await pngOf(svg('Widths'), 192));
  expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([400, 80]);
});

test.each([47, 601, Number.NaN])('%s dots an inch are refused', async (dpi) => {
  await expect(pngOf('<svg width="10" height="10"/>', dpi)).rejects.toMatchObject({ code: 'BAD_INPUT' });
});

test('a picture of too many pixels is refused', async () => {
  const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="9000" height="9000"/>';
  await expect(pngOf(svg, 192)).rejects.toMatchObject({ code: 'OUT_OF_BUDGET' });
});

test('widths of texts are those that resvg draws', () => {
  // A bar on each side stands for the blank that glyphs have beside them.
  const drawnWidth = (words: string, weight: string) => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="99"><text x="10" y="50" font-family="DejaVu Sans" font-weight="${weight}" font-size="20" style="font-kerning:none">${words}</text></svg>`;
    const font = { fontFiles: [...FONT_FILES], loadSystemFonts: false };
    return new Resvg(svg, { font }).getBBox()?.width ?? 0;
  };
  for (const words of ['|2019-H1|', '|0.95 % to 100 %|', '|Mass of a device, g|', '|µA Ω cm² ● ○|', '|שעון|'])
    for (const weight of ['normal', 'bold']) {
      const isBold = weight === 'bold';
      const bar = widthOf('|', 20, isBold) - drawnWidth('|', weight);
      const width = widthOf(words, 20, isBold) - bar;
      expect(Math.abs(width - drawnWidth(words, weight)), words).toBeLessThan(0.02 * width);
    }
});

test('the fonts are files of the package, for resvg draws no text without', () => {
  for (const file of FONT_FILES) expect(readFileSync(file).readUInt32BE(0)).toBe(0x00010000);
});
