import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import { Photos } from '../../src/photos/photos.ts';
import { MemoryPhotos } from '../photos/memory-store.ts';
import { BY, documentOf, type Served, serve } from '../service/serving.ts';
import { openBrowser } from './browser.ts';

// Outside check: OpenSeadragon, a viewer that knows the IIIF Image API and nothing of this project, opens a photo of a running service
// from a page of another origin: every tile of every level is there, what it shows is the picture, and regions lie where things are.

const library = readFileSync(
  createRequire(import.meta.url).resolve('openseadragon/build/openseadragon/openseadragon.min.js'),
  'utf8',
);

/** The upright picture: a slope of grey with one bright body on it. Odd sizes, so that tiles at the edges are no whole ones. */
const WIDTH = 1_801;
const HEIGHT = 2_603;
const BODY = { left: 900, top: 1_562, width: 271, height: 130 };
const greyAt = (x: number, y: number) =>
  x >= BODY.left && x < BODY.left + BODY.width && y >= BODY.top && y < BODY.top + BODY.height
    ? 240
    : Math.round(30 + (70 * x) / WIDTH + (70 * y) / HEIGHT);

/** The file as a camera held on its side writes it. */
async function pictureOfBody(): Promise<Buffer> {
  const pixels = Buffer.alloc(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) for (let x = 0; x < WIDTH; x++) pixels[y * WIDTH + x] = greyAt(x, y);
  const upright = sharp(pixels, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } });
  const lying = await upright.rotate(-90).png().toBuffer();
  return sharp(lying).withMetadata({ orientation: 6 }).jpeg({ quality: 95 }).toBuffer();
}

const PHOTO = 'tarn-sennit-3/a/top';
const share = (pixels: number, of: number) => (100 * pixels) / of;

let served: Served;
let browser: Browser;
let page: Page;
const pageFile = join(tmpdir(), `caseback-viewer-${process.pid}.html`);
const answers: { url: string; status: number }[] = [];
const wrong: string[] = [];

beforeAll(async () => {
  const photo = await inspectPhoto(await pictureOfBody());
  const archive = await Archive.open(
    new MemoryJournal(),
    undefined,
    undefined,
    new Photos(new MemoryPhotos(), join(tmpdir(), `caseback-renditions-${process.pid}`)),
  );
  const records = [
    { caseback: 'catalogue/1', makers: [{ id: 'tarn', name: 'Tarn', makes: ['devices'], invented: true }] },
    {
      caseback: 'dossier/1',
      device: {
        id: 'tarn-sennit-3',
        name: 'Tarn Sennit 3',
        maker: 'tarn',
        bodySite: 'wrist',
        released: '2021',
        invented: true,
      },
      specimen: { id: 'a' },
      teardown: { on: '2023', by: 'I. Example' },
      components: [{ id: 'U1' }],
      photos: [
        {
          id: 'top',
          sha256: photo.file.sha256,
          credit: 'A. Example',
          licence: 'CC0-1.0',
          regions: [
            {
              of: 'U1',
              xywh: [
                share(BODY.left, WIDTH),
                share(BODY.top, HEIGHT),
                share(BODY.width, WIDTH),
                share(BODY.height, HEIGHT),
              ],
            },
          ],
        },
      ],
    },
  ];
  await archive.importDocuments(records.map(documentOf), BY, {
    photos: new Map([[photo.file.sha256, photo]]),
  });
  served = await serve({ audience: 'reader' }, archive);
  const address = await served.app.listen({ host: '127.0.0.1', port: 0 });
  writeFileSync(
    pageFile,
    `<!doctype html><meta charset="utf-8"><title>Viewer</title><style>body{margin:0}#viewer{width:900px;height:700px;background:#000}</style>
<div id="viewer"></div><script>${library}</script>
<script>
window.viewer = OpenSeadragon({
  id: 'viewer', tileSources: ${JSON.stringify(`${address}/photos/${PHOTO}/info.json`)}, crossOriginPolicy: 'Anonymous',
  drawer: 'canvas', showNavigationControl: false, animationTime: 0, immediateRender: true, imageSmoothingEnabled: false,
});
window.opened = new Promise((resolve, reject) => {
  viewer.addHandler('open', resolve);
  viewer.addHandler('open-failed', ({ message }) => reject(new Error(message)));
});
window.settled = () => new Promise((resolve) => {
  const look = () => {
    const item = viewer.world.getItemAt(0);
    viewer.forceRedraw();
    if (item.getFullyLoaded()) requestAnimationFrame(() => requestAnimationFrame(resolve)); else setTimeout(look, 20);
  };
  setTimeout(look, 50);
});
</script>`,
  );
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 920, height: 720 }, deviceScaleFactor: 1 });
  page.setDefaultTimeout(0);
  page.on('response', (response) => {
    if (response.url().startsWith(address)) answers.push({ url: response.url(), status: response.status() });
  });
  page.on('pageerror', (error) => wrong.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') wrong.push(message.text());
  });
  await page.goto(pathToFileURL(pageFile).href);
  await page.evaluate('opened');
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await served?.close();
  rmSync(pageFile, { force: true });
});

