import { crc32, deflateRawSync, deflateSync, gzipSync } from 'node:zlib';
import { seededRandom } from '../bench/generate.ts';
import { pictureOf } from './pictures.ts';

// Files that somebody may send as a photo to bring a service down, or to smuggle something in. All are made here, from the formats as
// they are specified: ITU-T T.81 (JPEG), PNG (third edition), RFC 9649 (WebP), Exif 2.32, APPNOTE.TXT 6.3.10 (ZIP).

export interface HostilePhoto {
  readonly name: string;
  /** What kind of attack it is; a few of each are tried in every run. */
  readonly kind: 'bomb' | 'other kind' | 'polyglot' | 'cut off' | 'lies' | 'metadata';
  make(): Buffer | Promise<Buffer>;
  /** `taken` for a picture that is odd and a picture all the same; `either` where decoders may differ. */
  readonly outcome: 'refused' | 'taken' | 'either';
}

const latin = (text: string) => Buffer.from(text, 'latin1');
const u16 = (value: number) => Buffer.from([value >> 8, value & 255]);
const u32 = (value: number) => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value >>> 0);
  return bytes;
};
const le32 = (value: number) => u32(value).reverse();

// JPEG ---------------------------------------------------------------------------------------------------------------------------------

const segment = (marker: number, ...body: readonly Buffer[]) => {
  const whole = Buffer.concat(body);
  return Buffer.concat([Buffer.from([0xff, marker]), u16(whole.length + 2), whole]);
};
const SOI = Buffer.from([0xff, 0xd8]);
const EOI = Buffer.from([0xff, 0xd9]);
const DQT = segment(0xdb, Buffer.from([0]), Buffer.alloc(64, 1));
const frame = (marker: number, width: number, height: number, precision = 8) =>
  segment(marker, Buffer.from([precision]), u16(height), u16(width), Buffer.from([1, 1, 0x11, 0]));
/** A Huffman table with one code of one bit. */
const table = (kind: number, symbol: number) =>
  segment(0xc4, Buffer.from([kind, 1, ...Array<number>(15).fill(0), symbol]));
const scan = (from: number, to: number, approximation = 0) =>
  segment(0xda, Buffer.from([1, 1, 0, from, to, approximation]));

/** A grey picture of which each block takes two bits. */
function greyJpeg(width: number, height: number, share = 1): Buffer {
  const blocks = Math.ceil(width / 8) * Math.ceil(height / 8);
  return Buffer.concat([
    SOI,
    DQT,
    frame(0xc0, width, height),
    table(0, 0),
    table(0x10, 0),
    scan(0, 63),
    Buffer.alloc(Math.ceil((blocks / 4) * share)),
    EOI,
  ]);
}

/** A progressive picture that goes over its blocks again and again. */
function manyScans(width: number, height: number, scans: number): Buffer {
  const blocks = Math.ceil(width / 8) * Math.ceil(height / 8);
  // Each run of 16,384 blocks without anything takes 15 bits (T.81, G.1.2.2).
  const again = Buffer.concat([scan(1, 63, 0), Buffer.alloc(Math.ceil((blocks / 16_384) * 2) + 2)]);
  return Buffer.concat([
    SOI,
    DQT,
    frame(0xc2, width, height),
    table(0, 0),
    table(0x10, 0xe0),
    scan(0, 0),
    Buffer.alloc(Math.ceil(blocks / 8)),
    ...Array<Buffer>(scans - 1).fill(again),
    EOI,
  ]);
}

const withSegment = (jpeg: Buffer, marker: number, body: Buffer) =>
  Buffer.concat([jpeg.subarray(0, 2), segment(marker, body), jpeg.subarray(2)]);

// PNG ----------------------------------------------------------------------------------------------------------------------------------

