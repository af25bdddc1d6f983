import { expect, test } from 'vitest';
import { placeAgreement } from '../../src/measurement/agreement.ts';
import { lengthsOf } from '../../src/measurement/known-lengths.ts';
import { MeasurablePhoto, type Spot } from '../../src/measurement/measure.ts';
import type { Measured } from '../../src/measurement/measuring.ts';
import { type Place, Plane } from '../../src/measurement/plane.ts';
import { cornersOfBody } from '../../src/model/body.ts';
import { CasebackError } from '../../src/model/problems.ts';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';
import { type Camera, photographed, spotOf } from './camera.ts';

// A printed target as a pinhole camera sees it (camera.ts), picked with errors: what the code says in mm is held to where things are.

type Random = () => number;
const normal = (random: Random) => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
const [LENGTH, WIDTH] = [60, 40];
const TARGET: readonly Place[] = [0, 1, 2, 3, 4].flatMap((i) =>
  [0, 1, 2, 3].map((j): Place => [(i * LENGTH) / 4, (j * WIDTH) / 3]),
);
const CORNERS: readonly Place[] = [
  [0, 0],
  [LENGTH, 0],
  [LENGTH, WIDTH],
  [0, WIDTH],
];
const PICKED = 0.8;

const anyCamera = (random: Random, tilt: number, more: Partial<Camera> = {}): Camera => ({
  width: 4_000,
  height: 3_000,
  focal: 3_500,
  distance: 70 + 60 * random(),
  looksAt: [LENGTH / 2, WIDTH / 2],
  tilt,
  towards: 360 * random(),
  turn: 360 * random(),
  ...more,
});

const picked = (camera: Camera, place: Place, random: Random): Spot => {
  const [x, y] = photographed(camera, place);
  return spotOf(camera, [x + PICKED * normal(random), y + PICKED * normal(random)]);
};

function photoOf(
  camera: Camera,
  known: readonly Place[],
  random: Random,
  more: object = {},
): MeasurablePhoto {
  return new MeasurablePhoto({
    width: camera.width,
    height: camera.height,
    points: known.map((mm) => ({ at: picked(camera, mm, random), mm })),
    isBottom: camera.isBottom ?? false,
    picked: PICKED,
    ...more,
  });
}

/** How often intervals hold the truth, and how errors compare with the stated uncertainties. */
class Tally {
  inside = 0;
  count = 0;
  squares = 0;
  add({ value, low, high, uncertainty }: Measured, truth: number) {
    this.count++;
    if (low <= truth && truth <= high) this.inside++;
    this.squares += ((value - truth) / uncertainty) ** 2;
  }
  /** No fewer than 95 of 100, but for what chance takes: 4 standard deviations of so many trials, 1 in 30,000 runs. */
  mustHold(name: string) {
    const least = 0.95 - 4 * Math.sqrt((0.95 * 0.05) / this.count);
    expect(this.inside / this.count, name).toBeGreaterThan(least);
  }
}

const TRIALS = 400;

test.each([
  ['a target of twenty points', TARGET],
  ['four corners', CORNERS],
] as const)(
  '%s: positions, lengths and bodies lie in their intervals at tilts of 0 to 35 degrees',
  (_name, known) => {
    const random = seededRandom(testSeed());
    const tallies = new Map<string, Tally>();
    const tally = (name: string, measured: Measured, truth: number) => {
      const one = tallies.get(name) ?? new Tally();
      tallies.set(name, one);
      one.add(measured, truth);
    };
    for (let i = 0; i < TRIALS; i++) {
      const camera = anyCamera(random, (35 * i) / TRIALS, { isBottom: i % 3 === 0 });
      const photo = photoOf(camera, known, random);
      const place = (): Place => [5 + (LENGTH - 10) * random(), 5 + (WIDTH - 10) * random()];
      const [one, other] = [place(), place()];
      const spot = photo.spot(picked(camera, one, random));
      tally('x', spot.x, one[0]);
      tally('y', spot.y, one[1]);
      if (Math.hypot(one[0] - other[0], one[1] - other[1]) > 3)
        tally(
          'length',
          photo.length(picked(camera, one, random), picked(camera, other, random)),
          Math.hypot(one[0] - other[0], one[1] - other[1]),
        );
      const body = { length: 2 + 6 * random(), width: 2 + 3 * random() };
      const rotation = 360 * random();
      const component = { at: { x: one[0], y: one[1] }, rotation, body, side: 'top' as const };
      const corners = cornersOfBody(component) as readonly Place[];
      const found = photo.body(
        { corners: corners.map((corner) => picked(camera, corner, random)) },
        rotation,
      );
      tally('body x', found.x, one[0]);
      tally('body length', found.length, body.length);
      tally('body width', found.width, body.width);
      const turned = found.rotation as Measured;
      const by = 360 * Math.round((rotation - turned.value) / 360);
      // Turned by half it looks the same.
      const half =
        Math.abs(rotation - turned.value - by) > 90 ? (rotation > turned.value + by ? 180 : -180) : 0;
      tally('rotation', turned, rotation - by - half);
    }
    for (const [name, one] of tallies) one.mustHold(name);
  },
);

