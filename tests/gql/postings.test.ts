import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Postings } from '../../src/gql/index/postings.ts';

// Dense and sparse ones, below and above what makes a bitmap of a list, against a Set.
test('postings hold what a set holds after any adding and deleting', () => {
  const operations = (most: number) =>
    fc.array(fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: most })), { maxLength: 400 });
  fc.assert(
    fc.property(
      fc.constantFrom(20, 300, 5000, 100_000).chain((most) => fc.tuple(fc.constant(most), operations(most))),
      fc.integer({ min: 0, max: 200 }),
      ([most, changes], run) => {
        const postings = new Postings();
        const set = new Set<number>();
        const add = (segment: number) => {
          postings.add(segment);
          set.add(segment);
        };
        // As when segments are put one after another, each with several occurrences.
        for (let i = 0; i < run; i++) {
          add(i);
          add(i);
        }
        for (const [what, segment] of changes) {
          if (what > 0) add(segment);
          else {
            postings.delete(segment);
            set.delete(segment);
          }
        }
        expect(postings.size).toBe(set.size);
        const bits = new Uint32Array((most >>> 5) + 8);
        postings.orInto(bits);
        const found: number[] = [];
        for (let segment = 0; segment < bits.length * 32; segment++) {
          const isSet = ((bits[segment >>> 5]! >>> (segment & 31)) & 1) === 1;
          if (isSet !== postings.has(segment)) expect.fail(`has(${segment}) is ${!isSet}, its bit ${isSet}`);
          if (isSet) found.push(segment);
        }
        expect(found).toEqual([...set].sort((a, b) => a - b));
      },
    ),
    { numRuns: 200 },
  );
});
