import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { outlineSchema, type Ring } from '../../src/model/board.ts';
import { cornersOfBody, gapBetween, gapOfBodies } from '../../src/model/body.ts';
import { areaOf, depthInside, distanceOff, extentOf, type Point } from '../../src/model/outline.ts';

const disc = (radius: number, [x, y]: Point = [0, 0]): Ring => [
  { to: [x + radius, y], through: [x, y - radius] },
  { to: [x - radius, y], through: [x, y + radius] },
];

describe('an outline', () => {
  test('of two arcs is a circle: area and extent by the formulas of the circle', () => {
    for (const radius of [0.5, 3, 19.25]) {
      const outline = { points: disc(radius, [40, -7]) };
      // Chords lie at most 0.005 mm inside.
      expect(areaOf(outline)).toBeLessThan(Math.PI * radius ** 2);
      expect(areaOf(outline)).toBeGreaterThan(Math.PI * (radius - 0.005) ** 2);
      const { left, bottom, length, width } = extentOf(outline);
      expect([left, bottom, length, width].map((one) => Math.round(one * 50) / 50)).toEqual(
        [40 - radius, -7 - radius, 2 * radius, 2 * radius].map((one) => Math.round(one * 50) / 50),
      );
    }
  });

  test('of a stadium with a slot and a round hole: area by hand', () => {
    const outline = outlineSchema.parse({
      points: [
        [0, 0],
        [20, 0],
        { to: [20, 10], through: [25, 5] },
        [0, 10],
        { to: [0, 0], through: [-5, 5] },
      ],
      holes: [
        { centre: [3, 5], diameter: 2 },
        {
          points: [
            [10, 4],
            [14, 4],
            [14, 5],
            [10, 5],
          ],
        },
      ],
    });
    expect(areaOf(outline)).toBeCloseTo(200 + Math.PI * 25 - Math.PI - 4, 0);
    expect(distanceOff(outline, [24.5, 5])).toBe(0);
    // Off the arc about (20, 5) of radius 5, and inside the hole about (3, 5) of radius 1.
    expect(distanceOff(outline, [24, 9])).toBeCloseTo(Math.hypot(4, 4) - 5, 1);
    expect(distanceOff(outline, [3.25, 5])).toBeCloseTo(0.75, 1);
    expect(distanceOff(outline, [-7, 5])).toBeCloseTo(2, 2);
    expect(depthInside(outline, [12, 2.5])).toBeCloseTo(1.5, 6);
    expect(depthInside(outline, [24.5, 9])).toBe(0);
  });

  test('goes round an arc by way of its middle point, whichever way that is', () => {
    const bulge = areaOf({ points: [[0, 0], [10, 0], { to: [0, 0], through: [5, 5] }] });
    const dent = areaOf({ points: [[0, 0], [10, 0], [10, 8], { to: [0, 8], through: [5, 3] }] });
    expect(bulge).toBeCloseTo((Math.PI * 25) / 2, 1);
    expect(dent).toBeCloseTo(80 - (Math.PI * 25) / 2, 1);
  });

  test('needs three corners, or two with an arc', () => {
    expect(
      outlineSchema.safeParse({
        points: [
          [0, 0],
          [1, 0],
        ],
      }).success,
    ).toBe(false);
    expect(outlineSchema.safeParse({ points: disc(1) }).success).toBe(true);
  });
});

describe('the gap between two bodies', () => {
  const body = fc.record({
    at: fc.record({
      x: fc.double({ min: -20, max: 20, noNaN: true }),
      y: fc.double({ min: -20, max: 20, noNaN: true }),
    }),
    side: fc.constantFrom('top' as const, 'bottom' as const),
    rotation: fc.double({ min: 0, max: 359.9, noNaN: true }),
    body: fc.record({
      length: fc.double({ min: 0.2, max: 9, noNaN: true }),
      width: fc.double({ min: 0.2, max: 9, noNaN: true }),
    }),
  });
  type Body = typeof body extends fc.Arbitrary<infer T> ? T : never;

  /** Points of a body, close together: its gap to another by trying all pairs needs no geometry. */
  function grid({ at, side, rotation, body: { length, width } }: Body): Point[] {
    const turned = ((side === 'top' ? rotation : 360 - rotation) * Math.PI) / 180;
    const steps = 40;
    return Array.from({ length: (steps + 1) ** 2 }, (_, i): Point => {
      const x = ((i % (steps + 1)) / steps - 0.5) * length;
      const y = (Math.floor(i / (steps + 1)) / steps - 0.5) * width;
      return [
        at.x + x * Math.cos(turned) - y * Math.sin(turned),
        at.y + x * Math.sin(turned) + y * Math.cos(turned),
      ];
    });
  }

  test('is the least distance of any two of their points', () => {
    fc.assert(
      fc.property(body, body, (a, b) => {
        const gap = gapBetween(cornersOfBody(a) as Point[], cornersOfBody(b) as Point[]);
        let least = Infinity;
        for (const [x1, y1] of grid(a))
          for (const [x2, y2] of grid(b)) least = Math.min(least, Math.hypot(x1 - x2, y1 - y2));
        // The grid is 0.23 mm wide at most.
        expect(gap).toBeLessThanOrEqual(least + 1e-9);
        expect(gap).toBeGreaterThan(least - 0.35);
      }),
      { numRuns: 60 },
    );
  });

  test('of placed bodies it is that of their corners, turned by right angles or not, measured or not', () => {
    const turned = fc.tuple(body, fc.constantFrom(0, 90, 180, 270, undefined), fc.boolean());
    const placed = turned.map(([{ body: size, ...one }, right, isMeasured]) => ({
      ...one,
      rotation: right ?? one.rotation,
      ...(isMeasured ? { body: size } : {}),
    }));
    fc.assert(
      fc.property(placed, placed, (a, b) => {
        const corners = gapBetween(cornersOfBody(a) as Point[], cornersOfBody(b) as Point[]);
        expect(gapOfBodies(a, b)).toBeCloseTo(corners, 9);
      }),
      { numRuns: 400 },
    );
    expect(gapOfBodies({ rotation: 0 }, { at: { x: 0, y: 0 } })).toBeUndefined();
  });

  test('of two placed 0805 bodies, by hand', () => {
    const at = (x: number, y: number, rotation: number) =>
      cornersOfBody({ at: { x, y }, side: 'top', rotation, body: { length: 2, width: 1.2 } }) as Point[];
    expect(gapBetween(at(0, 0, 0), at(5, 0, 0))).toBeCloseTo(3, 9);
    expect(gapBetween(at(0, 0, 0), at(5, 0, 90))).toBeCloseTo(3.4, 9);
    expect(gapBetween(at(0, 0, 0), at(1.9, 0, 0))).toBe(0);
    expect(gapBetween(at(0, 0, 0), [[1, 3.6]])).toBeCloseTo(3, 9);
  });
});
