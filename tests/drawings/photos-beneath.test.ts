import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { Archive } from '../../src/archive.ts';
import { pngOf } from '../../src/charts/render.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { upright } from '../../src/photos/decoder.ts';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import { Photos } from '../../src/photos/photos.ts';
import { drawBoard, planBoard } from '../../src/questions/drawings.ts';
import type { State } from '../../src/state/state.ts';
import { seededRandom } from '../bench/generate.ts';
import { MemoryPhotos } from '../photos/memory-store.ts';
import { pixelsOf } from '../photos/pictures.ts';
import { testSeed } from '../random.ts';
import { BY, documentOf } from '../service/serving.ts';
import { cornersOf, elementsOf } from './read-svg.ts';

// Photos are taken of boards by pinhole cameras in space, which say nothing of homographies (Hartley and Zisserman, 2nd edition, section
// 6.1). Marks whose places the drawing is not told must lie in it where they lie on the board, within what it says.

type Xy = readonly [number, number];
type Side = 'top' | 'bottom';
const DEGREES = Math.PI / 180;
const [PHOTO_WIDTH, PHOTO_HEIGHT] = [1_600, 1_200];

interface Scene {
  readonly size: Xy;
  readonly side: Side;
  readonly tilt: number;
  readonly towards: number;
  readonly turn: number;
}

/** From a place of the board (mm, seen from its top side) to one on the photo (pixels). */
function camera({ size: [length, width], side, tilt, towards, turn }: Scene): (place: Xy) => Xy {
  const height = 150;
  const focal = (0.62 * PHOTO_HEIGHT * height) / Math.hypot(length, width);
  return ([x, y]) => {
    const [px, py] = [(side === 'bottom' ? -1 : 1) * (x - length / 2), y - width / 2];
    const [u, v] = [
      px * Math.cos(towards) - py * Math.sin(towards),
      px * Math.sin(towards) + py * Math.cos(towards),
    ];
    const [cu, cv, cz] = [u, v * Math.cos(tilt), height + v * Math.sin(tilt)];
    const angle = turn - towards;
    const [a, b] = [cu * Math.cos(angle) - cv * Math.sin(angle), cu * Math.sin(angle) + cv * Math.cos(angle)];
    return [PHOTO_WIDTH / 2 + (focal * a) / cz, PHOTO_HEIGHT / 2 - (focal * b) / cz];
  };
}

/** Known points: targets outside the board, as on a bench. */
const targetsOf = ([length, width]: Xy): readonly Xy[] => [
  [-2, -2],
  [length + 2, -2],
  [length + 2, width + 2],
  [-2, width + 2],
];
/** Marks that nothing is told of, no two of them in mirrored places. */
const marksOf = ([length, width]: Xy): readonly Xy[] => [
  [0.2 * length, 0.2 * width],
  [0.83 * length, 0.3 * width],
  [0.4 * length, 0.75 * width],
  [0.63 * length, 0.47 * width],
];