const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const chunk = (type: string, body: Buffer = Buffer.alloc(0)) => {
  const named = Buffer.concat([latin(type), body]);
  return Buffer.concat([u32(body.length), named, u32(crc32(named))]);
};
const ihdr = (width: number, height: number, depth = 8, colour = 0, interlace = 0) =>
  chunk('IHDR', Buffer.concat([u32(width), u32(height), Buffer.from([depth, colour, 0, 0, interlace])]));
const png = (...chunks: readonly Buffer[]) => Buffer.concat([SIGNATURE, ...chunks, chunk('IEND')]);
/** A black picture; rows of passes are a little more than those of the picture when it is interlaced. */
const blackPng = (width: number, height: number, depth = 8, interlace = 0) => {
  const row = Math.ceil((width * depth) / 8) + 1;
  return png(
    ihdr(width, height, depth, 0, interlace),
    chunk('IDAT', deflateSync(Buffer.alloc(row * height * (interlace ? 1.3 : 1)), { level: 9 })),
  );
};
const betweenHeaderAndData = (content: Buffer, added: Buffer) =>
  Buffer.concat([content.subarray(0, 33), added, content.subarray(33)]);

// WebP ---------------------------------------------------------------------------------------------------------------------------------

const part = (type: string, body: Buffer) =>
  Buffer.concat([latin(type), le32(body.length), body, Buffer.alloc(body.length % 2)]);
const webp = (...parts: readonly Buffer[]) => {
  const body = Buffer.concat([latin('WEBP'), ...parts]);
  return Buffer.concat([latin('RIFF'), le32(body.length), body]);
};
const vp8x = (width: number, height: number, flags: number) => {
  const body = Buffer.alloc(10);
  body[0] = flags;
  body.writeUIntLE(width - 1, 4, 3);
  body.writeUIntLE(height - 1, 7, 3);
  return part('VP8X', body);
};
const vp8l = (width: number, height: number) => {
  const body = Buffer.alloc(40);
  body[0] = 0x2f;
  body.writeUInt32LE(((width - 1) | ((height - 1) << 14)) >>> 0, 1);
  return part('VP8L', body);
};

// Others -------------------------------------------------------------------------------------------------------------------------------

/** A ZIP with one file. */
function zip(content: Buffer, name = 'a.txt'): Buffer {
  const packed = deflateRawSync(content, { level: 9 });
  const common = Buffer.concat([
    Buffer.from([20, 0, 0, 0, 8, 0, 0, 0, 0, 0]),
    le32(crc32(content)),
    le32(packed.length),
    le32(content.length),
    Buffer.from([name.length, 0, 0, 0]),
  ]);
  const local = Buffer.concat([latin('PK\x03\x04'), common, latin(name), packed]);
  const central = Buffer.concat([latin('PK\x01\x02\x14\x00'), common, Buffer.alloc(14), latin(name)]);
  const end = Buffer.concat([
    latin('PK\x05\x06'),
    Buffer.from([0, 0, 0, 0, 1, 0, 1, 0]),
    le32(central.length),
    le32(local.length),
    Buffer.alloc(2),
  ]);
  return Buffer.concat([local, central, end]);
}

/** Exif data with a directory of as many entries, each of them anything. */
function exif(entries: readonly Buffer[], next = 0): Buffer {
  return Buffer.concat([latin('MM\0*'), u32(8), u16(entries.length), ...entries, u32(next)]);
}
const entry = (tag: number, type: number, count: number, value: Buffer) =>
  Buffer.concat([u16(tag), u16(type), u32(count), value]);
const inApp1 = (tiff: Buffer) => Buffer.concat([latin('Exif\0\0'), tiff]);

const HTML = latin('<!doctype html><html><script>alert(1)</script></html>');
const photo = (kind: 'jpeg' | 'png' | 'webp') => pictureOf(kind, { width: 240, height: 160 });

