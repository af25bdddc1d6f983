import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

// How wide texts are, from the advance widths of the face itself (OpenType 1.9, tables cmap, head, hhea and hmtx), so that
// labels can be kept apart before anything is drawn.

/** Points to millimetres: 72 points are an inch. */
export const POINT = 25.4 / 72;

/** Sizes of texts, mm; none is under 6 points. */
export const SIZES = {
  label: 6.2 * POINT,
  note: 6.5 * POINT,
  caption: 8 * POINT,
  heading: 12 * POINT,
} as const;

/** Ascent and descent of capitals, digits and hanging letters in parts of the size. */
export const ASCENT = 0.76;
export const DESCENT = 0.24;

const require = createRequire(import.meta.url);

interface Face {
  readonly unitsPerEm: number;
  readonly advance: (codePoint: number) => number;
}

const faces = new Map<string, Face>();

function faceOf(file: string): Face {
  let face = faces.get(file);
  if (!face) {
    face = readFace(readFileSync(require.resolve(`dejavu-fonts-ttf/ttf/${file}`)));
    faces.set(file, face);
  }
  return face;
}

function readFace(bytes: Buffer): Face {
  const tables = new Map<string, number>();
  for (let i = 0; i < bytes.readUInt16BE(4); i++) {
    const at = 12 + 16 * i;
    tables.set(bytes.toString('latin1', at, at + 4), bytes.readUInt32BE(at + 8));
  }
  const table = (tag: string): number => {
    const at = tables.get(tag);
    if (at === undefined) throw new Error(`a face without the table ${tag}`);
    return at;
  };
  const [hmtx, cmap] = [table('hmtx'), table('cmap')];
  const metrics = bytes.readUInt16BE(table('hhea') + 34);
  const glyphOf = glyphsIn(bytes, cmap);
  const advance = (codePoint: number) =>
    bytes.readUInt16BE(hmtx + 4 * Math.min(glyphOf(codePoint), metrics - 1));
  return { unitsPerEm: bytes.readUInt16BE(table('head') + 18), advance };
}

/** Glyph of a character by the subtable of format 12, which has all planes; 0 where there is none. */
function glyphsIn(bytes: Buffer, cmap: number): (codePoint: number) => number {
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
  throw new Error('a face without a character map of format 12');
}

/** Width of a text in a size, mm; kerning, which only narrows, is left out. */
export function textWidth(text: string, size: number, isBold = false): number {
  const { unitsPerEm, advance } = faceOf(isBold ? 'DejaVuSans-Bold.ttf' : 'DejaVuSans.ttf');
  let units = 0;
  for (const character of text) {
    const codePoint = character.codePointAt(0) ?? 0;
    // What the face lacks is drawn in another one; wide scripts are as wide as they are high.
    units += Math.max(advance(codePoint), codePoint > 0x2e80 ? unitsPerEm : 0);
  }
  return (units / unitsPerEm) * size;
}

/** A text in lines of at most a width, broken at blanks, and inside of words that are longer than a line. */
export function wrapped(text: string, width: number, size: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/u).filter((one) => one !== '')) {
    let rest = word;
    const joined = line === '' ? rest : `${line} ${rest}`;
    if (textWidth(joined, size) <= width) {
      line = joined;
      continue;
    }
    if (line !== '') lines.push(line);
    while (textWidth(rest, size) > width) {
      const head = fitting(rest, width, size);
      lines.push(head);
      rest = rest.slice(head.length);
    }
    line = rest;
  }
  return line === '' ? lines : [...lines, line];
}

/** A text that fits a width, with an ellipsis where something was left out. */
export function shortened(text: string, width: number, size: number, isBold = false): string {
  if (textWidth(text, size, isBold) <= width) return text;
  const head = fitting(text, width - textWidth('…', size, isBold), size, isBold);
  return `${head.trimEnd()}…`;
}

/** As many characters from the start of a text as fit a width, at least one. */
function fitting(text: string, width: number, size: number, isBold = false): string {
  let [head, taken] = ['', 0];
  for (const character of text) {
    taken += textWidth(character, size, isBold);
    if (head !== '' && taken > width) break;
    head += character;
  }
  return head;
}
