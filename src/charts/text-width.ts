import { faceOf } from '../text/face.ts';

// Without widths of its own Vega guesses 0.8 em a character where there is no canvas, and half of a picture stays white.

/** Width of a character that the font lacks, em. */
const LACKING = 1;

/**
 * Width of a text in the face of the house.
 * @param size of the font, px
 * @returns px
 */
export function widthOf(text: string, size: number, isBold = false): number {
  const { advance } = faceOf(isBold);
  let em = 0;
  for (const character of text) em += advance(character.codePointAt(0) as number) ?? LACKING;
  return em * size;
}