type Made = Pick<HostilePhoto, 'name' | 'make'>;
const refused = (kind: HostilePhoto['kind'], name: string, make: Made['make']): HostilePhoto => ({
  name,
  kind,
  make,
  outcome: 'refused',
});
const odd = (
  kind: HostilePhoto['kind'],
  name: string,
  outcome: HostilePhoto['outcome'],
  make: Made['make'],
): HostilePhoto => ({ name, kind, make, outcome });

const BOMBS: readonly HostilePhoto[] = [
  refused('bomb', 'ZIP that unpacks to 32 MB, as .jpg', () => zip(Buffer.alloc(32 * 2 ** 20))),
  refused('bomb', 'gzip that unpacks to 32 MB', () => gzipSync(Buffer.alloc(32 * 2 ** 20), { level: 9 })),
  refused('bomb', 'PNG of 60,000 × 60,000 in 100 kB', () =>
    png(ihdr(60_000, 60_000, 1), chunk('IDAT', deflateSync(Buffer.alloc(90 * 2 ** 20), { level: 9 }))),
  ),
  refused('bomb', 'PNG of 2,147,483,647 × 2', () =>
    png(ihdr(2 ** 31 - 1, 2), chunk('IDAT', Buffer.alloc(20))),
  ),
  refused('bomb', 'PNG, interlaced, of 12,000 × 12,000', () => blackPng(12_000, 12_000, 1, 1)),
  odd('bomb', 'PNG, interlaced, of 7,900 × 7,900', 'taken', () => blackPng(7_900, 7_900, 1, 1)),
  odd('bomb', 'PNG of 12,000 × 12,000', 'taken', () => blackPng(12_000, 12_000, 1)),
  refused('bomb', 'PNG of 5 million empty chunks', () =>
    png(ihdr(64, 64), Buffer.concat(Array<Buffer>(5_000_000).fill(chunk('IDAT')))),
  ),
  refused('bomb', 'PNG whose colour profile unpacks to 64 MB', async () =>
    betweenHeaderAndData(
      await photo('png'),
      chunk('iCCP', Buffer.concat([latin('a\0\0'), deflateSync(Buffer.alloc(64 * 2 ** 20), { level: 9 })])),
    ),
  ),
  odd('bomb', 'PNG whose compressed text unpacks to 64 MB', 'taken', async () =>
    betweenHeaderAndData(
      await photo('png'),
      chunk('zTXt', Buffer.concat([latin('a\0\0'), deflateSync(Buffer.alloc(64 * 2 ** 20), { level: 9 })])),
    ),
  ),
  odd('bomb', 'PNG of a thousand texts that unpack to 1 MB each', 'taken', async () => {
    const body = Buffer.concat([latin('a\0\x01\0\0\0'), deflateSync(Buffer.alloc(2 ** 20), { level: 9 })]);
    return betweenHeaderAndData(
      await photo('png'),
      Buffer.concat(Array<Buffer>(1_000).fill(chunk('iTXt', body))),
    );
  }),
  refused('bomb', 'JPEG header of 30,000 × 30,000', () => greyJpeg(30_000, 30_000, 0.001)),
  refused('bomb', 'JPEG of 30,000 × 30,000', () => greyJpeg(30_000, 30_000)),
  refused('bomb', 'JPEG of 65,535 × 65,535', () => greyJpeg(65_535, 65_535, 0.01)),
  odd('bomb', 'JPEG of 12,000 × 12,000', 'taken', () => greyJpeg(12_000, 12_000)),
  refused('bomb', 'JPEG of 1,000 scans', () => manyScans(4_000, 4_000, 1_000)),
  refused('bomb', 'JPEG of 90 scans of 60 megapixels', () => manyScans(7_700, 7_700, 90)),
  refused('bomb', 'JPEG, progressive, of 12,000 × 12,000', () => manyScans(12_000, 12_000, 2)),
  odd('bomb', 'JPEG of 60 scans of 16 megapixels', 'either', () => manyScans(4_000, 4_000, 60)),
  refused('bomb', 'JPEG of 8 million segments', () =>
    Buffer.concat([SOI, Buffer.alloc(32 * 2 ** 20, Buffer.from([0xff, 0xdb, 0, 2])), EOI]),
  ),
  refused('bomb', 'JPEG of 32 MB of stuffed bytes', () =>
    Buffer.concat([greyJpeg(64, 64).subarray(0, -2), Buffer.alloc(32 * 2 ** 20, Buffer.from([0xff, 0]))]),
  ),
  refused('bomb', 'JPEG of 60 MB of fill bytes', () =>
    Buffer.concat([SOI, Buffer.alloc(60 * 2 ** 20, 0xff)]),
  ),
  refused('bomb', 'WebP of 16,383 × 16,383', () => webp(vp8l(16_383, 16_383))),
  refused('bomb', 'WebP that says 16,777,216 × 16,777,216', () =>
    webp(vp8x(2 ** 24, 2 ** 24, 0), vp8l(16, 16)),
  ),
  refused('bomb', 'WebP of 10,000 frames', () => {
    const one = part('ANMF', Buffer.concat([Buffer.alloc(16), vp8l(16, 16)]));
    return webp(
      vp8x(16, 16, 2),
      part('ANIM', Buffer.alloc(6)),
      Buffer.concat(Array<Buffer>(10_000).fill(one)),
    );
  }),
  refused('bomb', 'WebP of a million parts', () =>
    webp(Buffer.concat(Array<Buffer>(1_000_000).fill(part('XXXX', Buffer.alloc(0))))),
  ),
  refused('bomb', '64 MB and 1 byte', () => {
    const content = Buffer.alloc(64 * 2 ** 20 + 1);
    greyJpeg(64, 64).copy(content);
    return content;
  }),
];

