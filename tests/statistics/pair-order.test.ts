import fc from 'fast-check';
import { expect, test } from 'vitest';
import { pairOrder } from '../../src/statistics/pair-order.ts';
import { varianceOfS } from '../../src/statistics/variance-of-s.ts';

const samples = fc.array(fc.tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 6 })), {
  maxLength: 40,
});

test('counts pairs as looking at each of them does', () => {
  fc.assert(
    fc.property(samples, (points) => {
      let [s, tiedX, tiedY] = [0, 0, 0];
      points.forEach(([x, y], at) => {
        for (const [otherX, otherY] of points.slice(at + 1)) {
          s += Math.sign(otherX - x) * Math.sign(otherY - y);
          tiedX += Number(x === otherX);
          tiedY += Number(y === otherY);
        }
      });
      const found = pairOrder(
        points.map(([x]) => x),
        points.map(([, y]) => y),
      );
      expect(found).toMatchObject({ n: points.length, s, tiedX, tiedY });
    }),
    { numRuns: 300 },
  );
});

test('the variance of S is that over all 720 orders of six values, ties in both variables', () => {
  for (const [x, y] of [
    [
      [1, 2, 3, 4, 5, 6],
      [1, 2, 3, 4, 5, 6],
    ],
    [
      [1, 1, 2, 3, 3, 3],
      [5, 5, 7, 7, 7, 8],
    ],
    [
      [1, 1, 1, 1, 2, 2],
      [1, 2, 2, 3, 3, 3],
    ],
  ]) {
    const all = orders(y).map((order) => pairOrder(x, order).s);
    const mean = all.reduce((sum, s) => sum + s, 0) / all.length;
    expect(mean).toBeCloseTo(0, 12);
    const variance = all.reduce((sum, s) => sum + s * s, 0) / all.length;
    expect(varianceOfS(pairOrder(x, y))).toBeCloseTo(variance, 9);
  }
});

function orders(values: readonly number[]): number[][] {
  if (values.length === 0) return [[]];
  return values.flatMap((first, at) => orders(values.toSpliced(at, 1)).map((rest) => [first, ...rest]));
}

test('lists of different length and NaN are refused', () => {
  expect(() => pairOrder([1], [1, 2])).toThrow('1 and 2');
  expect(() => pairOrder([1, 2], [1, Number.NaN])).toThrow('y[1] is NaN');
});
