import type { PictureType } from '../model/photo-file.ts';

/** First bytes of each kind: ITU-T T.81 annex B, the PNG specification (third edition) section 5.2, RFC 9649 section 2.4. */
const BEGINNINGS: readonly (readonly [PictureType, readonly (number | undefined)[]])[] = [
  ['image/jpeg', [0xff, 0xd8, 0xff]],
  ['image/png', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  [
    'image/webp',
    [0x52, 0x49, 0x46, 0x46, undefined, undefined, undefined, undefined, 0x57, 0x45, 0x42, 0x50],
  ],
];

/** What people bring in place of a photo, so that the refusal can say it. */
const OTHERS: readonly (readonly [string, RegExp])[] = [
  ['an SVG drawing or another text', /^(?:\xef\xbb\xbf)?\s*</u],
  ['a GIF', /^GIF8/u],
  ['a TIFF or camera raw file', /^(?:II\*\0|MM\0\*|II\+\0)/u],
  ['a PDF', /^%PDF/u],
  ['a HEIF or AVIF picture', /^.{4}ftyp/su],
  ['a bitmap', /^BM/u],
  ['a ZIP file', /^PK/u],
];

/** Kind of picture by its first bytes, whatever the file is called; undefined for everything else. */
export function pictureTypeOf(content: Uint8Array): PictureType | undefined {
  return BEGINNINGS.find(
    ([, bytes]) =>
      content.length > bytes.length && bytes.every((byte, at) => byte === undefined || content[at] === byte),
  )?.[0];
}

/** What content seems to be that is no photo: "a GIF". */
export function seemsToBe(content: Uint8Array): string {
  const start = Buffer.from(content.subarray(0, 64)).toString('latin1');
  return OTHERS.find(([, pattern]) => pattern.test(start))?.[0] ?? 'of no kind that is known here';
}
