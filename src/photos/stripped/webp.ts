import { NoPhoto } from '../refusal.ts';
import { orientationAlone } from './orientation.ts';

const HEADER = 12;
// Flags of the VP8X chunk (RFC 9649, section 2.7.1).
const ANIMATION = 0x02;
const XMP = 0x04;
const EXIF = 0x08;
/** Chunks of the picture and its colours. */
const KEPT = new Set(['VP8 ', 'VP8L', 'VP8X', 'ALPH', 'ICCP']);

/**
 * A WebP file with its picture, its colour profile and how it is turned, and nothing else.
 * @throws NoPhoto for a file that is cut off, and for an animation
 */
export function strippedWebp(content: Uint8Array, orientation: number): Uint8Array {
  const file = Buffer.from(content.buffer, content.byteOffset, content.byteLength);
  const whole = HEADER - 4 + file.readUInt32LE(4);
  if (whole > file.length) throw new NoPhoto('The WebP file is cut off', 'copy it again');
  const kept: Buffer[] = [];
  for (let at = HEADER; at + 8 <= whole; ) {
    const size = file.readUInt32LE(at + 4);
    const end = at + 8 + size + (size % 2);
    if (at + 8 + size > whole) throw new NoPhoto('The WebP file is cut off', 'copy it again');
    const type = file.toString('latin1', at, at + 4);
    if (type === 'ANIM' || type === 'ANMF')
      throw new NoPhoto('The WebP file is an animation', 'save one picture of it as a photo');
    if (KEPT.has(type)) kept.push(Buffer.from(file.subarray(at, Math.min(end, file.length))));
    at = end;
  }
  // Only the extended form has a chunk that says what else there is; a picture that is turned cannot do without it.
  const extended = kept.find((one) => one.toString('latin1', 0, 4) === 'VP8X');
  if (extended) {
    extended[8] &= ~(ANIMATION | XMP | EXIF);
    if (orientation !== 1) {
      extended[8] |= EXIF;
      kept.push(exif(orientation));
    }
  }
  const body = Buffer.concat(kept);
  const header = Buffer.from(file.subarray(0, HEADER));
  header.writeUInt32LE(4 + body.length, 4);
  return Buffer.concat([header, body]);
}

function exif(orientation: number): Buffer {
  const tiff = orientationAlone(orientation);
  const chunk = Buffer.alloc(8 + tiff.length);
  chunk.write('EXIF', 0, 'latin1');
  chunk.writeUInt32LE(tiff.length, 4);
  chunk.set(tiff, 8);
  return chunk;
}
