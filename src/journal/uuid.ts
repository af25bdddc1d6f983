import { randomFillSync } from 'node:crypto';
import { v7 } from 'uuid';

/**
 * UUID version 7 (RFC 9562, section 5.7): 48 bits of Unix milliseconds, the rest random.
 * @param random 16 bytes, of which 74 bits are used
 */
export function uuidVersion7(milliseconds: number, random: Uint8Array = drawn()): string {
  return v7({ msecs: milliseconds, seq: leadingBits(random), random });
}

/** The last id given, so that one given in the same millisecond comes after it in order (section 6.2, method 1). */
let last = { milliseconds: -1, counter: 0 };

/** A UUID version 7 that comes after those given before it in this process for the same or earlier milliseconds. */
export function nextUuid(milliseconds: number): string {
  const random = drawn();
  // The highest bit stays free, so that counting on does not run over.
  const counter = milliseconds === last.milliseconds ? last.counter + 1 : leadingBits(random) >>> 1;
  last = { milliseconds, counter };
  return v7({ msecs: milliseconds, seq: counter, random });
}

/** The Unix milliseconds in a UUID version 7, or undefined for any other text. */
export function millisecondsOf(uuid: string): number | undefined {
  const fields = /^([0-9a-f]{8})-([0-9a-f]{4})-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/u.exec(uuid);
  return fields ? Number.parseInt(fields[1] + fields[2], 16) : undefined;
}

function drawn(): Uint8Array {
  return randomFillSync(new Uint8Array(16));
}

/** The first 32 random bits where they stand in the id: behind the version, then behind the variant. */
function leadingBits(random: Uint8Array): number {
  const high = ((random[6] & 0x0f) << 8) | random[7];
  const low = ((random[8] & 0x3f) << 14) | (random[9] << 6) | (random[10] >> 2);
  return ((high << 20) | low) >>> 0;
}
