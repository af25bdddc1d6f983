import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Place } from '../../src/measurement/plane.ts';
import { cornersOfBody } from '../../src/model/body.ts';
import { type Camera, photographed, spotOf } from '../measurement/camera.ts';
import { pictureOf, sha256Of } from '../photos/pictures.ts';
import { CATALOGUE, dossier } from './invented.ts';
import { caseback, Folder } from './running.ts';

// A photo of the board of an invented band, as a pinhole camera would see it: U1, 3 by 2 mm, turned by 20 degrees, has its centre at (5, 5).

const CAMERA: Camera = {
  width: 1_600,
  height: 1_200,
  focal: 1_700,
  distance: 50,
  looksAt: [15, 10],
  tilt: 12,
  towards: 40,
  turn: 5,
};
const seen = (place: Place) =>
  spotOf(CAMERA, photographed(CAMERA, place)).map((one) => Number(one.toFixed(3)));
const CORNERS: readonly Place[] = [
  [0, 0],
  [30, 0],
  [30, 20],
  [0, 20],
  [15, 10],
];
const BODY = cornersOfBody({
  at: { x: 5, y: 5 },
  rotation: 20,
  body: { length: 3, width: 2 },
  side: 'top',
}) as readonly Place[];
const points = CORNERS.map((mm) => `${seen(mm).join(',')}=${mm.join(',')}`).join('; ');
const region = BODY.map((corner) => seen(corner).join(',')).join(' ');

const folder = new Folder({ 'catalogue.yaml': CATALOGUE });
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const because = ['--actor', 'A. Example', '--reason', 'bench'];
const json = async (...args: string[]) => JSON.parse((await run(...args, '--format', 'json')).out);

beforeAll(async () => {
  mkdirSync(join(folder.path, 'shots'));
  writeFileSync(
    join(folder.path, 'shots', 'top.jpg'),
    await pictureOf('jpeg', { width: 1_600, height: 1_200 }),
  );
  writeFileSync(join(folder.path, 'shots', 'small.png'), await pictureOf('png', { width: 800, height: 600 }));
  writeFileSync(join(folder.path, 'band-1.yaml'), dossier(1));
  await run('import', 'catalogue.yaml', 'band-1.yaml', ...because);
});
afterAll(() => folder.remove());

const SHOT = ['--credit', 'A. Example', '--licence', 'CC-BY-4.0', '--board', 'main', '--side', 'top'];

test('a photo is added with its file, measured, and what was measured is recorded with the photo as its evidence', async () => {
  const added = await run(
    'add-photo',
    'ferrule-band-1/a',
    'top',
    'shots/top.jpg',
    ...SHOT,
    `--points=${points}`,
    `--regions=U1=${region}`,
    ...because,
  );
  expect(added.err).toContain('ferrule-band-1/a/top added (1600 × 1200 px)');
  const found = await json('measure', 'ferrule-band-1/a/top');
  const [u1] = found.components;
  expect(u1.id).toBe('ferrule-band-1/a/U1');
  for (const [name, truth] of [
    ['x', 5],
    ['y', 5],
    ['length', 3],
    ['width', 2],
  ] as const) {
    expect(u1.body[name].low).toBeLessThan(truth);
    expect(u1.body[name].high).toBeGreaterThan(truth);
    expect(u1.body[name].value).toBeCloseTo(truth, 2);
  }
  expect(u1.body.rotation.value).toBeCloseTo(20, 0);
  expect(u1.position.verdict).toBe('agrees');

  const recorded = await run(
    'record-measurement',
    'ferrule-band-1/a/top',
    'U1',
    'body-size',
    'u1-size',
    ...because,
  );
  expect(recorded.code).toBe(0);
  const position = await run(
    'record-measurement',
    'ferrule-band-1/a/top',
    'U1',
    'position',
    'u1-place',
    ...because,
  );
  expect(position.err).toMatch(
    /recorded: x [45]\.\d+ ± 0\.\d+ mm, y [45]\.\d+ ± 0\.\d+ mm on main, seen from the top side/u,
  );
  const { out } = await run(
    'ask',
    '--query',
    '{ node(id: "ferrule-band-1/a/u1-size") { ... on Observation { kind text value { value unit plusMinus } by method photo { id } about { id } } } }',
  );
  const observation = JSON.parse(out).data.node;
  expect(observation).toMatchObject({
    kind: 'BODY_SIZE',
    by: 'A. Example',
    photo: { id: 'ferrule-band-1/a/top' },
    about: [{ id: 'ferrule-band-1/a/U1' }],
  });
  expect(observation.text).toMatch(/^3\.\d+ x 2\.\d+ mm$|^2\.9\d* x [12]\.\d+ mm$/u);
  expect(observation.value.unit).toBe('mm');
  expect((await run('history', 'ferrule-band-1/a/top')).out).toContain('photo-recorded ferrule-band-1/a/top');
});

