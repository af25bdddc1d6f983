import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { caseback, Folder } from '../cli/running.ts';
import { expectVegaLite, textsOf } from './judges.ts';

const folder = new Folder();
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const SHARE = ['trend', 'category:PressureSensor'];

beforeAll(() => run('import', fileURLToPath(new URL('../../seed-data', import.meta.url))));
afterAll(() => folder.remove());

test('a trend as SVG and as a Vega-Lite document, to standard output, with the day that was asked for', async () => {
  const svg = await run(...SHARE, '--format', 'svg');
  expect(svg.code).toBe(0);
  const texts = textsOf(svg.out).map(({ text }) => text);
  expect(texts).toContain('Share of devices with a component of the category PressureSensor');
  expect(texts.join(' ')).toMatch(/state of \d{4}-\d\d-\d\d\. Demo data/u);
  expect(svg.err).toMatch(/caution: .* not the market/u);
  const { out } = await run(...SHARE, '--format', 'vega-lite', '--size', 'column');
  expectVegaLite(JSON.parse(out));
});

test('a chart that stands alone says which devices it is over', async () => {
  const filter = ['--maker', 'tarn', '--body-site', 'wrist', '--from', '2016'];
  const only = 'only devices made by Tarn, of body site wrist, released from 2016';
  // A long heading takes several lines, each a span of one text.
  const wordsOf = (svg: string) => svg.replace(/<[^>]*>/gu, ' ').replace(/\s+/gu, ' ');
  for (const more of [[], ['--totals'], ['--first-adopters']]) {
    const { code, out } = await run(...SHARE, ...filter, ...more, '--format', 'svg');
    expect(code).toBe(0);
    expect(wordsOf(out)).toContain(only);
  }
  const all = await run(...SHARE, '--format', 'svg');
  expect(wordsOf(all.out)).not.toContain('only devices');
});

test('a trend as PNG goes to a file, as wide as its dots an inch say', async () => {
  const { code, out } = await run(
    ...SHARE,
    '--format',
    'png',
    '--out',
    'a/share.png',
    '--dpi',
    '96',
    '--size',
    'column',
  );
  expect([code, out]).toEqual([0, '']);
  const png = readFileSync(join(folder.path, 'a/share.png'));
  // Signature and width after PNG, third edition, 5.2 and 11.2.1; 320 px are 85 mm at 96 dots an inch.
  expect(png.subarray(0, 8)).toEqual(Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]));
  expect(Math.abs(png.readUInt32BE(16) - 320)).toBeLessThanOrEqual(8);
});

test('devices side by side as SVG, of the sections asked for', async () => {
  const devices = ['tarn-sennit-1', 'tarn-sennit-4', 'tarn-sennit-6'];
  const { code, out } = await run('compare', ...devices, '--sections', 'sensors', '--format', 'svg');
  expect(code).toBe(0);
  const texts = textsOf(out).map(({ text }) => text);
  expect(texts).toContain('Sensors: Tarn Sennit 1, Tarn Sennit 4 and Tarn Sennit 6');
  expect(texts).toContain('not observed');
});

test('a product line and first adopters as SVG', async () => {
  const drawn: [string[], string][] = [
    [['generations', 'tarn-sennit'], 'kept'],
    [['generations', 'tarn-sennit', '--show', 'sensors'], 'Gyroscope'],
    [['generations', 'tarn-sennit', '--show', 'figures', '--sections', 'battery'], 'Battery energy, Wh'],
    [['generations', 'tarn-sennit', '--show', 'makers'], 'Brackwen'],
    [[...SHARE, '--first-adopters'], 'Dunmarrow Leadline 1'],
  ];
  for (const [args, text] of drawn) {
    const { code, out } = await run(...args, '--format', 'svg');
    expect(code, args.join(' ')).toBe(0);
    expect(textsOf(out).map((one) => one.text)).toContain(text);
  }
  const { out } = await run('generations', 'tarn-sennit', '--show', 'figures');
  expect(out).toMatch(/generation +device +released +Mass, g .*Price, EUR +Components/u);
});

test.each([
  [
    ['generations', 'tarn-sennit', '--show', 'kept', '--format', 'svg'],
    '--show kept has no chart; one shows steps',
  ],
  [['generations', 'tarn-sennit', '--sections', 'sensors'], '--sections goes with --show figures'],
  [['trend', 'count:Sensor', '--first-adopters', '--format', 'svg'], '--first-adopters goes with a share'],
  [[...SHARE, '--first-adopters'], '--first-adopters goes with --format svg'],
])('%j is refused with what goes', async (args, message) => {
  const { code, err } = await run(...args);
  expect(code).toBe(2);
  expect(err).toContain(message);
});

test('a chart of components aligned is refused with what to leave out', async () => {
  const { code, err } = await run(
    'compare',
    'tarn-sennit-1',
    'tarn-sennit-4',
    '--components',
    '--format',
    'svg',
  );
  expect(code).toBe(2);
  expect(err).toContain('leave --components or --format out');
});

test.each([
  [['--format', 'png'], '--format png needs --out FILE'],
  [['--out', 'share.svg'], '--out goes with --format svg, png or vega-lite'],
  [['--format', 'svg', '--dpi', '300'], '--dpi goes with --format png'],
  [['count:Sensor', '--format', 'svg'], 'a chart is of one measure'],
])('%j is refused', async (options, message) => {
  const { code, err } = await run(...SHARE, ...options);
  expect(code).toBe(2);
  expect(err).toContain(message);
});
