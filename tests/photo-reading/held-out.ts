import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliDecompressSync } from 'node:zlib';
import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';
import type { Crop } from '../../src/photo-reading/crop.ts';

// Codes that hold the counted confusions to account: another face (Open Sans, of the fonts that come with @sparticuz/chromium), another
// generator of numbers, and another way to spoil them. Shares nothing with tests/photo-reading/renders.ts.

export const SPOILT = ['clean', 'scuffed', 'grainy', 'squeezed'] as const;
export type Spoilt = (typeof SPOILT)[number];

export interface HeldOut extends Crop {
  readonly lines: readonly string[];
}

/** Lehmer's generator with the constants of Park and Miller (1988, Communications of the ACM 31, 1192-1201). */
function numbers(seed: number): () => number {
  let state = (seed * 7_919 + 12_345) % 2_147_483_647 || 1;
  const next = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  for (let n = 0; n < 8; n++) next();
  return next;
}

const OPTIONS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';

export async function heldOut(how: Spoilt, seed: number): Promise<HeldOut> {
  const draw = numbers(seed);
  const rows = 1 + Math.floor(draw() * 2.5);
  const lines: string[] = [];
  for (let row = 0; row < rows; row++) {
    let line = '';
    for (let n = 3 + Math.floor(draw() * 5); n > 0; n--)
      line += OPTIONS.charAt(Math.floor(draw() * OPTIONS.length));
    lines.push(line);
  }
  const px = 20 + draw() * 24;
  const width = Math.ceil(Math.max(...lines.map(({ length }) => length)) * px * 0.68 + px * (0.6 + draw()));
  const height = Math.ceil(rows * px * 1.3 + px * (0.2 + 0.6 * draw()));
  const dark = Math.round(20 + draw() * 30);
  const light = Math.round(dark + 70 + draw() * 110);
  const grey = (value: number) => `rgb(${value},${value},${value})`;
  const texts = lines.map(
    (line, row) =>
      `<text x="50%" y="${(height - rows * px * 1.3) / 2 + (row + 0.95) * px * 1.3}">${line}</text>`,
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="${grey(dark)}"/><g font-family="Open Sans" font-size="${px}" text-anchor="middle" fill="${grey(light)}">${texts.join('')}</g></svg>`;
  const flat = new Resvg(svg, {
    font: { loadSystemFonts: false, fontFiles: [openSans()], defaultFontFamily: 'Open Sans' },
  })
    .render()
    .asPng();
  const photo = sharp(flat).removeAlpha();
  if (how === 'scuffed')
    photo.composite([{ input: new Resvg(scuffs(width, height, dark, draw)).render().asPng() }]);
  if (how === 'squeezed') photo.resize(Math.round(width * 0.7), Math.round(height * 0.55), { fit: 'fill' });
  const jpeg = await photo.jpeg({ quality: how === 'squeezed' ? 35 : 80 }).toBuffer();
  const seen = sharp(jpeg).blur(0.5 + draw() * 0.4);
  const { data, info } = await seen.toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
  if (how === 'grainy') {
    // The sum of twelve uniform numbers is nearly normal.
    const strength = 8 + draw() * 12;
    for (let at = 0; at < data.length; at++) {
      let sum = -6;
      for (let n = 0; n < 12; n++) sum += draw();
      data[at] = Math.max(0, Math.min(255, data[at] + sum * strength));
    }
  }
  return { pixels: data, width: info.width, height: info.height, lines };
}

/** Rubbed lines and dull spots, as SVG. */
function scuffs(width: number, height: number, dark: number, draw: () => number): string {
  const marks: string[] = [];
  const at = (size: number) => (draw() * size).toFixed(1);
  const fill = `rgb(${dark},${dark},${dark})`;
  for (let n = 0; n < 3; n++)
    marks.push(
      `<path d="M${at(width)} ${at(height)}Q${at(width)} ${at(height)} ${at(width)} ${at(height)}" stroke="${fill}" stroke-opacity="0.7" stroke-width="${(1 + draw()).toFixed(1)}" fill="none"/>`,
    );
  for (let n = 0; n < 3; n++)
    marks.push(
      `<ellipse cx="${at(width)}" cy="${at(height)}" rx="${(height * 0.18).toFixed(1)}" ry="${(height * 0.12).toFixed(1)}" fill="${fill}" fill-opacity="0.6"/>`,
    );
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">${marks.join('')}</svg>`;
}

let file: string | undefined;

/** The face, taken out of its archive. */
function openSans(): string {
  if (file) return file;
  const packed = join(
    dirname(fileURLToPath(import.meta.resolve('@sparticuz/chromium'))),
    '../bin/fonts.tar.br',
  );
  const tar = brotliDecompressSync(readFileSync(packed));
  // POSIX ustar: blocks of 512 bytes, the name in the first 100, the size in octal at 124.
  for (let at = 0; at < tar.length; ) {
    const name = tar.toString('latin1', at, at + 100).replace(/\0.*$/u, '');
    if (name === '') break;
    const size = Number.parseInt(tar.toString('latin1', at + 124, at + 136), 8);
    if (name.endsWith('OpenSans-Regular.ttf')) {
      file = join(mkdtempSync(join(tmpdir(), 'caseback-face-')), 'OpenSans-Regular.ttf');
      writeFileSync(file, tar.subarray(at + 512, at + 512 + size));
      return file;
    }
    at += 512 + Math.ceil(size / 512) * 512;
  }
  throw new Error(`no Open Sans in ${packed}`);
}
