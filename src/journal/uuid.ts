import { randomFillSync } from 'node:crypto';

/**
 * UUID version 7 (RFC 9562, section 5.7): 48 bits of Unix milliseconds, the rest random.
 * @param random 16 bytes, of which 74 bits are used
 */
export function uuidVersion7(milliseconds: number, random = randomFillSync(Buffer.alloc(16))): string {
  const bytes = Buffer.from(random);
  bytes.writeUIntBE(milliseconds, 0, 6);
  bytes[6] = 0x70 | (bytes[6] & 0x0f);
  bytes[8] = 0x80 | (bytes[8] & 0x3f);
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** The Unix milliseconds in a UUID version 7, or undefined for any other text. */
export function millisecondsOf(uuid: string): number | undefined {
  const fields = /^([0-9a-f]{8})-([0-9a-f]{4})-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/u.exec(uuid);
  return fields ? Number.parseInt(fields[1] + fields[2], 16) : undefined;
}
