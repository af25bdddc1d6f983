import fc from 'fast-check';
import { expect, test } from 'vitest';
import { wilson } from '../../src/statistics/proportion.ts';
import { shareBand } from '../../src/statistics/share-band.ts';
import { answered } from './reference.ts';

test('certain members give a plain share with its Wilson interval and no doubt', () => {
  const band = answered(shareBand([1, 1, 1, 0, 0, 0, 0, 0, 0, 0]));
  expect(band).toMatchObject({ n: 10, certain: 3, expected: 3, possible: 3, share: 0.3 });
  expect(band.band).toEqual({ low: 0.3, high: 0.3 });
  expect(band.doubt).toEqual({ low: 0.3, high: 0.3 });
  expect(band.sampling).toEqual(wilson(3, 10));
  expect(band.outer).toEqual(wilson(3, 10));
});

test('doubtful members widen the band; unobserved members never count as a no', () => {
  const band = answered(shareBand([1, 0.97, 0.6, 0.2, 0], { notObserved: 5 }));
  expect(band).toMatchObject({ n: 5, notObserved: 5, certain: 2, possible: 9 });
  expect(band.band).toEqual({ low: 0.2, high: 0.9 });
  expect(band.expected).toBeCloseTo(2.77, 12);
  expect(band.share).toBeCloseTo(2.77 / 5, 12);
});

test('nothing to observe and nothing observed are different results', () => {
  expect(shareBand([])).toEqual({ kind: 'no-data', reason: 'there is nothing to take a share of' });
  expect(shareBand([], { notObserved: 3 })).toEqual({ kind: 'no-data', reason: 'nothing was observed' });
  expect(() => shareBand([1.2])).toThrow('it is 1.2');
});

test('properties: band and intervals are nested, and narrow to a point as doubt goes', () => {
  const many = fc.array(fc.oneof(fc.constantFrom(0, 1), fc.double({ min: 0, max: 1, noNaN: true })), {
    minLength: 1,
    maxLength: 80,
  });
  fc.assert(
    fc.property(many, fc.integer({ min: 0, max: 20 }), (p, notObserved) => {
      const found = answered(shareBand(p, { notObserved, certainFrom: 1 }));
      expect(found.band.low).toBeLessThanOrEqual(found.band.high);
      expect(found.outer.low).toBeLessThanOrEqual(found.band.low);
      expect(found.outer.high).toBeGreaterThanOrEqual(found.band.high);
      expect(found.sampling.low).toBeLessThanOrEqual(found.share + 1e-12);
      expect(found.sampling.high).toBeGreaterThanOrEqual(found.share - 1e-12);
      expect(found.expected).toBeGreaterThanOrEqual(found.certain - 1e-9);
      expect(found.expected).toBeLessThanOrEqual(found.possible - notObserved + 1e-9);
      const settled = answered(shareBand(p.map(Math.round), { certainFrom: 1 }));
      expect(settled.band.low).toBe(settled.band.high);
    }),
    { numRuns: 200 },
  );
});