const OTHERS: readonly HostilePhoto[] = (
  [
    ['nothing', ''],
    ['one byte', '\xff'],
    ['two bytes of a JPEG', '\xff\xd8'],
    ['SVG', '<svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/passwd"/></svg>'],
    [
      'SVG behind a declaration',
      '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]><svg>&a;</svg>',
    ],
    ['HTML', HTML.toString('latin1')],
    ['PDF', '%PDF-1.7\n1 0 obj<</Type/Catalog>>endobj'],
    ['PDF that goes on as a JPEG', '%PDF-1.7\n\xff\xd8\xff\xe0'],
    ['TIFF', 'II*\0\x08\0\0\0\0\0\0\0\0\0'],
    ['TIFF, other order', 'MM\0*\0\0\0\x08\0\0\0\0\0\0'],
    ['GIF', 'GIF89a\x10\0\x10\0\0\0\0;'],
    ['AVIF', '\0\0\0\x1cftypavif\0\0\0\0avifmif1miaf'],
    ['HEIC', '\0\0\0\x18ftypheic\0\0\0\0mif1heic'],
    ['BMP', 'BM\x36\0\0\0\0\0\0\0\x36\0\0\0'],
    ['JPEG XL', '\xff\x0a\xfa\xff\x01\x90\x01\0'],
    ['JPEG 2000', '\0\0\0\x0cjP  \r\n\x87\n\0\0\0\x14ftypjp2 '],
    ['PSD', '8BPS\0\x01\0\0\0\0\0\0\0\x03\0\0\0\x10\0\0\0\x10\0\x08\0\x03'],
    ['ICO', '\0\0\x01\0\x01\0\x10\x10\0\0\x01\0\x20\0'],
    ['ELF', '\x7fELF\x02\x01\x01\0\0\0\0\0\0\0\0\0'],
    ['PostScript', '%!PS-Adobe-3.0\n(/etc/passwd) (r) file'],
    ['RIFF that is sound', 'RIFF\x24\0\0\0WAVEfmt '],
    ['text', 'just a text that goes on and on and on'],
  ] as const
).map(([name, content]) => refused('other kind', name, () => latin(content)));

