import PerspT from 'perspective-transform';
import { expect, test } from 'vitest';
import { type KnownPoint, type Place, Plane } from '../../src/measurement/plane.ts';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';

// Cameras of the tests are pinhole cameras in space (rotation, distance, focal length), which say nothing of homographies; the code that is
// tested knows homographies and no cameras.

type Random = () => number;
const DEGREES = Math.PI / 180;
/** A board, mm. */
const [LENGTH, WIDTH] = [30, 20];

/** A pinhole camera above the middle of a board, tilted, as a function from the board (mm) to the photo (pixels). */
function camera({ tilt = 0, towards = 0, turn = 0, height = 120, focal = 4_000, isBottom = false }) {
  const [ct, st] = [Math.cos(tilt), Math.sin(tilt)];
  return ([x, y]: Place): Place => {
    const [px, py] = [(isBottom ? -1 : 1) * (x - LENGTH / 2), y - WIDTH / 2];
    // Turned about the axis of view, then tilted about an axis of the board in some direction.
    const [u, v] = [
      px * Math.cos(towards) - py * Math.sin(towards),
      px * Math.sin(towards) + py * Math.cos(towards),
    ];
    const [ru, rv, rz] = [u, v * ct, height + v * st];
    const [a, b] = [ru * Math.cos(turn) - rv * Math.sin(turn), ru * Math.sin(turn) + rv * Math.cos(turn)];
    return [2_000 + (focal * a) / rz, 1_500 - (focal * b) / rz];
  };
}

const CORNERS: readonly Place[] = [
  [0, 0],
  [LENGTH, 0],
  [LENGTH, WIDTH],
  [0, WIDTH],
];

const normal = (random: Random) => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
const shaken = ([x, y]: Place, by: number, random: Random): Place => [
  x + by * normal(random),
  y + by * normal(random),
];
const anyCamera = (random: Random, most = 40) =>
  camera({
    tilt: random() * most * DEGREES,
    towards: random() * 2 * Math.PI,
    turn: random() * 2 * Math.PI,
    height: 80 + 100 * random(),
    focal: 3_000 + 3_000 * random(),
  });
const exactly = (board: readonly Place[], photograph: (place: Place) => Place): KnownPoint[] =>
  board.map((place) => ({ board: place, photo: photograph(place) }));

test('four points give the plane that a camera saw, as the npm package perspective-transform has it', () => {
  const random = seededRandom(testSeed());
  for (let i = 0; i < 200; i++) {
    const photograph = anyCamera(random, 60);
    const points = exactly(CORNERS, photograph);
    const plane = Plane.fitted(points);
    const reference = PerspT(
      points.flatMap(({ photo }) => [...photo]),
      points.flatMap(({ board }) => [...board]),
    );
    const place: Place = [LENGTH * random(), WIDTH * random()];
    const photo = photograph(place);
    const { at } = plane.toBoard(photo);
    const [x, y] = reference.transform(photo[0], photo[1]);
    // The package rounds its coefficients to ten decimal places.
    expect(Math.hypot(at[0] - x, at[1] - y)).toBeLessThan(1e-4);
    expect(Math.hypot(at[0] - place[0], at[1] - place[1])).toBeLessThan(1e-6);
    expect(plane.kind).toBe('perspective');
    expect(plane.residual).toBeUndefined();
  }
});

test('two points give the scale of a photo taken from straight above, from either side, and know nothing of a tilt', () => {
  for (const isBottom of [false, true]) {
    const photograph = camera({ turn: 0.7, isBottom });
    const plane = Plane.fitted(exactly([CORNERS[0], CORNERS[2]], photograph), { isBottom });
    expect(plane.kind).toBe('scale');
    const { at } = plane.toBoard(photograph([7, 11]));
    expect(at[0]).toBeCloseTo(7, 6);
    expect(at[1]).toBeCloseTo(11, 6);
    const [least, most] = plane.scaleAt([2_000, 1_500]);
    expect([least, most]).toEqual([expect.closeTo(4_000 / 120, 6), expect.closeTo(4_000 / 120, 6)]);
  }
  const tilted = camera({ tilt: 30 * DEGREES });
  const two = Plane.fitted(exactly([CORNERS[0], CORNERS[1]], tilted));
  const across = two.distance(tilted([15, 0]), tilted([15, 20])).value;
  expect(across).toBeLessThan(18.5);
  const four = Plane.fitted(exactly(CORNERS, tilted));
  expect(four.distance(tilted([15, 0]), tilted([15, 20])).value).toBeCloseTo(20, 6);
  const [least, most] = four.scaleAt(tilted([15, 10]));
  expect(most / least).toBeGreaterThan(1.1);
});

test('three points give the plane of a parallel projection', () => {
  const affine = ([x, y]: Place): Place => [100 + 30 * x - 4 * y, 900 - 2 * x - 25 * y];
  const plane = Plane.fitted(exactly(CORNERS.slice(0, 3), affine));
  expect(plane.kind).toBe('parallel');
  expect(plane.toBoard(affine([3, 17])).at).toEqual([expect.closeTo(3, 8), expect.closeTo(17, 8)]);
});

