import sharp from 'sharp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { Place } from '../../src/measurement/plane.ts';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import { photosInMemory } from '../leaks/photos.ts';
import { type Camera, photographed, spotOf } from '../measurement/camera.ts';
import { pictureOf } from '../photos/pictures.ts';
import { CATALOGUE, dossier } from './invented.ts';
import { BY, documentOf, type Served, serve } from './serving.ts';

// A bench page would do it so: a photo added, its file put, its points set, measured, and what was measured recorded.

const CAMERA: Camera = {
  width: 1_200,
  height: 900,
  focal: 1_300,
  distance: 60,
  looksAt: [15, 10],
  tilt: 18,
  towards: 70,
  turn: -8,
};
const at = (place: Place) => {
  const [left, top] = spotOf(CAMERA, photographed(CAMERA, place));
  return { left, top };
};
const POINTS = (
  [
    [0, 0],
    [30, 0],
    [30, 20],
    [0, 20],
    [15, 10],
    [15, 0],
  ] as const
).map(([x, y]) => ({ at: at([x, y]), x, y }));

let served: Served;
let picture: Buffer;
beforeAll(async () => {
  const archive = await Archive.open(new MemoryJournal(), undefined, undefined, photosInMemory());
  const own = dossier({ id: 'tarn-sennit-8', name: 'Tarn Sennit 8', released: '2022' });
  await archive.importDocuments([{ ...CATALOGUE, publications: [], patterns: [] }, own].map(documentOf), BY);
  served = await serve({ audience: 'desk' }, archive);
  picture = await pictureOf('jpeg', { width: 1_200, height: 900, seed: 7 });
});
afterAll(() => served.close());

const ADD = `mutation ($sha256: String!) { addPhoto(input: { specimen: "tarn-sennit-8/a", id: "top", sha256: $sha256, credit: "A. Example",
  licence: "CC0-1.0", side: TOP, reason: "bench" }) { photo { id side recordDigest points { x } picture { widthPx } } entry { kind } } }`;
const CHANGE = `mutation ($points: [PhotoPointInput!], $regions: [PhotoRegionInput!], $digest: String) { changePhoto(input: { photo: "tarn-sennit-8/a/top",
  points: $points, regions: $regions, recordDigest: $digest, reason: "picked" }) { photo { recordDigest points { x y at { left } } regions { of { id } } } entry { kind } } }`;

