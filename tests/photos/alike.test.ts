import { expect, test } from 'vitest';
import { AlikeIndex } from '../../src/photos/alike.ts';
import { areAlike, bitsApart } from '../../src/photos/likeness.ts';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';

type Random = () => number;
const anyHash = (random: Random) =>
  Array.from({ length: 64 }, () => Math.floor(16 * random()).toString(16)).join('');

/** A hash that differs in so many bits. */
function apart(likeness: string, bits: number, random: Random): string {
  const digits = [...likeness].map((digit) => Number.parseInt(digit, 16));
  const places = Array.from({ length: 256 }, (_, i) => i).sort(() => random() - 0.5);
  for (const place of places.slice(0, bits)) digits[place >> 2] ^= 1 << (place & 3);
  return digits.map((digit) => digit.toString(16)).join('');
}

test('the index finds what comparing all with all finds, copies at the very bound among it', () => {
  const random = seededRandom(testSeed());
  const hashes = Array.from({ length: 400 }, () => anyHash(random));
  for (const one of hashes.slice(0, 150))
    for (const bits of [0, 1, 16, 31, 32, 33, 40]) hashes.push(apart(one, bits, random));
  const items = hashes.map((likeness, at) => ({ likeness, at }));
  const index = new AlikeIndex(items);
  let found = 0;
  for (const one of hashes) {
    const near = index.near(one);
    const brute = items.filter(({ likeness }) => areAlike(one, likeness));
    expect(near.map(({ item }) => item.at)).toEqual(brute.map(({ at }) => at));
    for (const { item, bits } of near) expect(bits).toBe(bitsApart(one, item.likeness));
    found += near.length;
  }
  expect(found).toBeGreaterThan(hashes.length + 2 * 5 * 150);
  expect(new AlikeIndex([]).near(hashes[0])).toEqual([]);
});