/** Of places and lengths measured with stated errors: the share within 1.96 standard uncertainties, and real error over stated. */
function simulated(known: readonly Place[], picked: number, within: number, trials: number, random: Random) {
  let [inside, insideLength, squares, squaresLength] = [0, 0, 0, 0];
  for (let i = 0; i < trials; i++) {
    const photograph = anyCamera(random);
    const points = known.map((place) => ({
      board: place,
      photo: shaken(photograph(shaken(place, within, random)), picked, random),
      within,
    }));
    const plane = Plane.fitted(points, { picked });
    const [one, other]: Place[] = [0, 1].map((): Place => [LENGTH * random(), WIDTH * random()]);
    const [a, b] = [one, other].map((place) => shaken(photograph(place), picked, random));
    const { at, uncertainty } = plane.toBoard(a);
    const error = [0, 1].map((axis) => (at[axis] - one[axis]) / uncertainty[axis]);
    inside += error.filter((each) => Math.abs(each) <= 1.96).length / 2;
    squares += (error[0] ** 2 + error[1] ** 2) / 2;
    const length = plane.distance(a, b);
    const off = (length.value - Math.hypot(one[0] - other[0], one[1] - other[1])) / length.uncertainty;
    insideLength += Math.abs(off) <= 1.96 ? 1 : 0;
    squaresLength += off ** 2;
  }
  return [
    inside / trials,
    insideLength / trials,
    Math.sqrt(squares / trials),
    Math.sqrt(squaresLength / trials),
  ];
}

const TRIALS = 1_200;
const GRID: readonly Place[] = [0, 1, 2, 3, 4].flatMap((i) =>
  [0, 1, 2, 3].map((j): Place => [(i * LENGTH) / 4, (j * WIDTH) / 3]),
);

test.each([
  ['four points picked', CORNERS, 0.8, 0],
  ['four points of a ruler', CORNERS, 0.8, 0.05],
  ['twenty points of a printed target', GRID, 0.8, 0.02],
] as const)('the stated errors are those that come: %s', (_name, known, picked, within) => {
  const [inside, insideLength, ratio, ratioLength] = simulated(
    known,
    picked,
    within,
    4_000,
    seededRandom(testSeed()),
  );
  // 4 standard deviations of a share of so many trials.
  const off = 4 * Math.sqrt((0.95 * 0.05) / TRIALS);
  expect(Math.abs(inside - 0.95)).toBeLessThan(off);
  expect(Math.abs(insideLength - 0.95)).toBeLessThan(off);
  expect(Math.abs(ratio - 1)).toBeLessThan(0.08);
  expect(Math.abs(ratioLength - 1)).toBeLessThan(0.08);
});

test('what is left between a target and the fit is chi-square as long as the camera has no distortion', () => {
  const random = seededRandom(testSeed());
  let sum = 0;
  const trials = 500;
  for (let i = 0; i < trials; i++) {
    const photograph = anyCamera(random);
    const points = GRID.map((board) => ({ board, photo: shaken(photograph(board), 0.8, random) }));
    const plane = Plane.fitted(points, { picked: 0.8 });
    expect(plane.degreesOfFreedom).toBe(32);
    sum += plane.chiSquare / 32;
  }
  // The mean of 500 chi-squares of 32 degrees: standard deviation of the ratio sqrt(2 / 32 / 500).
  expect(Math.abs(sum / trials - 1)).toBeLessThan(4 * Math.sqrt(2 / 32 / trials));
  // A lens that bends lines by 2 % at the edge is seen.
  const photograph = camera({ tilt: 0.2 });
  const bent = GRID.map((board) => {
    const [x, y] = photograph(board);
    const r2 = ((x - 2_000) ** 2 + (y - 1_500) ** 2) / 600 ** 2;
    return {
      board,
      photo: [2_000 + (x - 2_000) * (1 + 0.02 * r2), 1_500 + (y - 1_500) * (1 + 0.02 * r2)] as Place,
    };
  });
  const plane = Plane.fitted(bent, { picked: 0.8 });
  expect(plane.chiSquare / plane.degreesOfFreedom).toBeGreaterThan(4);
});

test('points that carry no measurement are refused', () => {
  const photograph = camera({ tilt: 0.3 });
  const refusals: readonly (readonly [readonly Place[], RegExp])[] = [
    [[[1, 1]], /takes two points/u],
    [
      [
        [1, 1],
        [1, 1],
      ],
      /in one place/u,
    ],
    [
      [
        [0, 0],
        [10, 5],
        [20, 10],
        [30, 15],
      ],
      /on a line/u,
    ],
    [
      [
        [0, 0],
        [10, 5],
        [20, 10],
      ],
      /on a line/u,
    ],
    [
      [
        [0, 0],
        [0.01, 0],
        [0.01, 0.01],
        [0, 0.01],
      ],
      /close together|on a line/u,
    ],
  ];
  for (const [board, why] of refusals) {
    expect(() => Plane.fitted(exactly(board, photograph)), String(board)).toThrow(why);
  }
});
