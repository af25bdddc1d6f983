import ExifReader from 'exifreader';
import { expect, test } from 'vitest';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import { strippedFile } from '../../src/photos/stripped/stripped.ts';
import { pictureOf, pixelsOf } from './pictures.ts';

// What is left in a file is read by ExifReader (npm: exifreader), which shares no code with what takes things out.

const KINDS = ['jpeg', 'png', 'webp'] as const;
/** Groups that are the picture's: its size, its colours, how many dots an inch. */
const OF_THE_PICTURE = ['file', 'jfif', 'icc', 'png', 'pngFile', 'riff'];

const tagsIn = (content: Uint8Array) => ExifReader.load(Buffer.from(content), { expanded: true });

for (const kind of KINDS)
  for (let orientation = 1; orientation <= 8; orientation++)
    test(`a ${kind} that is turned as ${orientation} is handed on with its picture and how it is turned, and nothing else`, async () => {
      const content = await pictureOf(kind, { orientation });
      const before = tagsIn(content);
      expect(before.gps?.Latitude).toBeCloseTo(10.3417, 3);
      expect(before.exif).toMatchObject({ BodySerialNumber: { description: 'SN-0042' } });
      const { file } = await inspectPhoto(content);
      const served = strippedFile(content, file.type, orientation);
      const after = tagsIn(served);
      const { exif = {}, ...groups } = after;
      expect(Object.keys(groups).filter((name) => !OF_THE_PICTURE.includes(name))).toEqual([]);
      expect(Object.keys(exif).filter((name) => name !== 'Orientation')).toEqual([]);
      for (const told of ['SN-0042', 'Invented', '2026:03:04', 'Darkroom'])
        expect(Buffer.from(served).includes(told)).toBe(false);
      expect(exif.Orientation?.value ?? 1).toBe(orientation);
      // Bit for bit the same picture, upright.
      const [one, other] = [await pixelsOf(content), await pixelsOf(served)];
      expect([other.width, other.height]).toEqual([one.width, one.height]);
      expect(other.data.equals(one.data)).toBe(true);
      expect([file.width, file.height]).toEqual([one.width, one.height]);
      expect(file.served.bytes).toBe(served.length);
      // Where the bright corner of the sensor comes to lie (Exif 2.32, section 4.6.4: row 0 and column 0 of each value).
      const corner = {
        1: 'top left',
        2: 'top right',
        3: 'bottom right',
        4: 'bottom left',
        5: 'top left',
        6: 'top right',
        7: 'bottom right',
        8: 'bottom left',
      }[orientation];
      expect(brightCorner(other)).toBe(corner);
    });

function brightCorner({ data, width, height }: { data: Buffer; width: number; height: number }): string {
  const at = (x: number, y: number) =>
    data[Math.floor(y * (height - 1)) * width + Math.floor(x * (width - 1))];
  const corners = [
    ['top left', at(0.05, 0.05)],
    ['top right', at(0.95, 0.05)],
    ['bottom left', at(0.05, 0.95)],
    ['bottom right', at(0.95, 0.95)],
  ] as const;
  return corners.toSorted((a, b) => b[1] - a[1])[0][0];
}

test('what stands behind the end of a picture, in comments and in texts is not handed on', async () => {
  const hidden = Buffer.from('film of a moment: hidden PK\x03\x04 hidden');
  const jpeg = await pictureOf('jpeg');
  const comment = Buffer.concat([Buffer.from([0xff, 0xfe, 0, hidden.length + 2]), hidden]);
  const polyglot = Buffer.concat([jpeg.subarray(0, 2), comment, jpeg.subarray(2), hidden]);
  const png = await pictureOf('png');
  for (const [content, type] of [
    [polyglot, 'image/jpeg'],
    [Buffer.concat([png, hidden]), 'image/png'],
  ] as const) {
    const { file } = await inspectPhoto(content);
    expect(file.type).toBe(type);
    expect(Buffer.from(strippedFile(content, type, 1)).includes('hidden')).toBe(false);
  }
});

test('a progressive JPEG with restarts is handed on whole', async () => {
  const sharp = (await import('sharp')).default;
  const content = await sharp(await pictureOf('jpeg', { width: 640, height: 480 }))
    .jpeg({ progressive: true })
    .toBuffer();
  const served = strippedFile(content, 'image/jpeg', 1);
  expect((await pixelsOf(served)).data.equals((await pixelsOf(content)).data)).toBe(true);
});
