import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { problemOfRegion } from '../../../src/dossier/check/photo-regions.ts';
import { areaOfCorners, boxOfRegion, cornersOfRegion } from '../../../src/model/photo-region.ts';
import { changed, GOOD_CATALOGUE, GOOD_DOSSIER } from '../files.ts';
import { findingsIn } from './findings.ts';

/** Findings with a photo that has one region, or with the steps given. */
function withRegion(region: string, steps = ''): readonly string[] {
  const photo = `photos:
  - id: top
    sha256: ${'ab'.repeat(32)}
    credit: I. Example
    licence: CC0-1.0
    regions:
      - ${region}
`;
  const dossier =
    steps === '' ? GOOD_DOSSIER : changed(GOOD_DOSSIER, 'teardown:\n', `teardown:\n  steps:\n${steps}`);
  return findingsIn([`${dossier.trimEnd()}\n${photo}`, GOOD_CATALOGUE]).map((one) =>
    one.replace(/^a\.yaml:\d+ photos\[0\]\.regions\[0\]\./u, ''),
  );
}

const STEP = '    - { do: Lift the lid., minutes: 3 }\n';

describe('regions of photos', () => {
  test.each([
    ['a rectangle', '{ of: U1, xywh: [10, 20, 5.5, 7] }', []],
    ['the whole photo', '{ of: main, xywh: [0, 0, 100, 100] }', []],
    ['a rounded rectangle at the edge', '{ of: U1, xywh: [33.34, 0, 66.67, 3] }', []],
    ['an outline', '{ of: U1, polygon: [[10, 20], [30, 20], [20, 40]] }', []],
    ['one with a notch', '{ of: U1, polygon: [[0, 0], [9, 0], [9, 9], [5, 4], [0, 9]] }', []],
    ['a component with its board', '{ of: "main:U1", xywh: [10, 20, 5, 7] }', []],
    [
      'a rectangle that reaches beyond the photo',
      '{ of: U1, xywh: [95, 20, 10, 7] }',
      [
        'xywh: the region of U1 on photo "top" reaches beyond the photo: from 95 to 105 % of its width and from 20 to 27 % of its height — write left, top, width, height, in percent of the photo',
      ],
    ],
    [
      'pixels in place of percent',
      '{ of: U1, polygon: [[120, 200], [300, 200], [200, 400]] }',
      [
        'polygon: the region of U1 on photo "top" reaches beyond the photo: from 120 to 300 % of its width and from 200 to 400 % of its height — give corners from the left and from the top, in percent of the photo: 0 to 100',
      ],
    ],
    [
      'a width below nothing',
      '{ of: U1, xywh: [50, 20, -10, 7] }',
      [
        'xywh: the region of U1 on photo "top" has a width below 0 — write left, top, width, height, in percent of the photo',
      ],
    ],
    [
      'no width',
      '{ of: U1, xywh: [50, 20, 0, 7] }',
      [
        'xywh: the region of U1 on photo "top" has no area to speak of, less than a millionth of the photo — give it a width and a height',
      ],
    ],
    [
      'corners on one line',
      '{ of: U1, polygon: [[0, 0], [10, 10], [20, 20]] }',
      [
        'polygon: the region of U1 on photo "top" crosses or touches itself: its side from [0, 0] to [10, 10] and that from [20, 20] to [0, 0] — give the corners in the order in which a line goes round the region',
      ],
    ],
    [
      'an outline like an eight',
      '{ of: U1, polygon: [[10, 10], [30, 30], [30, 10], [10, 30]] }',
      [
        'polygon: the region of U1 on photo "top" crosses or touches itself: its side from [10, 10] to [30, 30] and that from [30, 10] to [10, 30] — give the corners in the order in which a line goes round the region',
      ],
    ],
    [
      'a first corner given again',
      '{ of: U1, polygon: [[10, 10], [30, 10], [30, 30], [10, 10]] }',
      [
        'polygon: the region of U1 on photo "top" has the corner [10, 10] twice, one after the other — give each corner once; the last one is joined to the first by itself',
      ],
    ],
    [
      'both forms',
      '{ of: U1, xywh: [1, 2, 3, 4], polygon: [[10, 10], [30, 10], [30, 30]] }',
      ['polygon: the region of U1 on photo "top" has both xywh and polygon — leave one of them out'],
    ],
    [
      'a thing that is not there',
      '{ of: U17, xywh: [10, 20, 5, 7] }',
      ['of: no component, board or subsystem is called "U17" in this dossier — did you mean "U1"?'],
    ],
    [
      'a step that is not there',
      '{ of: step-2, xywh: [10, 20, 5, 7] }',
      ['of: there is no step 2 in this teardown — write the steps of the teardown first'],
    ],
  ])('%s', (_what, region, expected) => {
    expect(withRegion(region)).toEqual(expected);
  });

  test('a step of the teardown by its place', () => {
    expect(withRegion('{ of: step-1, xywh: [10, 20, 5, 7] }', STEP)).toEqual([]);
    expect(withRegion('{ of: step-2, xywh: [10, 20, 5, 7] }', STEP)).toEqual([
      'of: there is no step 2 in this teardown — its steps are step-1 to step-1',
    ]);
    expect(withRegion('{ of: step-0, xywh: [10, 20, 5, 7] }', STEP)[0]).toMatch(/no component, board/u);
  });

  test('the photo of a step', () => {
    const of = (photo: string) => STEP.replace('minutes: 3', `minutes: 3, photo: ${photo}`);
    expect(withRegion('{ of: U1, xywh: [10, 20, 5, 7] }', of('top'))).toEqual([]);
    expect(withRegion('{ of: U1, xywh: [10, 20, 5, 7] }', of('topp'))[0]).toMatch(
      /teardown\.steps\[0\]\.photo: no photo is called "topp" in this dossier — did you mean "top"\?$/u,
    );
  });

  test.each([
    ['no form', '{ of: U1 }', /has neither xywh nor polygon/u],
    ['two corners', '{ of: U1, polygon: [[10, 10], [30, 30]] }', /polygon/u],
    ['a corner of one number', '{ of: U1, polygon: [[10], [30, 30], [40, 10]] }', /polygon/u],
  ])('%s is refused', (_what, region, expected) => {
    expect(() => withRegion(region)).toThrow(expected);
  });

  test('201 corners are refused, 200 are not', () => {
    const ring = (count: number) =>
      Array.from({ length: count }, (_, i) => {
        const angle = (2 * Math.PI * i) / count;
        return `[${(50 + 40 * Math.cos(angle)).toFixed(3)}, ${(50 + 40 * Math.sin(angle)).toFixed(3)}]`;
      });
    expect(withRegion(`{ of: U1, polygon: [${ring(200).join(', ')}] }`)).toEqual([]);
    expect(() => withRegion(`{ of: U1, polygon: [${ring(201).join(', ')}] }`)).toThrow(/polygon/u);
  });
});