test('the command line and GraphQL measure alike', async () => {
  const found = await json(
    'measure',
    'ferrule-band-1/a/top',
    '--places',
    '40,40',
    '--lengths',
    '20,30 60,30=12',
  );
  const { out } = await run(
    'ask',
    '--query',
    `{ measure(photo: "ferrule-band-1/a/top", places: [{ left: 40, top: 40 }], lengths: [{ from: { left: 20, top: 30 }, to: { left: 60, top: 30 }, is: 12 }]) {
      plane degreesOfFreedom residualPx residualMm fitProbability scatter mmPerPxLeast mmPerPxMost tilt { value low high }
      points { rightPx downPx xMm yMm } places { x { value low high } y { value uncertainty } }
      lengths { length { value low high } known agreement { difference verdict sentence } } scale { tooLong { value low high } isOff }
      components { component { id } body { x { value } length { low high } rotation { value } } position { sentence } } cautions } }`,
  );
  const { measure } = JSON.parse(out).data;
  const { calibration } = found;
  expect(measure.plane.toLowerCase()).toBe(calibration.kind);
  for (const [ours, theirs] of [
    [measure.residualPx, calibration.residualPx],
    [measure.residualMm, calibration.residualMm],
    [measure.fitProbability, calibration.fits],
    [measure.scatter, calibration.scatter],
    [measure.mmPerPxLeast, calibration.mmPerPx[0]],
    [measure.mmPerPxMost, calibration.mmPerPx[1]],
    [measure.tilt.value, calibration.viewpoint.tilt.value],
    [measure.tilt.high, calibration.viewpoint.tilt.high],
    [measure.points[2].rightPx, calibration.points[2].px[0]],
    [measure.places[0].x.value, found.places[0].x.value],
    [measure.places[0].y.uncertainty, found.places[0].y.uncertainty],
    [measure.lengths[0].length.low, found.lengths[0].measured.low],
    [measure.lengths[0].agreement.difference, found.lengths[0].agreement.difference],
    [measure.scale.tooLong.high, found.scale.percent.high],
    [measure.components[0].body.length.high, found.components[0].body.length.high],
    [measure.components[0].body.rotation.value, found.components[0].body.rotation.value],
  ])
    expect(ours).toBe(theirs);
  expect(measure.components[0].position.sentence).toBe(found.components[0].position.sentence);
  expect(measure.cautions).toEqual(found.cautions);
});

test('two points say what they do not know', async () => {
  const two = CORNERS.slice(0, 2)
    .map((mm) => `${seen(mm).join(',')}=${mm.join(',')}`)
    .join('; ');
  const { out, err } = await run('measure', 'ferrule-band-1/a/top', `--points=${two}`, '--places=50,50');
  expect(out).toContain('tilt of the view  not known');
  expect(err).toMatch(/5°: 0\.4 % \(\d+ %\), 10°: 1\.5 % \(\d+ %\), 15°: 3\.4 %/u);
});

test('a printed target is checked without an archive', async () => {
  const { out, code } = await run(
    'measure',
    '--data=nowhere',
    '--file=shots/top.jpg',
    `--points=${points}`,
    `--lengths=${seen([2, 2]).join(',')} ${seen([28, 2]).join(',')}=25.74; ${seen([3, 3]).join(',')} ${seen([3, 17]).join(',')}=13.86`,
  );
  expect(code).toBe(0);
  expect(out).toContain('picture: top side, 1600 × 1200 px');
  // 26 and 14 mm by the points, and 1 % less by the ruler.
  expect(out).toMatch(
    /lengths come out 1\.\d+ % too long .*: a target printed at 99\.0 % of its size does that/u,
  );
});