const POLYGLOTS: readonly HostilePhoto[] = [
  refused('polyglot', 'JPEG that is a ZIP', async () => Buffer.concat([await photo('jpeg'), zip(HTML)])),
  refused('polyglot', 'PNG that is a ZIP', async () => Buffer.concat([await photo('png'), zip(HTML)])),
  refused('polyglot', 'WebP that is a ZIP', async () => Buffer.concat([await photo('webp'), zip(HTML)])),
  refused('polyglot', 'PNG that is a page', async () => Buffer.concat([await photo('png'), HTML])),
  refused('polyglot', 'JPEG that is a script', async () =>
    Buffer.concat([await photo('jpeg'), latin('<?php system($_GET["a"]); ?>')]),
  ),
  refused('polyglot', 'GIF that is a Java archive', () =>
    Buffer.concat([latin('GIF89a\x10\0\x10\0\0\0\0;'), zip(latin('class'), 'A.class')]),
  ),
  odd('polyglot', 'JPEG with a page in a comment', 'taken', async () =>
    withSegment(await photo('jpeg'), 0xfe, HTML),
  ),
  odd('polyglot', 'PNG with a page in a text', 'taken', async () =>
    betweenHeaderAndData(await photo('png'), chunk('tEXt', Buffer.concat([latin('Comment\0'), HTML]))),
  ),
];

const LIES: readonly HostilePhoto[] = [
  refused('lies', 'PNG whose header has a wrong CRC', async () => changed(await photo('png'), 30, 1)),
  refused('lies', 'PNG whose data have a wrong CRC', async () => {
    const content = await photo('png');
    return changed(content, content.lastIndexOf('IEND') - 6, 1);
  }),
  refused('lies', 'PNG whose chunk says 2,147,483,647 bytes', async () => {
    const content = Buffer.from(await photo('png'));
    content.writeUInt32BE(2 ** 31 - 1, 33);
    return content;
  }),
  refused('lies', 'PNG whose chunk says 4,294,967,295 bytes', async () => {
    const content = Buffer.from(await photo('png'));
    content.writeUInt32BE(2 ** 32 - 1, 33);
    return content;
  }),
  refused('lies', 'PNG without data', () => png(ihdr(64, 64))),
  refused('lies', 'PNG whose data are no deflate', () =>
    png(ihdr(64, 64), chunk('IDAT', Buffer.alloc(500, 7))),
  ),
  refused('lies', 'PNG whose data end early', () =>
    png(ihdr(640, 640), chunk('IDAT', deflateSync(Buffer.alloc(641 * 100)))),
  ),
  refused('lies', 'PNG of width 0', () => png(ihdr(0, 64), chunk('IDAT', deflateSync(Buffer.alloc(64))))),
  refused('lies', 'PNG of a depth that there is not', () =>
    png(ihdr(64, 64, 3), chunk('IDAT', deflateSync(Buffer.alloc(65 * 64)))),
  ),
  refused('lies', 'PNG with a palette that is missing', () =>
    png(ihdr(64, 64, 8, 3), chunk('IDAT', deflateSync(Buffer.alloc(65 * 64)))),
  ),
  refused('lies', 'JPEG whose segment goes beyond the end', async () => {
    const content = await photo('jpeg');
    return Buffer.concat([
      content.subarray(0, 2),
      Buffer.from([0xff, 0xdb, 0xff, 0xff]),
      content.subarray(2),
    ]);
  }),
  refused('lies', 'JPEG with a segment of length 0', async () => {
    const content = await photo('jpeg');
    return Buffer.concat([content.subarray(0, 2), Buffer.from([0xff, 0xe0, 0, 0]), content.subarray(2)]);
  }),
  refused('lies', 'JPEG without a scan', () => Buffer.concat([SOI, DQT, frame(0xc0, 64, 64), EOI])),
  refused('lies', 'JPEG without a frame', () =>
    Buffer.concat([SOI, DQT, table(0, 0), table(0x10, 0), scan(0, 63), Buffer.alloc(16), EOI]),
  ),
  refused('lies', 'JPEG of height 0', () => greyJpeg(64, 0)),
  refused('lies', 'JPEG whose tables are missing', () =>
    Buffer.concat([SOI, frame(0xc0, 64, 64), scan(0, 63), Buffer.alloc(16), EOI]),
  ),
  odd('lies', 'JPEG of 12 bits', 'either', () =>
    Buffer.concat([
      SOI,
      DQT,
      frame(0xc1, 64, 64, 12),
      table(0, 0),
      table(0x10, 0),
      scan(0, 63),
      Buffer.alloc(16),
      EOI,
    ]),
  ),
  odd('lies', 'JPEG that is coded arithmetically', 'either', () =>
    Buffer.concat([SOI, DQT, frame(0xc9, 64, 64), scan(0, 63), Buffer.alloc(16), EOI]),
  ),
  refused('lies', 'WebP that says that it is longer', async () => {
    const content = Buffer.from(await photo('webp'));
    content.writeUInt32LE(content.length + 100, 4);
    return content;
  }),
  refused('lies', 'WebP whose part says that it is longer', async () => {
    const content = Buffer.from(await photo('webp'));
    content.writeUInt32LE(2 ** 31, 16);
    return content;
  }),
  refused('lies', 'WebP without anything', () => webp()),
  refused('lies', 'WebP whose sizes differ', () => webp(vp8x(4_000, 4_000, 0), vp8l(16, 16))),
];

