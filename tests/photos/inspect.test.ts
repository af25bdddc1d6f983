import { crc32 } from 'node:zlib';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import { areAlike, bitsApart } from '../../src/photos/likeness.ts';
import { blocks, pictureOf, sha256Of } from './pictures.ts';

test('a photo is what its bytes are, whatever the file is called', async () => {
  for (const kind of ['jpeg', 'png', 'webp'] as const) {
    const content = await pictureOf(kind, { width: 321, height: 200, orientation: 6 });
    const { file } = await inspectPhoto(content);
    expect(file).toMatchObject({ type: `image/${kind}`, sha256: sha256Of(content), bytes: content.length });
    expect(file).toMatchObject({ width: 200, height: 321, orientation: 6 });
  }
});

/** A PNG header that claims a size, without the picture. */
function pngOf(width: number, height: number): Buffer {
  const chunk = (type: string, body: Buffer) => {
    const whole = Buffer.concat([Buffer.alloc(4), Buffer.from(type, 'latin1'), body, Buffer.alloc(4)]);
    whole.writeUInt32BE(body.length, 0);
    whole.writeUInt32BE(crc32(whole.subarray(4, -4)), whole.length - 4);
    return whole;
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([
    signature,
    chunk('IHDR', head),
    chunk('IDAT', Buffer.alloc(20)),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

const refused = async (content: Uint8Array, why: RegExp) =>
  expect(inspectPhoto(content)).rejects.toMatchObject({
    code: 'BAD_INPUT',
    message: expect.stringMatching(why),
  });

test('what is no photo is refused with what it seems to be', async () => {
  await refused(Buffer.from(''), /empty/u);
  await refused(
    Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><image href="/etc/passwd"/></svg>'),
    /SVG drawing/u,
  );
  await refused(Buffer.from('\ufeff<?xml version="1.0"?><svg/>'), /SVG drawing/u);
  await refused(Buffer.from('GIF89a\x01\x00\x01\x00'), /GIF/u);
  await refused(Buffer.from('%PDF-1.7 and more'), /PDF/u);
  await refused(Buffer.from('II*\0and more than that'), /TIFF/u);
  await refused(Buffer.from('just a text that goes on'), /no kind that is known/u);
});

test('a picture that claims more pixels than may be is refused by its header', async () => {
  await refused(pngOf(30_000, 30_000), /900 megapixels/u);
  await refused(pngOf(2 ** 31 - 1, 2), /megapixels|cannot be read/u);
  await refused(pngOf(0, 10), /cannot be read/u);
});

test('a photo that is cut off anywhere is refused', async () => {
  for (const kind of ['jpeg', 'png', 'webp'] as const) {
    const content = await pictureOf(kind);
    for (const share of [0.02, 0.1, 0.5, 0.9, 0.99]) {
      const cut = content.subarray(0, Math.floor(content.length * share));
      await expect(inspectPhoto(cut), `${kind} ${share}`).rejects.toMatchObject({ code: 'BAD_INPUT' });
    }
  }
});

test('an animation is no photo', async () => {
  const frames = Buffer.concat([blocks(64, 64, 1), blocks(64, 64, 2)]);
  const content = await sharp(frames, { raw: { width: 64, height: 128, channels: 3, pageHeight: 64 } })
    .webp({ loop: 0, delay: [100, 100] })
    .toBuffer();
  await refused(content, /animation/u);
});

test('copies of a picture are alike and other pictures are not', async () => {
  const original = await pictureOf('jpeg', { width: 800, height: 500, seed: 3 });
  const likeness = async (content: Uint8Array) => (await inspectPhoto(content)).file.likeness;
  const own = await likeness(original);
  expect(own).toMatch(/^[0-9a-f]{64}$/u);
  for (const copy of [
    sharp(original).resize(400).jpeg({ quality: 40 }),
    sharp(original).modulate({ brightness: 1.15 }).png(),
    sharp(original).webp({ quality: 60 }),
    sharp(original).blur(1.5).jpeg(),
  ])
    expect(areAlike(own, await likeness(await copy.toBuffer()))).toBe(true);
  for (const seed of [4, 5, 7, 11, 13])
    expect(areAlike(own, await likeness(await pictureOf('jpeg', { width: 800, height: 500, seed })))).toBe(
      false,
    );
  expect(bitsApart('f'.repeat(64), '0'.repeat(64))).toBe(256);
  expect(bitsApart(own, own)).toBe(0);
});

test('which way a picture is turned is read as the decoder has it, wherever and however it is written', async () => {
  for (const kind of ['jpeg', 'png', 'webp'] as const)
    for (let orientation = 1; orientation <= 8; orientation++) {
      const content = await pictureOf(kind, { width: 64, height: 48, orientation });
      const { orientation: told = 1 } = await sharp(content).metadata();
      expect((await inspectPhoto(content)).file.orientation, `${kind} ${orientation}`).toBe(told);
      expect(told).toBe(orientation);
    }
});
