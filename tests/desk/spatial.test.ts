import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Direction, nearest } from '../../src/web/parts/spatial.ts';

const spots = new Map([
  ['U1', [0, 0]],
  ['U2', [10, 1]],
  ['U3', [4, 9]],
  ['U4', [-5, -5]],
] as const);

test('arrow keys go to the nearest thing that way, and stay where there is none', () => {
  expect(nearest(spots, 'U1', 'right')).toBe('U2');
  expect(nearest(spots, 'U1', 'down')).toBe('U3');
  expect(nearest(spots, 'U1', 'left')).toBe('U4');
  expect(nearest(spots, 'U4', 'left')).toBeUndefined();
  expect(nearest(spots, undefined, 'right')).toBe('U4');
  expect(nearest(new Map(), undefined, 'right')).toBeUndefined();
});

// Whoever has no mouse must come to everything: by arrow keys from anywhere to anywhere.
test('every thing can be reached from every other', () => {
  const places = fc.uniqueArray(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 30 })), {
    minLength: 2,
    maxLength: 12,
    selector: ([x, y]) => x * 31 + y,
  });
  fc.assert(
    fc.property(places, (all) => {
      const things = new Map(all.map((spot, i) => [`C${i}`, spot] as const));
      const reached = new Set(['C0']);
      for (const one of reached)
        for (const way of ['left', 'right', 'up', 'down'] as Direction[]) {
          const next = nearest(things, one, way);
          if (next !== undefined) reached.add(next);
        }
      expect(reached.size).toBe(things.size);
    }),
  );
});
