import { crc32 } from 'node:zlib';
import { NoPhoto } from '../refusal.ts';
import { orientationAlone } from './orientation.ts';

const SIGNATURE = 8;
/** Chunks of the picture and its colours (PNG, third edition, section 11); texts, times, animation and Exif data are none. */
const KEPT = new Set('IHDR PLTE IDAT IEND tRNS cHRM gAMA iCCP sBIT sRGB cICP mDCV cLLI bKGD pHYs'.split(' '));

/**
 * A PNG file with its picture, its colours and how it is turned, and nothing else.
 * @throws NoPhoto for a file that is cut off, or in which a chunk is not the one that was written
 */
export function strippedPng(content: Uint8Array, orientation: number): Uint8Array {
  const file = Buffer.from(content.buffer, content.byteOffset, content.byteLength);
  const kept: Uint8Array[] = [file.subarray(0, SIGNATURE)];
  let isTurned = orientation === 1;
  for (let at = SIGNATURE; ; ) {
    if (at + 12 > file.length) throw new NoPhoto('The PNG file is cut off', 'copy it again');
    const end = at + 12 + file.readUInt32BE(at);
    if (end > file.length) throw new NoPhoto('The PNG file is cut off', 'copy it again');
    if (crc32(file.subarray(at + 4, end - 4)) !== file.readUInt32BE(end - 4))
      throw new NoPhoto(`The PNG file is damaged at byte ${at}`, 'copy it again, or save it anew');
    const type = file.toString('latin1', at + 4, at + 8);
    if (type === 'IDAT' && !isTurned) {
      kept.push(chunk('eXIf', orientationAlone(orientation)));
      isTurned = true;
    }
    if (KEPT.has(type)) kept.push(file.subarray(at, end));
    if (type === 'IEND') return Buffer.concat(kept);
    at = end;
  }
}

function chunk(type: string, body: Uint8Array): Uint8Array {
  const written = Buffer.alloc(12 + body.length);
  written.writeUInt32BE(body.length, 0);
  written.write(type, 4, 'latin1');
  written.set(body, 8);
  written.writeUInt32BE(crc32(written.subarray(4, 8 + body.length)), 8 + body.length);
  return written;
}
