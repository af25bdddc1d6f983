import { inflateSync } from 'node:zlib';
import type { PictureType } from '../../model/photo-file.ts';
import { NoPhoto } from '../refusal.ts';
import { endOfScan } from './jpeg.ts';
import { orientationIn } from './orientation.ts';

// How a file is built, read before anything is decoded: a small file may ask for gigabytes, or for hours. Bounds are several times what
// cameras and programs write.

/** What is to be known of a file before its picture is decoded. */
export interface Structure {
  /** Pixels as they lie in the file, before it is turned upright; 0 where the file does not say it. */
  readonly width: number;
  readonly height: number;
  /** Exif orientation, 1 to 8; 1 where none is said. */
  readonly orientation: number;
  /** Whether a decoder has to hold the whole picture at once. */
  readonly isHeldWhole: boolean;
  /** How often every pixel is gone over. */
  readonly scans: number;
  /** Bytes up to the end of the picture; what comes behind is another thing. */
  readonly end: number;
}

/** Segments of a JPEG, without entropy-coded data: a camera writes some tens. */
const MOST_SEGMENTS = 10_000;
/** Scans of a JPEG: progressive ones have about ten. */
const MOST_SCANS = 100;
/** Chunks of a PNG: 64 MB in parts of 1 kB. */
const MOST_CHUNKS = 70_000;
/** Chunks of a WebP: it has six kinds. */
const MOST_PARTS = 1_000;
/** A colour profile when it is unpacked, bytes: those of presses have up to 4 MB. */
const MOST_PROFILE = 8 * 2 ** 20;
/** Exif data, bytes: a segment of a JPEG holds no more. */
const MOST_EXIF = 65_536;

/** @throws NoPhoto for what is cut off or built as no picture is */
export function structureOf(content: Uint8Array, type: PictureType): Structure {
  const file = Buffer.from(content.buffer, content.byteOffset, content.byteLength);
  return type === 'image/jpeg' ? jpeg(file) : type === 'image/png' ? png(file) : webp(file);
}

/** ITU-T T.81, annex B. */
function jpeg(file: Buffer): Structure {
  let [width, height, orientation, scans, segments] = [0, 0, 1, 0, 0];
  let [isProgressive, hasExif] = [false, false];
  let at = 2;
  for (;;) {
    if (file[at] !== 0xff) throw damaged('JPEG', at);
    while (file[at + 1] === 0xff) at++;
    const marker = file[at + 1];
    if (marker === undefined) throw cutOff('JPEG');
    if (marker === 0xd9)
      return { width, height, orientation, isHeldWhole: isProgressive, scans, end: at + 2 };
    if (++segments > MOST_SEGMENTS) throw inPieces('JPEG', MOST_SEGMENTS);
    if ((marker >= 0xd0 && marker <= 0xd7) || marker === 0x01) {
      at += 2;
      continue;
    }
    if (at + 4 > file.length) throw cutOff('JPEG');
    const end = at + 2 + file.readUInt16BE(at + 2);
    if (end > file.length || end < at + 4) throw cutOff('JPEG');
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame && end >= at + 9) {
      [height, width] = [file.readUInt16BE(at + 5), file.readUInt16BE(at + 7)];
      // Frames of several scans: progressive and hierarchical ones (table B.1).
      isProgressive ||= (marker & 3) === 2 || marker > 0xc4;
    } else if (marker === 0xe1 && !hasExif && file.toString('latin1', at + 4, at + 10) === 'Exif\0\0') {
      hasExif = true;
      orientation = orientationIn(file.subarray(at + 10, end));
    } else if (marker === 0xda) {
      if (++scans > MOST_SCANS)
        throw new NoPhoto(`The JPEG file goes over its picture more than ${MOST_SCANS} times`, SAVE_ANEW);
      at = endOfScan(file, end);
      continue;
    }
    at = end;
  }
}

