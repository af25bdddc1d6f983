import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { file } from '../service/feeds/feeding.ts';
import { type Served, serve } from '../service/serving.ts';
import { demoArchive } from '../trends/demo.ts';
import { openBrowser } from './browser.ts';

// The dashboard of the demo in a browser that has no network: the charting library comes from its package, byte for byte as the page's
// digests want it (Subresource Integrity), the page from another origin than the service.

const require = createRequire(import.meta.url);
const FILE = fileURLToPath(new URL('../../seed-data/dashboard.html', import.meta.url));
// The packages do not export these files by name.
const PACKAGES = fileURLToPath(new URL('../../node_modules/', import.meta.url));
const HTML = readFileSync(FILE, 'utf8');
const SCRIPTS = [...HTML.matchAll(/<script src="([^"]+)" integrity="([^"]+)"/gu)].map(
  ([, url, integrity]) => ({
    url,
    integrity,
    body: readFileSync(join(PACKAGES, url.replace(/^.*\/npm\/([a-z-]+)@[^/]+\//u, '$1/'))),
  }),
);
const FEEDS = ['pressure-sensors-by-year', 'mass-by-year', 'newest-devices'];

let archive: Archive;
let served: Served;
let service: string;
let pages: Server;
let browser: Browser;
beforeAll(async () => {
  archive = await demoArchive();
  served = await serve({}, archive);
  service = await served.app.listen({ host: '127.0.0.1', port: 0 });
  pages = createServer((_, answer) => {
    answer.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(HTML);
  }).listen(0, '127.0.0.1');
  await new Promise((done) => pages.once('listening', done));
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  pages?.close();
  await served.close();
});

/** The dashboard at an address, with what it asks the service for. */
async function open(address: string): Promise<{ page: Page; asked: string[]; wrong: string[] }> {
  const page = await browser.newPage();
  page.setDefaultTimeout(0);
  const asked: string[] = [];
  const wrong: string[] = [];
  for (const { url, body } of SCRIPTS)
    await page.route(url, (route) =>
      route.fulfill({
        body,
        contentType: 'text/javascript',
        headers: { 'access-control-allow-origin': '*' },
      }),
    );
  page.on('request', (request) => {
    if (request.url().endsWith('.json')) asked.push(request.url().replace(service, ''));
  });
  page.on('console', (message) => {
    if (message.type() === 'error') wrong.push(message.text());
  });
  page.on('pageerror', (error) => wrong.push(error.message));
  await page.goto(`${address}?service=${encodeURIComponent(service)}`);
  for (const id of FEEDS) await page.locator(`#${id}[data-drawings] svg`).waitFor();
  return { page, asked, wrong };
}

test('the library is a release of the registry, held to its digest', () => {
  expect(SCRIPTS.length).toBe(2);
  for (const { url, integrity, body } of SCRIPTS) {
    const about = join(PACKAGES, url.replace(/^.*\/npm\/([a-z-]+)@.*$/u, '$1/package.json'));
    const { version } = JSON.parse(readFileSync(about, 'utf8')) as { version: string };
    expect(url).toContain(`@${version}/`);
    expect(integrity).toBe(`sha384-${createHash('sha384').update(body).digest('base64')}`);
  }
});

test('served from another origin it shows three feeds, and draws anew the one that an entry changes', async () => {
  const { page, asked, wrong } = await open(`http://127.0.0.1:${(pages.address() as AddressInfo).port}/`);
  const textOf = (id: string) => page.locator(`#${id}`).textContent();
  expect(await textOf('pressure-sensors-by-year')).toMatch(/n: (?:\d+ of )?\d+ devices\..*not the market/su);
  expect(await textOf('mass-by-year')).toMatch(/n: (?:\d+ of )?42 devices\..*of one product line/su);
  expect(await textOf('newest-devices')).toContain('n: 10 devices');
  expect(await textOf('pressure-sensors-by-year')).toContain('95 % interval');
  expect(asked.toSorted()).toEqual(FEEDS.map((id) => `/feeds/${id}.json`).toSorted());

  const device = archive.state('desk').device('tarn-sennit-1');
  await file(archive, { devices: [{ ...device, mass: { value: 170, unit: 'g' } }] });
  await page.locator('#mass-by-year[data-drawings="2"]').waitFor();
  expect(await textOf('mass-by-year')).toContain('Changed at');
  // What else the entry would have changed is told within the same moment; the others stay as they were.
  await page.waitForTimeout(1_500);
  for (const id of ['pressure-sensors-by-year', 'newest-devices'])
    expect(await page.locator(`#${id}`).getAttribute('data-drawings'), id).toBe('1');
  expect(asked.slice(3)).toEqual(['/feeds/mass-by-year.json']);
  expect(wrong).toEqual([]);

  // Outside check: axe-core's rules for WCAG 2.2, levels A and AA.
  await page.evaluate(readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8'));
  const { violations } = (await page.evaluate(
    "axe.run('body', { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })",
  )) as AxeResults;
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`)).toEqual([]);
  await page.close();
});

test('opened from disk it shows them as well, since these feeds may be read by all', async () => {
  const { page, wrong } = await open(pathToFileURL(FILE).href);
  expect(await page.locator('figure svg').count()).toBe(3);
  expect(wrong).toEqual([]);
  await page.close();
});
