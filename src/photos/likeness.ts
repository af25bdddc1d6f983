import { upright } from './decoder.ts';

/** Side of the square that a picture is scaled to, cells. */
const SIDE = 64;
/** Lowest frequencies in each direction that the hash is of. */
const FREQUENCIES = 16;
/** Bits of a hash. */
export const HASH_BITS = FREQUENCIES ** 2;
/** Bits in which copies of one picture differ at most, an eighth of all: scaled, compressed, brightened, a little blurred. */
export const MOST_BITS_APART = HASH_BITS / 8;

/** `COSINES[u][x]` = cos((2x + 1) u π / 2N): the discrete cosine transform (Ahmed, Natarajan, Rao 1974), without its factors. */
const COSINES = Array.from({ length: FREQUENCIES + 1 }, (_, u) =>
  Array.from({ length: SIDE }, (_one, x) => Math.cos(((2 * x + 1) * u * Math.PI) / (2 * SIDE))),
);

/**
 * Perceptual hash of a picture: which of its 16 × 16 lowest frequencies, without the mean, are above their median (the method of Zauner,
 * "Implementation and Benchmarking of Perceptual Image Hash Functions", 2010, section 3.2.1, on more frequencies). Copies differ in few
 * bits, whatever their size, compression, brightness and contrast.
 * @returns 64 hexadecimal digits
 */
export async function likenessOf(content: Uint8Array): Promise<string> {
  const { data } = await upright(content)
    .flatten({ background: '#fff' })
    .greyscale()
    .resize(SIDE, SIDE, { fit: 'fill' })
    .raw()
    .toBuffer({ resolveWithObject: true });
  const step = data.length / SIDE ** 2;
  // Rows first, then columns.
  const rows = Array.from({ length: SIDE }, (_, y) =>
    COSINES.map((cosines) =>
      cosines.reduce((sum, cosine, x) => sum + cosine * data[(y * SIDE + x) * step], 0),
    ),
  );
  const frequencies = [];
  for (let v = 1; v <= FREQUENCIES; v++)
    for (let u = 1; u <= FREQUENCIES; u++)
      frequencies.push(COSINES[v].reduce((sum, cosine, y) => sum + cosine * rows[y][u], 0));
  const sorted = frequencies.toSorted((a, b) => a - b);
  const median = (sorted[sorted.length / 2 - 1] + sorted[sorted.length / 2]) / 2;
  const bits = frequencies.map((one) => (one > median ? '1' : '0')).join('');
  return bits.replace(/.{4}/gu, (four) => Number.parseInt(four, 2).toString(16));
}

/** Whether two pictures are so alike that one is likely a copy of the other, by their hashes. */
export function areAlike(one: string, other: string): boolean {
  return bitsApart(one, other) <= MOST_BITS_APART;
}

/** Number of bits in which two hashes differ. */
export function bitsApart(one: string, other: string): number {
  let count = 0;
  for (let at = 0; at < one.length; at += 8)
    count += ones(Number.parseInt(one.slice(at, at + 8), 16) ^ Number.parseInt(other.slice(at, at + 8), 16));
  return count;
}

/** Ones among 32 bits (Warren, Hacker's Delight, section 5-1). */
export function ones(word: number): number {
  let bits = word - ((word >>> 1) & 0x55555555);
  bits = (bits & 0x33333333) + ((bits >>> 2) & 0x33333333);
  return Math.imul((bits + (bits >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