/** PNG, third edition, sections 5 and 11. */
function png(file: Buffer): Structure {
  let [width, height, orientation] = [0, 0, 1];
  let isInterlaced = false;
  for (let at = 8, chunks = 1; ; chunks++) {
    if (at + 12 > file.length) throw cutOff('PNG');
    if (chunks > MOST_CHUNKS) throw inPieces('PNG', MOST_CHUNKS);
    const length = file.readUInt32BE(at);
    const end = at + 12 + length;
    if (end > file.length) throw cutOff('PNG');
    const body = file.subarray(at + 8, end - 4);
    switch (file.toString('latin1', at + 4, at + 8)) {
      case 'IHDR':
        if (length >= 13) {
          [width, height] = [body.readUInt32BE(0), body.readUInt32BE(4)];
          isInterlaced = body[12] !== 0;
        }
        break;
      case 'eXIf':
        if (length <= MOST_EXIF) orientation = orientationIn(body);
        break;
      case 'iCCP':
        checkProfile(body);
        break;
      case 'IEND':
        return { width, height, orientation, isHeldWhole: isInterlaced, scans: 1, end };
      default:
    }
    at = end;
  }
}

/** @throws NoPhoto for a profile that unpacks to more than any has */
function checkProfile(body: Buffer): void {
  const packed = body.subarray(body.indexOf(0) + 2);
  try {
    inflateSync(packed, { maxOutputLength: MOST_PROFILE });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ERR_BUFFER_TOO_LARGE') return;
    throw new NoPhoto(
      `The colour profile of the PNG file unpacks to more than ${MOST_PROFILE / 2 ** 20} MB`,
      SAVE_ANEW,
    );
  }
}

/** RFC 9649, section 2.5 to 2.7. */
function webp(file: Buffer): Structure {
  const whole = 8 + file.readUInt32LE(4);
  if (whole > file.length) throw cutOff('WebP');
  let [width, height, orientation] = [0, 0, 1];
  for (let at = 12, parts = 1; at + 8 <= whole; parts++) {
    if (parts > MOST_PARTS) throw inPieces('WebP', MOST_PARTS);
    const size = file.readUInt32LE(at + 4);
    if (at + 8 + size > whole) throw cutOff('WebP');
    const body = file.subarray(at + 8, at + 8 + size);
    const type = file.toString('latin1', at, at + 4);
    if (type === 'ANIM' || type === 'ANMF')
      throw new NoPhoto('The WebP file is an animation', 'save one picture of it as a photo');
    if (type === 'VP8X' && size >= 10)
      [width, height] = [1 + body.readUIntLE(4, 3), 1 + body.readUIntLE(7, 3)];
    else if (type === 'VP8 ' && size >= 10 && width === 0)
      [width, height] = [body.readUInt16LE(6) & 0x3fff, body.readUInt16LE(8) & 0x3fff];
    else if (type === 'VP8L' && size >= 5 && width === 0) {
      const bits = body.readUInt32LE(1);
      [width, height] = [1 + (bits & 0x3fff), 1 + ((bits >>> 14) & 0x3fff)];
    } else if (type === 'EXIF' && size <= MOST_EXIF)
      orientation = orientationIn(body.toString('latin1', 0, 6) === 'Exif\0\0' ? body.subarray(6) : body);
    at += 8 + size + (size % 2);
  }
  return { width, height, orientation, isHeldWhole: true, scans: 1, end: whole };
}

/** Bytes at the end in which the directory of a ZIP begins: its record and the longest comment (APPNOTE.TXT 6.3.10, section 4.3.16). */
const ZIP_REACH = 22 + 65_535;
const MARKUP = /<(?:!doctype|html|script|svg|body|iframe|\?php|\?xml)[\s>]/iu;

/**
 * Whether another file hangs behind the end of a picture, so that a program may take the whole for that: an archive, a page, a script.
 * Cameras append films and smaller pictures, which are let be.
 */
export function hasFileBehind(content: Uint8Array, { end }: Structure): boolean {
  const behind = Buffer.from(content.buffer, content.byteOffset + end, content.byteLength - end);
  if (behind.length === 0) return false;
  return (
    behind.subarray(-ZIP_REACH).includes('PK\u0005\u0006', 0, 'latin1') ||
    MARKUP.test(behind.toString('latin1', 0, 4_096)) ||
    MARKUP.test(behind.subarray(-4_096).toString('latin1'))
  );
}

const SAVE_ANEW = 'save it anew';
const cutOff = (kind: string) => new NoPhoto(`The ${kind} file is cut off`, 'copy it from the camera again');
const damaged = (kind: string, at: number) =>
  new NoPhoto(`The ${kind} file is damaged at byte ${at}`, 'copy it from the camera again, or save it anew');
const inPieces = (kind: string, most: number) =>
  new NoPhoto(`The ${kind} file is in more than ${most} pieces`, SAVE_ANEW);