test('every tile of every level is there, and so is all that it asks for while it zooms', {
  timeout: 120_000,
}, async () => {
  const { levels, urls } = (await page.evaluate(`(() => {
    const { source } = viewer.world.getItemAt(0);
    const urls = [];
    for (let level = source.minLevel; level <= source.maxLevel; level++) {
      const { x, y } = source.getNumTiles(level);
      for (let i = 0; i < x; i++) for (let j = 0; j < y; j++) urls.push(source.getTileUrl(level, i, j));
    }
    return { levels: [source.minLevel, source.maxLevel], urls };
  })()`)) as { levels: [number, number]; urls: string[] };
  expect(levels[1] - levels[0]).toBeGreaterThanOrEqual(2);
  const statuses = (await page.evaluate(
    `Promise.all(${JSON.stringify(urls)}.map(async (url) => [url, (await fetch(url)).status]))`,
  )) as [string, number][];
  expect(statuses.filter(([, status]) => status !== 200)).toEqual([]);
  // 4 × 6 tiles of 512 px in full, 2 × 3 at a half, 1 × 2 at a quarter, one at an eighth.
  expect(new Set(urls).size).toBe(24 + 6 + 2 + 1);
  for (const factor of [0.1, 0.25, 0.5, 1, 2]) {
    await page.evaluate(
      `viewer.viewport.zoomTo(viewer.viewport.imageToViewportZoom(${factor}), undefined, true), settled()`,
    );
  }
  expect(answers.filter(({ status }) => status !== 200)).toEqual([]);
  expect(answers.filter(({ url }) => url.includes('/0/default.jpg')).length).toBeGreaterThan(urls.length);
  expect(wrong).toEqual([]);
});

/** Grey value that the viewer shows at a place of the picture, pixels. */
const shownAt = async (places: readonly (readonly [number, number])[]) =>
  (await page.evaluate(`(() => {
    const canvas = viewer.drawer.canvas;
    const context = canvas.getContext('2d');
    return ${JSON.stringify(places)}.map(([x, y]) => {
      const at = viewer.viewport.pixelFromPoint(viewer.viewport.imageToViewportCoordinates(x, y), true);
      return context.getImageData(Math.floor(at.x), Math.floor(at.y), 1, 1).data[0];
    });
  })()`)) as number[];

test('what it shows is the picture, upright, at the whole and close up', { timeout: 120_000 }, async () => {
  const places = [0.05, 0.3, 0.55, 0.8, 0.97].flatMap((u) =>
    [0.04, 0.25, 0.5, 0.75, 0.96].map((v) => [Math.round(u * WIDTH), Math.round(v * HEIGHT)] as const),
  );
  await page.evaluate('viewer.viewport.goHome(true), settled()');
  const whole = await shownAt(places);
  places.forEach(([x, y], i) => {
    expect(Math.abs((whole[i] as number) - greyAt(x, y)), `${x}, ${y}: ${whole[i]}`).toBeLessThan(8);
  });
  // Pixel for pixel, about the middle of the body.
  await page.evaluate(`(() => {
    const { viewport } = viewer;
    viewport.zoomTo(viewport.imageToViewportZoom(1), undefined, true);
    viewport.panTo(viewport.imageToViewportCoordinates(${BODY.left + BODY.width / 2}, ${BODY.top + BODY.height / 2}), true);
    return settled();
  })()`);
  const near = [
    [BODY.left + 5, BODY.top + 5],
    [BODY.left - 5, BODY.top + 5],
    [BODY.left + BODY.width - 5, BODY.top + BODY.height - 5],
    [BODY.left + BODY.width + 5, BODY.top + BODY.height - 5],
    [BODY.left + 40, BODY.top - 5],
    [BODY.left + 40, BODY.top + BODY.height + 5],
  ] as const;
  const close = await shownAt(near);
  near.forEach(([x, y], i) => {
    expect(Math.abs((close[i] as number) - greyAt(x, y)), `${x}, ${y}: ${close[i]}`).toBeLessThan(12);
  });
});

test.each(['annotations', 'manifest'] as const)(
  'a region from the %s lies where the body is seen',
  { timeout: 120_000 },
  async (from) => {
    const path =
      from === 'annotations' ? `/photos/${PHOTO}/annotations.json` : '/photos/tarn-sennit-3/a/manifest.json';
    const document = (await served.app.inject({ url: path })).json();
    const fragment: string =
      from === 'annotations'
        ? document.items[0].target.selector.value
        : document.items[0].annotations[0].items[0].target;
    const [, unit, numbers] = /xywh=(percent:)?([\d.,]+)$/u.exec(fragment) ?? [];
    const [x, y, w, h] = (numbers ?? '').split(',').map(Number) as [number, number, number, number];
    const [right, down] = unit ? [WIDTH / 100, HEIGHT / 100] : [1, 1];
    const edges = (await page.evaluate(`(async () => {
      viewer.clearOverlays();
      viewer.viewport.goHome(true);
      await settled();
      const element = document.createElement('div');
      viewer.addOverlay({
        element,
        location: viewer.viewport.imageToViewportRectangle(${x * right}, ${y * down}, ${w * right}, ${h * down}),
      });
      await settled();
      const { left, top, width, height } = element.getBoundingClientRect();
      const frame = viewer.canvas.getBoundingClientRect();
      const context = viewer.drawer.canvas.getContext('2d');
      const grey = (x, y) => context.getImageData(Math.round(x - frame.left), Math.round(y - frame.top), 1, 1).data[0];
      const [midX, midY] = [left + width / 2, top + height / 2];
      return {
        within: [grey(left + 2, midY), grey(left + width - 3, midY), grey(midX, top + 2), grey(midX, top + height - 3)],
        beyond: [grey(left - 3, midY), grey(left + width + 2, midY), grey(midX, top - 3), grey(midX, top + height + 2)],
      };
    })()`)) as { within: number[]; beyond: number[] };
    expect(Math.min(...edges.within), JSON.stringify(edges)).toBeGreaterThan(220);
    expect(Math.max(...edges.beyond), JSON.stringify(edges)).toBeLessThan(190);
  },
);
