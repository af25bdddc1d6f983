import { constants, crc32, deflateRawSync } from 'node:zlib';

// ZIP files byte by byte after APPNOTE.TXT 6.3.10 (4.3.7 local header, 4.3.12 central directory, 4.3.16 its end), so that they may lie.

export interface RawEntry {
  readonly name: string;
  /** As stored. */
  readonly packed: Buffer;
  /** CRC-32 and size of what it unpacks to. */
  readonly crc: number;
  readonly size: number;
  readonly method?: 0 | 8 | 12;
  readonly flags?: number;
  /** Behind the name in the directory. */
  readonly extra?: Buffer;
}

/** An entry of a text, deflated. */
export function entryOf(name: string, content: string | Buffer, more: Partial<RawEntry> = {}): RawEntry {
  const bytes = Buffer.from(content as string);
  return { name, packed: deflateRawSync(bytes), crc: crc32(bytes), size: bytes.length, method: 8, ...more };
}

/** An entry of one piece many times over, without making what it unpacks to: blocks of deflate that end at bytes (RFC 1951, 3.2.3). */
export function repeated(name: string, head: string, piece: Buffer, times: number, tail = ''): RawEntry {
  const block = (bytes: Buffer) => deflateRawSync(bytes, { finishFlush: constants.Z_FULL_FLUSH, level: 9 });
  const packedPiece = block(piece);
  let crc = crc32(head);
  for (let i = 0; i < times; i++) crc = crc32(piece, crc);
  crc = crc32(tail, crc);
  const packed = Buffer.concat([
    block(Buffer.from(head)),
    ...Array.from({ length: times }, () => packedPiece),
    deflateRawSync(Buffer.from(tail)),
  ]);
  return {
    name,
    packed,
    crc,
    size: Buffer.byteLength(head) + piece.length * times + Buffer.byteLength(tail),
    method: 8,
  };
}

export function handZip(entries: readonly RawEntry[]): Buffer {
  const pieces: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const { name, packed, crc, size, method = 8, flags = 0, extra = Buffer.alloc(0) } of entries) {
    const named = Buffer.from(name);
    const shared = Buffer.alloc(26);
    shared.writeUInt16LE(20, 0);
    shared.writeUInt16LE(flags, 2);
    shared.writeUInt16LE(method, 4);
    shared.writeUInt16LE(0x21, 8);
    shared.writeUInt32LE(crc >>> 0, 10);
    shared.writeUInt32LE(packed.length, 14);
    shared.writeUInt32LE(size, 18);
    shared.writeUInt16LE(named.length, 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), shared, named, packed]);
    const central = Buffer.alloc(14);
    central.writeUInt32LE(offset, 10);
    const behind = Buffer.from(shared);
    behind.writeUInt16LE(extra.length, 24);
    directory.push(
      Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), behind, central, named, extra]),
    );
    pieces.push(local);
    offset += local.length;
  }
  const central = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 0, 'latin1');
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(central.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...pieces, central, end]);
}