test('stated uncertainties are the spread of what is measured over and over (Monte Carlo, GUM Supplement 1)', () => {
  const random = seededRandom(testSeed());
  const camera = anyCamera(random, 22, { distance: 90 });
  const corners = cornersOfBody({
    at: { x: 40, y: 12 },
    rotation: 30,
    body: { length: 5, width: 3 },
    side: 'top',
  }) as readonly Place[];
  const series = new Map<string, { values: number[]; stated: number[] }>();
  const note = (name: string, { value, uncertainty }: Measured) => {
    const one = series.get(name) ?? { values: [], stated: [] };
    series.set(name, one);
    one.values.push(value);
    one.stated.push(uncertainty);
  };
  const trials = 1_500;
  for (let i = 0; i < trials; i++) {
    const photo = photoOf(camera, CORNERS, random);
    const spot = photo.spot(picked(camera, [11, 33], random));
    note('x', spot.x);
    note('y', spot.y);
    note('length', photo.length(picked(camera, [4, 5], random), picked(camera, [50, 31], random)));
    const body = photo.body({ corners: corners.map((corner) => picked(camera, corner, random)) }, 30);
    note('body x', body.x);
    note('body length', body.length);
    note('rotation', body.rotation as Measured);
  }
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
  for (const [name, { values, stated }] of series) {
    const middle = mean(values);
    const spread = Math.sqrt(mean(values.map((one) => (one - middle) ** 2)));
    // A standard deviation of so many has itself one of 1 / sqrt(2 n).
    expect(Math.abs(spread / mean(stated) - 1), name).toBeLessThan(4 / Math.sqrt(2 * trials) + 0.02);
  }
});

test('a box around a body gives its size, whatever way it is turned but half a right angle to the photo', () => {
  const random = seededRandom(testSeed());
  const [size, at] = [new Tally(), new Tally()];
  for (let i = 0; i < 300; i++) {
    const rotation = 360 * random();
    const towards = 360 * random();
    const camera = anyCamera(random, 30 * random(), { towards, turn: 25 * random() - rotation - towards });
    const photo = photoOf(camera, TARGET, random);
    const place: Place = [10 + 40 * random(), 10 + 20 * random()];
    const body = { length: 3 + 4 * random(), width: 2 + 3 * random() };
    const seen = (
      cornersOfBody({ at: { x: place[0], y: place[1] }, rotation, body, side: 'top' }) as readonly Place[]
    ).map((corner) => photographed(camera, corner));
    const edge = (value: number) => value + PICKED * normal(random);
    const [l, t] = spotOf(camera, [
      edge(Math.min(...seen.map(([x]) => x))),
      edge(Math.min(...seen.map(([, y]) => y))),
    ]);
    const [r, b] = spotOf(camera, [
      edge(Math.max(...seen.map(([x]) => x))),
      edge(Math.max(...seen.map(([, y]) => y))),
    ]);
    const found = photo.body({ xywh: [l, t, r - l, b - t] }, rotation);
    size.add(found.length, body.length);
    at.add(found.x, place[0]);
    expect(found.rotation).toBeUndefined();
  }
  size.mustHold('length');
  at.mustHold('x');
});

