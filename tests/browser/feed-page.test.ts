import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import type { AxeResults } from 'axe-core';
import type { Browser, Frame, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { addDevice, archiveWithFeeds, file } from '../service/feeds/feeding.ts';
import { type Served, serve } from '../service/serving.ts';
import { openBrowser } from './browser.ts';

// The page of a feed in a real browser: by itself, on a small screen, and in the frame of other sites.

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const TREND = `{ trend(of: { share: { category: "PressureSensor" } }) {
  cautions chart { subtitle n description columns rows cautions vegaLite } total { periods { period n value } } } }`;

let archive: Archive;
let served: Served;
let browser: Browser;
let address: string;
const sites: Server[] = [];
/** A site that frames whatever page it is asked for, `/?PAGE`. */
async function site(): Promise<string> {
  const server = createServer((request, response) => {
    const framed = decodeURIComponent(new URL(request.url ?? '', 'http://x').search.slice(1));
    response.setHeader('content-type', 'text/html');
    response.end(
      `<!doctype html><title>A site</title><iframe src="${framed}" width="600" height="500"></iframe>`,
    );
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  sites.push(server);
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

let listed: string;
let unlisted: string;
beforeAll(async () => {
  archive = await archiveWithFeeds();
  [listed, unlisted] = [await site(), await site()];
  const list = { title: 'Devices by name', question: '{ devices { nodes { id name } } }' };
  await file(archive, {
    feeds: [
      { id: 'trend', title: 'Devices with a pressure sensor', question: TREND, origins: [listed] },
      { id: 'open', ...list, origins: ['*'] },
      { id: 'closed', ...list },
    ],
  });
  served = await serve({}, archive);
  address = await served.app.listen({ host: '127.0.0.1', port: 0 });
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await served.close();
  for (const server of sites) server.close();
});

async function open(url: string, options: object = {}): Promise<{ page: Page; wrong: string[] }> {
  const page = await browser.newPage(options);
  page.setDefaultTimeout(0);
  const wrong: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') wrong.push(message.text());
  });
  page.on('pageerror', (error) => wrong.push(error.message));
  await page.goto(url);
  return { page, wrong };
}

const framedIn = async (origin: string, id: string) => {
  const { page, wrong } = await open(`${origin}/?${encodeURIComponent(`${address}/feeds/${id}`)}`);
  const frame = page.frames().find((one) => one !== page.mainFrame()) as Frame;
  await frame.waitForLoadState();
  return { page, wrong, frame };
};

/** Whether a picture was loaded and has a size. */
const PICTURED =
  "(() => { const i = document.querySelector('img'); return i !== null && i.complete && i.naturalWidth > 0; })()";

describe('in a frame', () => {
  test('of a listed origin it shows picture, table and style', async () => {
    const { page, wrong, frame } = await framedIn(listed, 'trend');
    await frame.waitForFunction(PICTURED);
    expect(await frame.locator('h1').textContent()).toBe('Devices with a pressure sensor');
    expect(await frame.locator('tbody tr').count()).toBeGreaterThan(0);
    // The style sheet was taken, though it may be embedded by this service alone (cross-origin-resource-policy).
    expect(await frame.evaluate("getComputedStyle(document.querySelector('table')).borderCollapse")).toBe(
      'collapse',
    );
    expect(wrong).toEqual([]);
    await page.close();
  });

  test('of another origin it is refused by the browser, and so where nobody is listed', async () => {
    for (const [origin, id] of [
      [unlisted, 'trend'],
      [listed, 'closed'],
      [unlisted, 'closed'],
    ] as const) {
      const { page, wrong, frame } = await framedIn(origin, id);
      expect(frame.url()).not.toContain('/feeds/');
      expect(await frame.locator('h1').count()).toBe(0);
      expect(wrong.join(' ')).toMatch(/frame-ancestors|X-Frame-Options/iu);
      await page.close();
    }
  });

  test('of any origin where all are listed, and shows a newer answer by itself', async () => {
    const { page, wrong, frame } = await framedIn(unlisted, 'open');
    const rows = () => frame.locator('tbody tr').count();
    const before = await rows();
    // Nobody is at work in it.
    await page.bringToFront();
    await addDevice(archive, 'draft');
    await addDevice(archive, 'published');
    const shows = `document.querySelectorAll('tbody tr').length === ${before + 1} || !document.getElementById('newer').hidden`;
    await frame.waitForFunction(shows);
    if (await frame.locator('#newer a').count()) await frame.locator('#newer a').click();
    await frame.waitForFunction(`document.querySelectorAll('tbody tr').length === ${before + 1}`);
    expect(wrong).toEqual([]);
    await page.close();
  });
});

describe.each(['light', 'dark'] as const)('in %s colours at 320 px', (colorScheme) => {
  test('it keeps WCAG 2.2 AA, does not scroll sideways, and is walked by keyboard', async () => {
    const { page, wrong } = await open(`${address}/feeds/trend`, {
      viewport: { width: 320, height: 640 },
      colorScheme,
    });
    await page.waitForFunction(PICTURED);
    await page.evaluate(axe);
    // Outside check: axe-core's rules for WCAG 2.2, levels A and AA.
    const { violations } = (await page.evaluate(
      "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })",
    )) as AxeResults;
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`)).toEqual([]);
    expect(await page.evaluate('document.documentElement.scrollWidth > innerWidth')).toBe(false);
    const walked: unknown[] = [];
    for (let i = 0; i < 4; i++) {
      await page.keyboard.press('Tab');
      walked.push(
        await page.evaluate(
          "document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent",
        ),
      );
    }
    expect(walked).toEqual([
      'Picture: Devices with a pressure sensor',
      'Table: Devices with a pressure sensor',
      'JSON',
      'CSV',
    ]);
    expect(wrong).toEqual([]);
    await page.close();
  });
});

test('it is whole without a script', async () => {
  const { page } = await open(`${address}/feeds/trend`, { javaScriptEnabled: false });
  expect(await page.locator('h2').first().textContent()).toBe('Cautions');
  expect(await page.locator('tbody tr').count()).toBeGreaterThan(0);
  await page.close();
});
