import { NoPhoto } from '../refusal.ts';
import { orientationAlone } from './orientation.ts';

// Markers of ITU-T T.81, table B.1.
const SOI = 0xd8;
const EOI = 0xd9;
const SOS = 0xda;
const APP0 = 0xe0;
const APP1 = 0xe1;
const APP2 = 0xe2;
const APP14 = 0xee;
const TEM = 0x01;
const isRestart = (marker: number) => marker >= 0xd0 && marker <= 0xd7;
/** Frames and tables: SOF0 to SOF15 with DHT and DAC among them, DQT, DNL, DRI. */
const isPicture = (marker: number) =>
  (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc8) || (marker >= 0xdb && marker <= 0xdd);

const JFIF = Buffer.from('JFIF\0', 'latin1');
const ICC = Buffer.from('ICC_PROFILE\0', 'latin1');
const ADOBE = Buffer.from('Adobe', 'latin1');
/** Length of a JFIF header without a thumbnail, marker and length field left out (ITU-T T.871, section 10.1). */
const JFIF_LENGTH = 14;

/**
 * A JPEG file with its picture, its colour profile and how it is turned, and nothing else: no Exif, XMP or IPTC data, comments,
 * thumbnails, further pictures, or bytes behind the end.
 * @throws NoPhoto for a file that is cut off or not built as ITU-T T.81, annex B, says
 */
export function strippedJpeg(content: Uint8Array, orientation: number): Uint8Array {
  const file = Buffer.from(content.buffer, content.byteOffset, content.byteLength);
  const kept: Uint8Array[] = [];
  let at = 2;
  const begun = Buffer.from([0xff, SOI]);
  let jfif: Uint8Array | undefined;
  while (true) {
    if (file[at] !== 0xff) throw broken(at);
    while (file[at + 1] === 0xff) at++;
    const marker = file[at + 1];
    if (marker === undefined) throw cutOff();
    if (marker === EOI) break;
    if (isRestart(marker) || marker === TEM) {
      at += 2;
      continue;
    }
    if (at + 4 > file.length) throw cutOff();
    const end = at + 2 + file.readUInt16BE(at + 2);
    if (end > file.length || end < at + 4) throw cutOff();
    const body = file.subarray(at + 4, end);
    if (marker === APP0 && begins(body, JFIF) && body.length >= JFIF_LENGTH) jfif ??= headerOf(body);
    else if (
      marker === SOS ||
      isPicture(marker) ||
      (marker === APP2 && begins(body, ICC)) ||
      (marker === APP14 && begins(body, ADOBE))
    )
      kept.push(file.subarray(at, end));
    at = end;
    if (marker !== SOS) continue;
    const scanned = endOfScan(file, end);
    kept.push(file.subarray(end, scanned));
    at = scanned;
  }
  const turned =
    orientation === 1
      ? []
      : [segment(APP1, Buffer.from('Exif\0\0', 'latin1'), orientationAlone(orientation))];
  return Buffer.concat([begun, ...(jfif ? [jfif] : []), ...turned, ...kept, Buffer.from([0xff, EOI])]);
}

/** Where the entropy-coded data that begin somewhere end: at the next marker that is neither stuffing nor a restart. */
export function endOfScan(file: Uint8Array, from: number): number {
  // A search for each 0xff takes twenty times as long in a file that has little else.
  for (let at = from; at + 1 < file.length; at++) {
    if (file[at] !== 0xff) continue;
    const next = file[at + 1];
    if (next !== 0 && next !== 0xff && !isRestart(next)) return at;
  }
  throw cutOff();
}

/** A JFIF header without its thumbnail. */
function headerOf(body: Buffer): Uint8Array {
  const header = Buffer.from(body.subarray(0, JFIF_LENGTH));
  header.fill(0, JFIF_LENGTH - 2);
  return segment(APP0, header);
}

function segment(marker: number, ...parts: readonly Uint8Array[]): Uint8Array {
  const body = Buffer.concat(parts);
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
}

const begins = (body: Buffer, name: Buffer) => body.subarray(0, name.length).equals(name);

const cutOff = () => new NoPhoto('The JPEG file is cut off', 'copy it from the camera again');
const broken = (at: number) =>
  new NoPhoto(`The JPEG file is damaged at byte ${at}`, 'copy it from the camera again, or save it anew');