test('an outline of many corners gives the smallest rectangle around it', () => {
  const random = seededRandom(testSeed());
  const camera = anyCamera(random, 25);
  const photo = photoOf(camera, TARGET, random);
  const at = { x: 31, y: 17 };
  const [p, q, r, s] = cornersOfBody({
    at,
    rotation: 35,
    body: { length: 8, width: 5 },
    side: 'top',
  }) as readonly Place[];
  const between = ([a, b]: Place, [c, d]: Place, share: number): Place => [
    a + share * (c - a),
    b + share * (d - b),
  ];
  // Corners cut a little, a notch, and one corner whole.
  const outline = [
    p,
    between(p, q, 0.5),
    between(q, p, 0.05),
    between(q, r, 0.05),
    between(p, r, 0.7),
    between(r, s, 0.1),
    s,
  ];
  const found = photo.body(
    { corners: outline.map((place) => spotOf(camera, photographed(camera, place))) },
    35,
  );
  for (const [measured, truth] of [
    [found.x, at.x],
    [found.y, at.y],
    [found.length, 8],
    [found.width, 5],
    [found.rotation, 35],
  ] as const) {
    expect(measured?.value).toBeCloseTo(truth, 0);
    expect(measured?.low).toBeLessThan(truth);
    expect(measured?.high).toBeGreaterThan(truth);
  }
  expect(() =>
    photo.body({
      corners: [
        [1, 1],
        [2, 2],
        [3, 3],
      ],
    }),
  ).toThrow(/lie on a line/u);
});

test('tilt and distance of the camera lie in their intervals, and from straight above the tilt may be none', () => {
  const random = seededRandom(testSeed());
  const [tilt, distance] = [new Tally(), new Tally()];
  for (let i = 0; i < 300; i++) {
    const camera = anyCamera(random, 35 * random());
    const { viewpoint } = photoOf(camera, TARGET, random).calibration;
    if (!viewpoint) throw new Error('no tilt');
    tilt.add(viewpoint.tilt, camera.tilt);
    if (viewpoint.distance) distance.add(viewpoint.distance, camera.distance);
  }
  tilt.mustHold('tilt');
  expect(distance.count).toBeGreaterThan(200);
  distance.mustHold('distance');
  const above = photoOf(anyCamera(random, 0), CORNERS, random).calibration.viewpoint;
  expect(above?.tilt.low).toBe(0);
  expect(above?.tilt.high).toBeLessThan(8);
});

test('a height moves an outline by as much as the camera sees it moved', () => {
  const random = seededRandom(testSeed());
  for (const tilt of [8, 20, 35]) {
    const camera = anyCamera(random, tilt, { distance: 100 });
    const photo = photoOf(camera, TARGET, random);
    const [x, y]: Place = [45, 30];
    const top = photo.onBoard(spotOf(camera, photographed(camera, [x, y], 1)));
    const foot = photo.onBoard(spotOf(camera, photographed(camera, [x, y])));
    const moved = Math.hypot(top[0] - foot[0], top[1] - foot[1]);
    const stated = photo.parallaxAt([x, y]) as number;
    // It is the most in the direction in which both add up, and never less than what is seen.
    expect(moved).toBeLessThan(stated * 1.1);
    expect(moved).toBeGreaterThan(0.2 * stated);
  }
});

test('points that are wrong are named, with how far off they are; none is where all are right', () => {
  const random = seededRandom(testSeed());
  let [falseAlarms, found] = [0, 0];
  for (let i = 0; i < 200; i++) {
    const camera = anyCamera(random, 30 * random());
    const points = TARGET.map((mm) => ({ at: picked(camera, mm, random), mm }));
    const base = { width: camera.width, height: camera.height, isBottom: false, picked: PICKED };
    const right = new MeasurablePhoto({ ...base, points });
    if (right.calibration.points.some(({ standsOut }) => standsOut !== undefined)) falseAlarms++;
    const at = Math.floor(random() * points.length);
    const wrong = points.map((point, j) =>
      j === at ? { ...point, mm: [point.mm[0] + 1, point.mm[1]] as Place } : point,
    );
    const { calibration } = new MeasurablePhoto({ ...base, points: wrong });
    const named = calibration.points.flatMap(({ standsOut }, j) => (standsOut === undefined ? [] : [j]));
    if (named.length === 1 && named[0] === at && Math.abs((calibration.points[at].standsOut ?? 0) - 1) < 0.3)
      found++;
  }
  // 1 % of fits are called into question, and of these not all for one point.
  expect(falseAlarms).toBeLessThanOrEqual(9);
  expect(found).toBeGreaterThan(190);
});

test.each([
  [0.01, 'pincushion'],
  [-0.01, 'barrel'],
  [0, 'not-seen'],
] as const)('a lens that bends by %d is told', (bend, kind) => {
  const random = seededRandom(testSeed());
  const tally = new Tally();
  let right = 0;
  for (let i = 0; i < 100; i++) {
    const camera = anyCamera(random, 15 * random(), { bend, distance: 66, turn: 10 * random() });
    const { bending } = photoOf(camera, TARGET, random).calibration;
    if (!bending) throw new Error('too few points');
    if (bending.kind === kind) right++;
    tally.add(bending.percent, 100 * bend);
  }
  expect(right).toBeGreaterThanOrEqual(bend === 0 ? 94 : 98);
  // One linear step, with all distances as the bent photo has them: 0.05 % of 1 % would show.
  expect(Math.sqrt(tally.squares / tally.count)).toBeLessThan(1.6);
});