const METADATA: readonly HostilePhoto[] = [
  odd('metadata', 'Exif that leads back to itself', 'taken', async () =>
    withSegment(await photo('jpeg'), 0xe1, inApp1(exif([entry(0x8769, 4, 1, u32(8))], 8))),
  ),
  odd('metadata', 'Exif of 5,000 entries that all lead elsewhere', 'taken', async () =>
    withSegment(
      await photo('jpeg'),
      0xe1,
      inApp1(exif(Array<Buffer>(5_000).fill(entry(0x927c, 7, 2 ** 32 - 1, u32(2 ** 32 - 8))))),
    ),
  ),
  odd('metadata', 'Exif that begins beyond its end', 'taken', async () =>
    withSegment(await photo('jpeg'), 0xe1, inApp1(Buffer.concat([latin('II*\0'), le32(2 ** 32 - 1)]))),
  ),
  odd('metadata', 'Exif that is turned as 9,999', 'taken', async () =>
    withSegment(
      await photo('jpeg'),
      0xe1,
      inApp1(exif([entry(0x0112, 3, 1, Buffer.concat([u16(9_999), u16(0)]))])),
    ),
  ),
  odd('metadata', 'PNG with 10 MB of Exif', 'taken', async () =>
    betweenHeaderAndData(await photo('png'), chunk('eXIf', Buffer.alloc(10 * 2 ** 20, 'MM\0*'))),
  ),
];

function changed(content: Buffer, at: number, by: number): Buffer {
  const copy = Buffer.from(content);
  copy[at] ^= by;
  return copy;
}

/** All of them; photos that are cut off are cut at places that a seed decides. */
export function hostilePhotos(seed: number): readonly HostilePhoto[] {
  const random = seededRandom(seed);
  const cut = (['jpeg', 'png', 'webp'] as const).flatMap((kind) =>
    Array.from({ length: 5 }, () => {
      const share = random() * 0.995;
      return refused('cut off', `${kind} cut off after ${(100 * share).toFixed(1)} %`, async () => {
        const content = await photo(kind);
        return content.subarray(0, Math.floor(content.length * share));
      });
    }),
  );
  return [...BOMBS, ...OTHERS, ...POLYGLOTS, ...cut, ...LIES, ...METADATA];
}
