/** Tag of the orientation and type SHORT of its value (TIFF 6.0, sections 2 and 8). */
const ORIENTATION = 0x0112;
const SHORT = 3;

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