test('a point that is wrong is named', async () => {
  const wrong = [...CORNERS, [15, 0] as Place, [0, 10] as Place]
    .map((mm, i) => `${seen(mm).join(',')}=${i === 3 ? mm[0] + 1 : mm[0]},${mm[1]}`)
    .join('; ');
  const { err } = await run('measure', 'ferrule-band-1/a/top', `--points=${wrong}`);
  expect(err).toContain('Point 4 stands out: the others put it 1');
});

test('a photo is changed in what is given, and a stale record is a conflict', async () => {
  const digest = async () =>
    JSON.parse(
      (await run('ask', '--query', '{ node(id: "ferrule-band-1/a/top") { ... on Photo { recordDigest } } }'))
        .out,
    ).data.node.recordDigest;
  const seenAs = await digest();
  const first = await run(
    'change-photo',
    'ferrule-band-1/a/top',
    '--caption',
    'Top.',
    '--record-digest',
    seenAs,
    ...because,
  );
  expect(first.code).toBe(0);
  const second = await run(
    'change-photo',
    'ferrule-band-1/a/top',
    '--caption',
    'Mine.',
    '--record-digest',
    seenAs,
    ...because,
  );
  expect(second.code).not.toBe(0);
  expect(second.err).toContain('was changed since it was seen');
  const again = await run('change-photo', 'ferrule-band-1/a/top', '--caption', 'Top.', ...because);
  expect(again.err).toContain('nothing to change');
  expect((await json('measure', 'ferrule-band-1/a/top')).components).toHaveLength(1);
});

test('under one key a photo is added once; an id that is taken and a region of nothing are refused', async () => {
  const asked = [
    'add-photo',
    'ferrule-band-1/a',
    'small',
    'shots/small.png',
    ...SHOT,
    '--key',
    'one-photo',
    ...because,
  ];
  const once = await run(...asked);
  const twice = await run(...asked);
  expect([once.code, twice.code]).toEqual([0, 0]);
  expect(twice.err).toBe(once.err);
  const measuring = [
    'record-measurement',
    'ferrule-band-1/a/top',
    'U1',
    'position',
    'once-more',
    '--key',
    'one-measurement',
    ...because,
  ];
  const [first, again] = [await run(...measuring), await run(...measuring)];
  expect([first.code, again.code]).toEqual([0, 0]);
  expect(again.err).toBe(first.err);
  const other = await run('add-photo', 'ferrule-band-1/a', 'small', 'shots/small.png', ...SHOT, ...because);
  expect(other.err).toContain('has a photo "small" already');
  const nothing = await run(
    'change-photo',
    'ferrule-band-1/a/small',
    '--regions',
    'U9=10,10,5,5',
    ...because,
  );
  expect(nothing.code).not.toBe(0);
  expect(nothing.err).toContain('U9');
});

test('copies are told of the archive, and of what files bring', async () => {
  // The same picture at half its size.
  expect((await run('alike')).out).toMatch(
    /ferrule-band-1\/a\/small +likely a copy of +ferrule-band-1\/a\/top/u,
  );
  const small = await json('alike', 'ferrule-band-1/a/top');
  expect(small.map(({ other }: { other: string }) => other)).toEqual(['ferrule-band-1/a/small']);
  const picture = await pictureOf('webp', { width: 400, height: 300 });
  writeFileSync(join(folder.path, 'shots', 'again.webp'), picture);
  writeFileSync(
    join(folder.path, 'band-2.yaml'),
    dossier(
      2,
      `photos:\n  - { id: again, sha256: ${sha256Of(picture)}, file: shots/again.webp, credit: A. Example, licence: CC0-1.0 }\n`,
    ),
  );
  const told = 'photo "ferrule-band-2/a/again" is likely a copy of ferrule-band-1/a/top';
  expect((await run('check', 'band-2.yaml')).out).toContain(told);
  expect((await run('import', 'band-2.yaml', ...because)).err).toContain(told);
  // Once it is there, it is no news.
  expect((await run('import', 'band-2.yaml', ...because)).err).not.toContain('likely a copy');
});

test('a dossier filed again as it was keeps what was recorded of photos since; what it says anew counts', async () => {
  writeFileSync(join(folder.path, 'band-1.yaml'), `${dossier(1)}note: Looked at again.\n`);
  expect((await run('import', 'band-1.yaml', ...because)).code).toBe(0);
  expect((await json('measure', 'ferrule-band-1/a/top')).components).toHaveLength(1);
  const { out } = await run('export', 'ferrule-band-1/a');
  expect(out).toContain('id: top');
});
