import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { Ajv } from 'ajv';
import { SaxesParser } from 'saxes';
import { expect } from 'vitest';

// What charts are held to by programs that have no part in making them: the schema that Vega-Lite publishes with its package,
// a parser of XML, and resvg for where ink falls.

const require = createRequire(import.meta.url);
// The package does not export its schema by name; it lies beside what it does export.
const SCHEMA = join(dirname(require.resolve('vega-lite')), 'vega-lite-schema.json');

const ajv = new Ajv({ strict: false, validateFormats: false });
const isVegaLite = ajv.compile(JSON.parse(readFileSync(SCHEMA, 'utf8')) as Record<string, unknown>);

/** Holds a document to the JSON schema that the package vega-lite publishes, and to be plain JSON with nothing to load. */
export function expectVegaLite(document: unknown): void {
  const plain = JSON.parse(JSON.stringify(document)) as unknown;
  expect(plain).toEqual(document);
  if (!isVegaLite(plain)) throw new Error(JSON.stringify(isVegaLite.errors?.slice(0, 3)));
  for (const name of ['url', 'href', 'calculate', 'expr', 'signal'])
    expect(namesIn(plain)).not.toContain(name);
}

function namesIn(value: unknown): readonly string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, inside]) => [name, ...namesIn(inside)]);
}

/** One text of an SVG and where its ink is, px. */
export interface Inked {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

interface Tag {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
}

const FONTS = ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((file) =>
  require.resolve(`dejavu-fonts-ttf/ttf/${file}`),
);

/** The texts of an SVG with the elements around each; refuses what is no XML, runs or points elsewhere. */
export function textsOf(svg: string): readonly { readonly text: string; readonly alone: string }[] {
  const parser = new SaxesParser({ xmlns: true });
  const open: Tag[] = [];
  const found: { text: string; alone: string }[] = [];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const plain = Object.fromEntries(Object.entries(attributes).map(([key, { value }]) => [key, value]));
    expect([
      'svg',
      'g',
      'path',
      'rect',
      'line',
      'text',
      'tspan',
      'title',
      'desc',
      'defs',
      'clipPath',
    ]).toContain(name);
    for (const [key, value] of Object.entries(plain)) {
      expect(key).not.toMatch(/^on|href$/u);
      if (!key.startsWith('xmlns')) expect(value).not.toMatch(/javascript:|https?:|file:|data:/u);
    }
    open.push({ name, attributes: plain });
  });
  parser.on('text', (text) => {
    if (open.at(-1)?.name !== 'text' || text.trim() === '') return;
    const start = open.map((tag) => written(tag)).join('');
    const end = [...open].reverse().map(({ name }) => `</${name}>`);
    found.push({ text, alone: `${start}${escaped(text)}${end.join('')}` });
  });
  parser.on('closetag', () => {
    open.pop();
  });
  parser.write(svg).close();
  return found;
}

const escaped = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

function written({ name, attributes }: Tag): string {
  const all = Object.entries(attributes).map(([key, value]) => ` ${key}="${escaped(value)}"`);
  return `<${name}${all.join('')}>`;
}

/** Where the ink of each text falls, by resvg with the fonts of the house: each text drawn alone, in its own place. */
export function inkOf(svg: string): readonly Inked[] {
  return textsOf(svg).flatMap(({ text, alone }) => {
    const font = { fontFiles: FONTS, loadSystemFonts: false, defaultFontFamily: 'DejaVu Sans' };
    const box = new Resvg(alone, { font }).getBBox();
    return box ? [{ text, x: box.x, y: box.y, width: box.width, height: box.height }] : [];
  });
}

/** Holds the texts of an SVG to lie inside it, and apart from each other. */
export function expectTextsApart(svg: string): void {
  const [, width, height] = (/^<svg[^>]*width="([\d.]+)" height="([\d.]+)"/u.exec(svg) ?? []).map(Number);
  const all = inkOf(svg);
  expect(all.length).toBeGreaterThan(2);
  const faults: string[] = [];
  for (const [i, a] of all.entries()) {
    if (a.x < 0 || a.y < 0 || a.x + a.width > width || a.y + a.height > height)
      faults.push(`"${a.text}" leaves the drawing`);
    for (const b of all.slice(i + 1)) {
      const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
      const down = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
      if (across > 0 && down > 0) faults.push(`"${a.text}" lies over "${b.text}"`);
    }
  }
  expect(faults).toEqual([]);
}