/** Angles and radii of corners seen from the middle: sorted by angle, no such outline crosses itself. */
const star = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 359 }), fc.integer({ min: 5, max: 45 })), {
    minLength: 5,
    maxLength: 30,
  })
  .map((corners) => {
    const byAngle = [...new Map(corners).entries()].toSorted(([a], [b]) => a - b);
    return byAngle.map(([angle, radius]) => {
      const radians = (angle * Math.PI) / 180;
      return [50 + radius * Math.cos(radians), 50 + radius * Math.sin(radians)] as [number, number];
    });
  })
  // The middle lies inside only where no two neighbours are half a turn apart.
  .filter((corners) => {
    const angles = corners.map(([x, y]) => Math.atan2(y - 50, x - 50));
    return (
      corners.length > 4 &&
      angles.every((one, i) => {
        const next = angles[(i + 1) % angles.length] as number;
        return (next - one + 4 * Math.PI) % (2 * Math.PI) < 0.9 * Math.PI;
      })
    );
  });

test('an outline round a middle is sound, and with two corners exchanged it is not where it is convex', () => {
  fc.assert(
    fc.property(star, (polygon) => {
      expect(problemOfRegion({ of: 'U1', polygon })).toBeUndefined();
      expect(problemOfRegion({ of: 'U1', polygon: polygon.toReversed() })).toBeUndefined();
    }),
    { numRuns: 200, seed: 5 },
  );
  const convex = Array.from({ length: 9 }, (_, i) => {
    const angle = (2 * Math.PI * i) / 9;
    return [50 + 40 * Math.cos(angle), 50 + 30 * Math.sin(angle)] as [number, number];
  });
  for (let one = 0; one < 9; one++)
    for (let other = one + 1; other < 9; other++) {
      const polygon = convex
        .with(one, convex[other] as [number, number])
        .with(other, convex[one] as [number, number]);
      expect(problemOfRegion({ of: 'U1', polygon })?.what).toMatch(/^crosses or touches itself/u);
    }
});

test('box, corners and area of regions', () => {
  // A right triangle: half of base times height.
  const polygon: [number, number][] = [
    [10.1, 20],
    [30.2, 20],
    [10.1, 50],
  ];
  expect(areaOfCorners(polygon)).toBeCloseTo((20.1 * 30) / 2, 10);
  expect(boxOfRegion({ polygon })).toEqual([10.1, 20, 20.1, 30]);
  expect(boxOfRegion({ xywh: [1, 2, 3, 4] })).toEqual([1, 2, 3, 4]);
  expect(cornersOfRegion({ xywh: [1, 2, 3, 4] })).toEqual([
    [1, 2],
    [4, 2],
    [4, 6],
    [1, 6],
  ]);
});
