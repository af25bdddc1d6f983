import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

// Widths of texts from the font files themselves (OpenType: tables cmap format 4 and 12, head, hhea, hmtx). Without them Vega
// guesses 0.8 em a character where there is no canvas, and half of a picture stays white. Kerning is left out.

const require = createRequire(import.meta.url);
/** The font files that charts are drawn with; the first two are the face of the house. */
export const FONT_FILES: readonly string[] = [
  'DejaVuSans.ttf',
  'DejaVuSans-Bold.ttf',
  'DejaVuSans-Oblique.ttf',
  'DejaVuSansMono.ttf',
].map((file) => require.resolve(`dejavu-fonts-ttf/ttf/${file}`));

/** Width of a character that the font lacks, em. */
const LACKING = 1;

type Advance = (codePoint: number) => number;

/**
 * Width of a text in the face of the house.
 * @param size of the font, px
 * @returns px
 */
export function widthOf(text: string, size: number, isBold = false): number {
  const advance = isBold ? bold() : regular();
  let em = 0;
  for (const character of text) em += advance(character.codePointAt(0) as number);
  return em * size;
}

const once = <T>(make: () => T) => {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
};
const regular = once(() => advanceOf(FONT_FILES[0]));
const bold = once(() => advanceOf(FONT_FILES[1]));

/** Advance widths of a font file, in em. */
function advanceOf(file: string): Advance {
  const font = readFileSync(file);
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const tables = new Map<string, number>();
  for (let i = 0, at = 12; i < view.getUint16(4); i += 1, at += 16)
    tables.set(font.toString('latin1', at, at + 4), view.getUint32(at + 8));
  const table = (name: string) => tables.get(name) ?? fail(file, name);
  const unitsInEm = view.getUint16(table('head') + 18);
  const metrics = view.getUint16(table('hhea') + 34);
  const hmtx = table('hmtx');
  const glyphs = glyphsOf(view, table('cmap'));
  return (codePoint) => {
    const glyph = glyphs.get(codePoint);
    if (glyph === undefined) return LACKING;
    return view.getUint16(hmtx + 4 * Math.min(glyph, metrics - 1)) / unitsInEm;
  };
}

/** Glyph of each code point, by the Unicode subtables that the file has. */
function glyphsOf(view: DataView, cmap: number): ReadonlyMap<number, number> {
  const glyphs = new Map<number, number>();
  for (let i = 0; i < view.getUint16(cmap + 2); i += 1) {
    const record = cmap + 4 + 8 * i;
    const platform = view.getUint16(record);
    if (platform !== 0 && platform !== 3) continue;
    const at = cmap + view.getUint32(record + 4);
    const format = view.getUint16(at);
    if (format === 4) readSegments(view, at, glyphs);
    if (format === 12) readGroups(view, at, glyphs);
  }
  return glyphs;
}

function readSegments(view: DataView, at: number, glyphs: Map<number, number>): void {
  const twice = view.getUint16(at + 6);
  for (let i = 0; i < twice; i += 2) {
    const last = view.getUint16(at + 14 + i);
    const first = view.getUint16(at + 16 + twice + i);
    const delta = view.getUint16(at + 16 + 2 * twice + i);
    const place = at + 16 + 3 * twice + i;
    const offset = view.getUint16(place);
    for (let code = first; code <= last && code < 0xffff; code += 1) {
      const listed = offset === 0 ? code : view.getUint16(place + offset + 2 * (code - first));
      const glyph = offset !== 0 && listed === 0 ? 0 : (listed + delta) & 0xffff;
      if (glyph !== 0) glyphs.set(code, glyph);
    }
  }
}

function readGroups(view: DataView, at: number, glyphs: Map<number, number>): void {
  for (let i = 0; i < view.getUint32(at + 12); i += 1) {
    const group = at + 16 + 12 * i;
    const [first, last, glyph] = [0, 4, 8].map((offset) => view.getUint32(group + offset));
    for (let code = first; code <= last; code += 1) glyphs.set(code, glyph + code - first);
  }
}

function fail(file: string, table: string): never {
  throw new Error(`${file} has no table ${table}`);
}