async function photograph(scene: Scene): Promise<Uint8Array> {
  const see = camera(scene);
  const path = (points: readonly Xy[]) => `M${points.map((one) => see(one).join(' ')).join('L')}Z`;
  const disc = ([x, y]: Xy) =>
    path(
      Array.from({ length: 72 }, (_, i): Xy => {
        const angle = i * 5 * DEGREES;
        return [x + 0.6 * Math.cos(angle), y + 0.6 * Math.sin(angle)];
      }),
    );
  const [length, width] = scene.size;
  const corners: readonly Xy[] = [
    [0, 0],
    [length, 0],
    [length, width],
    [0, width],
  ];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${PHOTO_WIDTH}" height="${PHOTO_HEIGHT}"><rect width="100%" height="100%" fill="#888"/><path d="${path(corners)}" fill="#141414"/>${marksOf(
    scene.size,
  )
    .map((mark) => `<path d="${disc(mark)}" fill="#fff"/>`)
    .join('')}</svg>`;
  const png = new Resvg(svg).render().asPng();
  return upright(png).flatten({ background: '#fff' }).jpeg({ quality: 95 }).toBuffer();
}

/** A board of which each scene shows a side, with as many known points as wanted. */
async function archiveWith(scenes: readonly Scene[], known: number, told: object = {}) {
  const photos = await Promise.all(scenes.map(async (scene) => inspectPhoto(await photograph(scene))));
  const [{ size }] = scenes;
  const dossier = {
    caseback: 'dossier/1',
    device: {
      id: 'quoin-disc',
      name: 'Quoin Disc',
      maker: 'quoin',
      released: '2021',
      bodySite: 'wrist',
      invented: true,
    },
    specimen: { id: 'a' },
    teardown: { on: '2022-03', by: 'A. Example', hazards: [] },
    boards: [
      { id: 'main', kind: 'rigid', sides: ['top', 'bottom'], outline: { length: size[0], width: size[1] } },
    ],
    photos: scenes.map((scene, i) => ({
      id: `photo-${scene.side}`,
      sha256: photos[i].file.sha256,
      credit: 'B. Example',
      licence: 'CC-BY-4.0',
      board: 'main',
      side: scene.side,
      points: targetsOf(size)
        .slice(0, known)
        .map((mm) => {
          const [x, y] = camera(scene)(mm);
          return { at: [round((100 * x) / PHOTO_WIDTH), round((100 * y) / PHOTO_HEIGHT)], mm };
        }),
      ...told,
    })),
  };
  const catalogue = {
    caseback: 'catalogue/1',
    makers: [{ id: 'quoin', name: 'Quoin', makes: ['devices'], invented: true }],
  };
  const folder = mkdtempSync(join(tmpdir(), 'caseback-renditions-'));
  const archive = await Archive.open(
    new MemoryJournal(),
    undefined,
    undefined,
    new Photos(new MemoryPhotos(), folder),
  );
  await archive.importDocuments([catalogue, dossier].map(documentOf), BY, {
    photos: new Map(photos.map((one) => [one.file.sha256, one])),
  });
  return archive;
}

/** As a dossier has it: a hundredth of a percent. */
const round = (value: number) => Math.round(value * 100) / 100;

const BOARD = 'quoin-disc/a/main';
const drawn = (view: State, archive: Archive, question: object) =>
  drawBoard(view, BOARD, { photoStrength: 100, ...question }, { photos: archive.photos });

/** The largest error that a drawing says, mm. */
function statedIn(description: string): number {
  const [, stated] = /within ± ([\d.]+) mm/u.exec(description) ?? [];
  return Number(stated);
}

/** How far marks lie from where they should be, in x and in y, mm of the board. */
async function errorsOf(svg: string, { size, side }: Scene): Promise<readonly number[]> {
  const dpi = 300;
  const { data, width } = await pixelsOf(await pngOf(svg, dpi));
  const corners = cornersOf(svg, 'main');
  const [left, top] = [Math.min(...corners.map(([x]) => x)), Math.min(...corners.map(([, y]) => y))];
  const scale = (Math.max(...corners.map(([x]) => x)) - left) / size[0];
  const isWide = size[0] >= size[1];
  const isTurned = side === 'bottom';
  return marksOf(size).flatMap(([x, y]) => {
    // Turned over its long edge.
    const place: Xy = [
      left + scale * (isTurned && !isWide ? size[0] - x : x),
      top + scale * (isTurned && isWide ? y : size[1] - y),
    ];
    const [px, py] = place.map((mm) => (mm * dpi) / 25.4);
    const reach = Math.round((2 * scale * dpi) / 25.4);
    let [sum, sumX, sumY] = [0, 0, 0];
    for (let j = Math.round(py) - reach; j <= py + reach; j++)
      for (let i = Math.round(px) - reach; i <= px + reach; i++) {
        const bright = Math.max(0, data[j * width + i] - 80);
        [sum, sumX, sumY] = [sum + bright, sumX + bright * (i + 0.5), sumY + bright * (j + 0.5)];
      }
    const toBoard = 25.4 / (dpi * scale);
    return [Math.abs(sumX / sum - px) * toBoard, Math.abs(sumY / sum - py) * toBoard];
  });
}

const SCENES: readonly Scene[] = [
  { size: [36, 24], side: 'top', tilt: 28 * DEGREES, towards: 40 * DEGREES, turn: 8 * DEGREES },
  { size: [36, 24], side: 'bottom', tilt: 22 * DEGREES, towards: -70 * DEGREES, turn: 187 * DEGREES },
  { size: [20, 33], side: 'top', tilt: 15 * DEGREES, towards: 200 * DEGREES, turn: 95 * DEGREES },
  { size: [20, 33], side: 'bottom', tilt: 31 * DEGREES, towards: 10 * DEGREES, turn: -12 * DEGREES },
];

describe('a photo beneath a drawing lies where the board does', () => {
  test.each(SCENES)(
    '$size mm, $side, tilted: within what is said, at marks that nobody told',
    async (scene) => {
      const archive = await archiveWith([scene], 4);
      const { svg, description } = await drawn(archive.state('reader'), archive, { side: scene.side });
      const stated = statedIn(description);
      expect(stated).toBeGreaterThan(0);
      expect(stated).toBeLessThan(0.2);
      for (const error of await errorsOf(svg, scene)) expect(error).toBeLessThan(stated);
    },
  );

  test('whatever the camera', async () => {
    const random = seededRandom(testSeed());
    for (let i = 0; i < 3; i++) {
      const scene: Scene = {
        size: [18 + 30 * random(), 18 + 30 * random()],
        side: random() < 0.5 ? 'top' : 'bottom',
        tilt: 35 * DEGREES * random(),
        towards: 360 * DEGREES * random(),
        turn: 360 * DEGREES * random(),
      };
      const archive = await archiveWith([scene], 4);
      const { svg, description } = await drawn(archive.state('reader'), archive, { side: scene.side });
      for (const error of await errorsOf(svg, scene)) expect(error).toBeLessThan(statedIn(description));
    }
  });

  test.each([
    [2, /how the camera was tilted/u],
    [3, /how near the camera was/u],
  ] as const)(
    'with %i points, seen from straight above, and says what they do not tell',
    async (known, says) => {
      for (const side of ['top', 'bottom'] as const) {
        const scene: Scene = { size: [36, 24], side, tilt: 0, towards: 0, turn: 20 * DEGREES };
        const archive = await archiveWith([scene], known);
        const { svg, description } = await drawn(archive.state('reader'), archive, { side });
        for (const error of await errorsOf(svg, scene)) expect(error).toBeLessThan(statedIn(description));
        expect(description).toMatch(says);
        expect(svg).toMatch(says);
      }
    },
  );
});

describe('what a drawing says of the photos beneath', () => {
  test('whose they are, and which side has none; without a wish there are none', async () => {
    const archive = await archiveWith([SCENES[0]], 4);
    const view = archive.state('reader');
    const { svg, description } = await drawn(view, archive, { photoStrength: 35 });
    const [image, ...more] = elementsOf(svg).filter(({ name }) => name === 'image');
    expect(more).toEqual([]);
    expect(image.attributes).toMatchObject({ opacity: '0.35', 'data-of': 'main' });
    expect(image.attributes['xlink:href']).toMatch(/^data:image\/jpeg;base64,/u);
    for (const text of [svg.replaceAll(/<\/text>\s*<text[^>]*>/gu, ' '), description]) {
      expect(text).toContain('quoin-disc/a/photo-top');
      expect(text).toContain('B. Example, CC-BY-4.0');
    }
    expect((await validateXML({ xml: svg, normalization: 'c14n' })).errors).toEqual([]);
    for (const without of [{ photoStrength: 0 }, { photoStrength: null }, { photoStrength: undefined }]) {
      const plain = await drawn(view, archive, without);
      expect(plain.svg).not.toContain('<image');
      expect(plain.svg).toBe((await drawBoard(view, BOARD)).svg);
    }
  });

  test('linked, the picture is named and comes along', async () => {
    const archive = await archiveWith(SCENES.slice(0, 2), 4);
    const view = archive.state('reader');
    const question = { photoStrength: 50 };
    const linkOf = ({ side }: { side: string }) => `board.${side}.jpg`;
    const { svg, linked } = await drawBoard(view, BOARD, question, { photos: archive.photos, linkOf });
    expect(linked.map(({ href }) => href)).toEqual(['board.top.jpg', 'board.bottom.jpg']);
    for (const { href } of linked) expect(svg).toContain(`xlink:href="${href}"`);
    expect(svg).not.toContain('data:image');
  });

  test.each([
    [{ photoStrength: 101 }, /photoStrength is 101; it must be 0 to 100 percent/u],
    [{ photoStrength: -1 }, /0 to 100/u],
    [{ photoStrength: Number.NaN }, /0 to 100/u],
    [{ photoStrength: 0, photos: ['quoin-disc/a/photo-top'] }, /with a photoStrength above 0/u],
    [{ photos: ['quoin-disc/a/nothing'] }, /nothing/u],
    [{ side: 'bottom' }, /No photo lies beneath the bottom side: none is recorded/u],
  ])('%o is refused', async (question, says) => {
    const archive = await archiveWith([SCENES[0]], 4);
    await expect(drawn(archive.state('reader'), archive, question)).rejects.toThrow(says);
  });

  test('points that span nothing are refused by their reason', async () => {
    const points = [0, 1, 2, 3].map((i) => ({ at: [10 + i, 10 + i], mm: [i, i] }));
    const archive = await archiveWith([SCENES[0]], 4, { points });
    await expect(drawn(archive.state('reader'), archive, { side: 'top' })).rejects.toThrow(/on a line/u);
  });
});

test('a page is told the same photo for each side, and that it lies where the board does', async () => {
  const archive = await archiveWith(SCENES.slice(0, 2), 4);
  const view = archive.state('desk');
  const plans = await planBoard(view, BOARD, { photoStrength: 1 });
  const { description } = await drawn(view, archive, {});
  expect(plans.map(({ side }) => side)).toEqual(['top', 'bottom']);
  for (const { side, photo, shapes } of plans) {
    const outline = shapes.find((shape) => shape.kind === 'area' && shape.of === BOARD);
    const corners = outline?.kind === 'area' ? outline.rings[0] : [];
    for (const axis of [0, 1] as const) {
      const along = corners.map((corner) => corner[axis]);
      expect(photo?.at[axis]).toBeCloseTo(Math.min(...along), 6);
      expect([photo?.width, photo?.height][axis]).toBeCloseTo(Math.max(...along) - Math.min(...along), 6);
    }
    expect(photo?.id).toBe(`quoin-disc/a/photo-${side}`);
    expect(description).toContain(photo?.note ?? 'a note');
  }
  // With a single known point there is none.
  const [bare] = await planBoard(
    (await archiveWith(SCENES.slice(0, 1), 2, { points: undefined })).state('desk'),
    BOARD,
  );
  expect(bare.photo).toBeUndefined();
});
