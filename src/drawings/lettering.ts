import { faceOf } from '../text/face.ts';

// How large texts are, so that labels can be kept apart before anything is drawn.

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

/** Width of a text in a size, mm; kerning, which only narrows, is left out. */
export function textWidth(text: string, size: number, isBold = false): number {
  const { advance, lacking } = faceOf(isBold);
  let em = 0;
  for (const character of text) {
    const codePoint = character.codePointAt(0) ?? 0;
    // What the face lacks is drawn in another one; wide scripts are as wide as they are high.
    em += Math.max(advance(codePoint) ?? lacking, codePoint > 0x2e80 ? 1 : 0);
  }
  return em * size;
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