test('known lengths on a target that a printer made smaller say by how much', () => {
  const random = seededRandom(testSeed());
  const tally = new Tally();
  for (let i = 0; i < 150; i++) {
    const camera = anyCamera(random, 20 * random());
    const printed = 0.985;
    const shrunk = (place: Place): Place => [place[0] * printed, place[1] * printed];
    const photo = new MeasurablePhoto({
      width: camera.width,
      height: camera.height,
      points: TARGET.map((mm) => ({ at: picked(camera, shrunk(mm), random), mm })),
      isBottom: false,
      picked: PICKED,
    });
    const ends: readonly (readonly [Place, Place])[] = [
      [
        [2, 3],
        [52, 3],
      ],
      [
        [4, 4],
        [4, 34],
      ],
      [
        [5, 30],
        [45, 6],
      ],
    ];
    const { scale } = lengthsOf(
      photo,
      ends.map(([from, to]) => ({
        from: picked(camera, from, random),
        to: picked(camera, to, random),
        is: Math.hypot(from[0] - to[0], from[1] - to[1]),
      })),
    );
    if (!scale) throw new Error('no known lengths');
    expect(scale.isOff).toBe(true);
    expect(scale.sentence).toMatch(/too long \(.*a target printed at 98\.\d % of its size does that/u);
    tally.add(scale.percent, 100 * (1 / printed - 1));
  }
  tally.mustHold('scale');
});

test('points of any sort are refused or give numbers', () => {
  const random = seededRandom(testSeed());
  const odd = [0, 1, -1, 1e-9, 1e9, 1e308, -1e308, 1e-300, 50, 50.0001];
  const any = () => (random() < 0.3 ? odd[Math.floor(random() * odd.length)] : 100 * random());
  const spot = (): Spot => [Math.max(-50, Math.min(150, any())), Math.max(-50, Math.min(150, any()))];
  const numbersIn = (value: unknown): readonly number[] =>
    typeof value === 'number'
      ? [value]
      : typeof value === 'object' && value !== null
        ? Object.values(value).flatMap(numbersIn)
        : [];
  let answered = 0;
  for (let i = 0; i < 800; i++) {
    const points = Array.from({ length: 2 + Math.floor(7 * random()) }, () => ({
      at: spot(),
      mm: [any(), any()] as Place,
      within: random() < 0.2 ? 10 ** (20 * random() - 10) : undefined,
    }));
    try {
      const photo = new MeasurablePhoto({
        width: 4_000,
        height: 3_000,
        points,
        isBottom: i % 2 === 0,
        picked: 1,
      });
      const found = [photo.calibration, photo.spot(spot()), photo.length(spot(), spot())];
      expect(found.flatMap(numbersIn).every(Number.isFinite)).toBe(true);
      answered++;
    } catch (error) {
      expect(error).toBeInstanceOf(CasebackError);
    }
  }
  expect(answered).toBeGreaterThan(20);
});

test('agreement counts a place as a chi-square of two', () => {
  const number = (value: number, uncertainty: number): Measured => ({ value, uncertainty, low: 0, high: 0 });
  // The 95 % point of chi-square with two degrees of freedom is 5.991 (handbook tables).
  const at = Math.sqrt(5.991);
  const { chance, inUncertainties } = placeAgreement(
    { x: number(3 + 0.1 * at, 0.1), y: number(4, 0.1), covariance: 0 },
    { x: 3, y: 4 },
  );
  expect(chance).toBeCloseTo(0.05, 4);
  expect(inUncertainties).toBeCloseTo(at, 9);
});

test('the worked example of the npm package perspective-transform (its README): (250, 120) is at (117.275, 530.920)', () => {
  const [source, target] = [
    [158, 64, 494, 69, 495, 404, 158, 404],
    [100, 500, 152, 564, 148, 604, 100, 560],
  ].map((flat) => [0, 2, 4, 6].map((i): Place => [flat[i], flat[i + 1]]));
  const plane = Plane.fitted(source.map((photo, i) => ({ photo, board: target[i] })));
  const [x, y] = plane.projection.toBoard([250, 120]);
  // The package rounds its coefficients to ten decimal places.
  expect(x).toBeCloseTo(117.27521125839255, 4);
  expect(y).toBeCloseTo(530.9202410878403, 4);
});