test('added, put, given points, measured and recorded', async () => {
  const { sha256 } = (await inspectPhoto(picture)).file;
  const { addPhoto } = await served.ask(ADD, { sha256 });
  expect(addPhoto).toMatchObject({
    photo: { id: 'tarn-sennit-8/a/top', side: 'TOP', points: [], picture: null },
  });
  expect(addPhoto.entry.kind).toBe('PHOTO_RECORDED');
  const put = await served.app.inject({
    method: 'PUT',
    url: '/photos/tarn-sennit-8/a/top',
    headers: { 'content-type': 'image/jpeg' },
    payload: picture,
  });
  expect(put.statusCode).toBe(201);
  expect(put.json().alike).toEqual([]);
  const { changePhoto } = await served.ask(CHANGE, { points: POINTS, digest: addPhoto.photo.recordDigest });
  expect(changePhoto.photo.points).toHaveLength(6);

  const stale = await served.answer(CHANGE, { points: [], digest: addPhoto.photo.recordDigest });
  expect(stale.errors?.[0].extensions.code).toBe('CONFLICT');
  const taken = await served.answer(ADD, { sha256: 'ab12'.repeat(16) });
  expect(taken.errors?.[0].extensions.code).toBe('CONFLICT');

  const [a, b] = [
    [6, 4],
    [26, 15],
  ] as readonly Place[];
  const { measure } = await served.ask(
    `query ($from: PhotoSpotInput!, $to: PhotoSpotInput!) { measure(photo: "tarn-sennit-8/a/top", picked: 0.5, lengths: [{ from: $from, to: $to, is: ${Math.hypot(20, 11)} }], places: [$from]) {
      plane tilt { low high } cameraDistance { low high } lengths { length { value } agreement { verdict } } places { x { value } y { value } isOutside } points { standsOutMm } } }`,
    { from: at(a), to: at(b) },
  );
  expect(measure.plane).toBe('PERSPECTIVE');
  expect(measure.tilt.low).toBeLessThan(18);
  expect(measure.tilt.high).toBeGreaterThan(18);
  expect(measure.lengths[0].length.value).toBeCloseTo(Math.hypot(20, 11), 6);
  expect(measure.lengths[0].agreement.verdict).toBe('AGREES');
  expect(measure.places[0].x.value).toBeCloseTo(6, 6);
  expect(measure.places[0].y.value).toBeCloseTo(4, 6);

  const corners = (
    [
      [4, 3],
      [8, 3],
      [8, 5],
      [4, 5],
    ] as const
  ).map((place) => at(place));
  const { recordMeasurement } = await served.ask(
    `mutation ($corners: [PhotoSpotInput!]) { recordMeasurement(input: { photo: "tarn-sennit-8/a/top", component: "U1", kind: BODY_SIZE, id: "u1-size",
      body: { corners: $corners }, reason: "for the figure" }) { observation { id kind text photo { id } value { value unit plusMinus } by } cautions { what } } }`,
    { corners },
  );
  expect(recordMeasurement.observation).toMatchObject({
    id: 'tarn-sennit-8/a/u1-size',
    kind: 'BODY_SIZE',
    photo: { id: 'tarn-sennit-8/a/top' },
    by: BY.actor,
  });
  expect(recordMeasurement.observation.text).toMatch(/^4\.0\d* x 2\.0\d* mm$/u);
  const { node } = await served.ask(
    '{ node(id: "tarn-sennit-8/a/top") { ... on Photo { alike { photo { id } } } } }',
  );
  expect(node.alike).toEqual([]);
});

test('a file that is brought in says of which photos it is likely a copy', async () => {
  const smaller = await sharp(picture).resize(600).png().toBuffer();
  const { sha256 } = (await inspectPhoto(smaller)).file;
  await served.ask(ADD.replace('id: "top"', 'id: "again"'), { sha256 });
  const put = await served.app.inject({
    method: 'PUT',
    url: '/photos/tarn-sennit-8/a/again',
    headers: { 'content-type': 'image/png' },
    payload: smaller,
  });
  expect(put.json().alike).toMatchObject([{ photo: 'tarn-sennit-8/a/top', likeness: 'near-copy' }]);
  const { node } = await served.ask(
    '{ node(id: "tarn-sennit-8/a/top") { ... on Photo { alike { photo { id } likeness bitsApart } } } }',
  );
  expect(node.alike).toMatchObject([{ photo: { id: 'tarn-sennit-8/a/again' }, likeness: 'NEAR_COPY' }]);
});

test.each([
  [
    'points that lie on a line',
    'points: [{ at: { left: 1, top: 1 }, x: 0, y: 0 }, { at: { left: 9, top: 9 }, x: 1, y: 1 }, { at: { left: 17, top: 17 }, x: 2, y: 2 }]',
    'BAD_INPUT',
  ],
  ['a place far beside the photo', 'places: [{ left: 500, top: 1 }]', 'BAD_INPUT'],
  ['a picking error of none', 'picked: 0', 'BAD_INPUT'],
  [
    'a length that ends where it begins',
    'lengths: [{ from: { left: 1, top: 1 }, to: { left: 1, top: 1 } }]',
    'BAD_INPUT',
  ],
  ['a body without a shape', 'bodies: [{ rotation: 3 }]', 'BAD_INPUT'],
])('%s is refused', async (_what, argument, code) => {
  const { errors } = await served.answer(`{ measure(photo: "tarn-sennit-8/a/top", ${argument}) { plane } }`);
  expect(errors?.[0].extensions.code).toBe(code);
});
