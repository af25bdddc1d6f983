import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

// Advance widths of the face that pictures are set in, from its font files (OpenType 1.9, tables cmap, head, hhea and hmtx), so that
// texts can be given their room before anything is drawn. Kerning, which only narrows, is left out.

const require = createRequire(import.meta.url);
const [REGULAR, BOLD, OBLIQUE, MONO] = [
  'DejaVuSans.ttf',
  'DejaVuSans-Bold.ttf',
  'DejaVuSans-Oblique.ttf',
  'DejaVuSansMono.ttf',
].map((file) => require.resolve(`dejavu-fonts-ttf/ttf/${file}`));

/** The font files that pictures are drawn with. */
export const FONT_FILES: readonly string[] = [REGULAR, BOLD, OBLIQUE, MONO];

/** Widths of one font, in em. */
export interface Face {
  /** Of a character; undefined where the font lacks it. */
  readonly advance: (codePoint: number) => number | undefined;
  /** Of the mark that the font has for what it lacks. */
  readonly lacking: number;
}

const faces = new Map<string, Face>();

/** The face of the house; its file is read when it is first asked for. */
export function faceOf(isBold: boolean): Face {
  const file = isBold ? BOLD : REGULAR;
  let face = faces.get(file);
  if (!face) {
    face = readFace(file);
    faces.set(file, face);
  }
  return face;
}

function readFace(file: string): Face {
  const bytes = readFileSync(file);
  const tables = new Map<string, number>();
  for (let i = 0; i < bytes.readUInt16BE(4); i++) {
    const at = 12 + 16 * i;
    tables.set(bytes.toString('latin1', at, at + 4), bytes.readUInt32BE(at + 8));
  }
  const table = (tag: string): number => {
    const at = tables.get(tag);
    if (at === undefined) throw new Error(`${file} has no table ${tag}`);
    return at;
  };
  const [hmtx, unitsInEm] = [table('hmtx'), bytes.readUInt16BE(table('head') + 18)];
  const metrics = bytes.readUInt16BE(table('hhea') + 34);
  const glyphOf = glyphsIn(bytes, table('cmap'), file);
  const widthOf = (glyph: number) => bytes.readUInt16BE(hmtx + 4 * Math.min(glyph, metrics - 1)) / unitsInEm;
  const advance = (codePoint: number) => {
    const glyph = glyphOf(codePoint);
    return glyph === 0 ? undefined : widthOf(glyph);
  };
  return { advance, lacking: widthOf(0) };
}

/** Glyph of a character by the subtable of format 12, which has all planes; 0 where there is none. */
function glyphsIn(bytes: Buffer, cmap: number, file: string): (codePoint: number) => number {
  for (let i = 0; i < bytes.readUInt16BE(cmap + 2); i++) {
    const at = cmap + bytes.readUInt32BE(cmap + 4 + 8 * i + 4);
    if (bytes.readUInt16BE(at) !== 12) continue;
    const groups = bytes.readUInt32BE(at + 12);
    return (codePoint) => {
      let [low, high] = [0, groups - 1];
      while (low <= high) {
        const middle = (low + high) >> 1;
        const group = at + 16 + 12 * middle;
        if (codePoint < bytes.readUInt32BE(group)) high = middle - 1;
        else if (codePoint > bytes.readUInt32BE(group + 4)) low = middle + 1;
        else return bytes.readUInt32BE(group + 8) + codePoint - bytes.readUInt32BE(group);
      }
      return 0;
    };
  }
  throw new Error(`${file} has no character map of format 12`);
}
