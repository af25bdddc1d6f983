/** Tag of the orientation and type SHORT of its value (TIFF 6.0, sections 2 and 8). */
const ORIENTATION = 0x0112;
const SHORT = 3;

/** Types of a number of 16 and of 32 bits (TIFF 6.0, section 2). */
const LENGTHS: Readonly<Record<number, 2 | 4>> = { [SHORT]: 2, 4: 4 };
/** Entries of a directory that are looked at. */
const MOST_ENTRIES = 1_000;

/**
 * How Exif data say that a picture is turned: 1 to 8; 1 where they do not, or are no such data. The first directory alone is read, once
 * through, so that none of what it may point to is followed.
 * @param tiff from the TIFF header on
 */
export function orientationIn(tiff: Uint8Array): number {
  const data = Buffer.from(tiff.buffer, tiff.byteOffset, tiff.byteLength);
  const order = data.toString('latin1', 0, 2);
  if (data.length < 10 || (order !== 'MM' && order !== 'II')) return 1;
  const read = (at: number, length: 2 | 4) =>
    at + length > data.length
      ? 0
      : order === 'II'
        ? data.readUIntLE(at, length)
        : data.readUIntBE(at, length);
  const first = read(4, 4);
  const count = Math.min(read(first, 2), MOST_ENTRIES);
  for (let i = 0; i < count; i++) {
    const at = first + 2 + 12 * i;
    if (read(at, 2) !== ORIENTATION) continue;
    const length = LENGTHS[read(at + 2, 2)];
    const value = length && read(at + 4, 4) === 1 ? read(at + 8, length) : 1;
    return value >= 1 && value <= 8 ? value : 1;
  }
  return 1;
}

/** Exif data (a TIFF header and one directory) that say how a picture is turned, and nothing else. @param orientation 1 to 8 */
export function orientationAlone(orientation: number): Uint8Array {
  const tiff = Buffer.alloc(26);
  tiff.write('MM\0*', 0, 'latin1');
  tiff.writeUInt32BE(8, 4);
  tiff.writeUInt16BE(1, 8);
  tiff.writeUInt16BE(ORIENTATION, 10);
  tiff.writeUInt16BE(SHORT, 12);
  tiff.writeUInt32BE(1, 14);
  tiff.writeUInt16BE(orientation, 18);
  return tiff;
}
