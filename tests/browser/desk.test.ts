import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { deskBundle } from '../../src/desk/bundle.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { CATALOGUE } from '../service/invented.ts';
import { type Served, serve } from '../service/serving.ts';
import { openBrowser } from './browser.ts';

const PUBLISHED = catalogueSchema.parse(CATALOGUE).publications[0];
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let served: Served;
let browser: Browser;
let address: string;
beforeAll(async () => {
  served = await serve({ desk: await deskBundle() });
  address = await served.app.listen({ host: '127.0.0.1', port: 0 });
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await served.close();
});

interface Opened {
  readonly page: Page;
  /** What was asked of other machines, and all that the console said. */
  readonly wrong: string[];
}

/** Opens a page and waits until it has come to life. */
async function open(path: string, options: Parameters<Browser['newPage']>[0] = {}): Promise<Opened> {
  const page = await browser.newPage(options);
  page.setDefaultTimeout(0);
  const wrong: string[] = [];
  page.on('request', (request) => {
    if (!request.url().startsWith(address)) wrong.push(`asked ${request.url()}`);
  });
  page.on('console', (message) => wrong.push(`${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => wrong.push(error.message));
  await page.goto(`${address}${path}`);
  if (options?.javaScriptEnabled !== false)
    await page.locator('html[data-alive]').waitFor({ state: 'attached' });
  return { page, wrong };
}

const VIEWS = [
  '/devices',
  '/devices?has=NoSuchThing',
  '/devices/tarn-sennit-2',
  '/devices/tarn-sennit-2?picked=tarn-sennit-2/b/U2',
  '/devices/tarn-sennit-2/diagram',
  '/devices/tarn-sennit-2/decisions',
  '/devices/tarn-sennit-2/record',
  '/devices/never-was',
  '/patterns',
  `/find?text=${encodeURIComponent('MATCH (x:PressureSensor)-[:ON]->(b:Board) RETURN x, b')}&near=true`,
  `/find?text=${encodeURIComponent('MATCH (x:PressureSensor')}`,
  '/compare',
  '/compare?device=tarn-sennit-2&device=tarn-sennit-3&search=tarn',
  '/trends?measure=has-kind&kind=PressureSensor&by=MAKER',
  '/publications',
  `/publications/${PUBLISHED.id}`,
  '/publications/never-was',
  '/search?text=tarn',
  '/parts',
  '/parts/quistle/QWR2001',
  '/parts/never-was',
  '/makers/tarn',
  '/lines/tarn-sennit',
  '/structures?order=devices',
];

describe.each(VIEWS)('%s', (path) => {
  // Outside check: axe-core's rules for WCAG 2.2, levels A and AA, and best practices; the widths of small phones to large screens.
  for (const colorScheme of ['light', 'dark'] as const)
    test(`keeps WCAG 2.2 AA at four widths in ${colorScheme} colours, without a word on the console or to others`, async () => {
      const { page, wrong } = await open(path, { colorScheme });
      await page.evaluate(axe);
      for (const width of [360, 768, 1280, 2560]) {
        await page.setViewportSize({ width, height: 900 });
        const { violations } = (await page.evaluate('axe.run()')) as AxeResults;
        expect(violations.map(({ id, nodes }) => `${width} ${id}: ${nodes[0].html}`)).toEqual([]);
        expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      }
      expect(wrong.filter((said) => !said.includes('404'))).toEqual([]);
      await page.close();
    });

  test('is the same page after it has come to life as before', async () => {
    const before = await open(path, { javaScriptEnabled: false });
    const after = await open(path);
    const text = (page: Page) => page.locator('#desk').evaluate((desk) => desk.innerHTML);
    expect(await text(after.page)).toBe(await text(before.page));
    await before.page.close();
    await after.page.close();
  });
});

test('links lead from page to page without loading anew, back leads back to the place, and what is read out is the page', async () => {
  const { page, wrong } = await open('/devices', { viewport: { width: 400, height: 300 } });
  await page.evaluate('window.stays = true');
  const link = page.locator('main a[href="/devices/tarn-sennit-2"]');
  await page.evaluate("document.addEventListener('click', () => { window.left = scrollY; }, true)");
  await link.click();
  await page.locator('h1', { hasText: 'Tarn Sennit 2' }).waitFor();
  expect(await page.title()).toBe('Tarn Sennit 2 · Caseback');
  expect(
    await page.evaluate('[location.pathname, scrollY, document.activeElement.tagName, window.stays]'),
  ).toEqual(['/devices/tarn-sennit-2', 0, 'H1', true]);
  await page.goBack();
  await page.locator('h1', { hasText: 'Devices' }).waitFor();
  expect(await page.evaluate('window.left')).toBeGreaterThan(0);
  expect(await page.evaluate('[location.pathname, scrollY - window.left, window.stays]')).toEqual([
    '/devices',
    0,
    true,
  ]);
  expect(wrong).toEqual([]);
  await page.close();
});

test('conditions are taken over as they are changed, and stand in the address', async () => {
  const { page } = await open('/devices');
  await page.getByLabel('Wrist').check();
  await page.waitForURL(/worn=WRIST/u);
  const { devices } = await served.ask('{ devices(filter: { bodySites: [WRIST] }) { totalCount } }');
  await page.locator('h2', { hasText: new RegExp(`^${devices.totalCount} devices?$`, 'u') }).waitFor();
  await page.close();
});

test('a component picked on the drawing is picked in the table, and the other way round; by keyboard alone', async () => {
  const { page, wrong } = await open('/devices/tarn-sennit-2');
  const drawing = page.getByRole('listbox').first();
  await drawing.focus();
  await page.keyboard.press('ArrowRight');
  const picked = page.locator('tr.picked');
  await picked.waitFor();
  const name = await picked.locator('button').textContent();
  expect(await drawing.locator('[aria-selected=true]').getAttribute('aria-label')).toContain(name);
  expect(await drawing.getAttribute('aria-activedescendant')).toBe(
    await drawing.locator('[aria-selected=true]').getAttribute('id'),
  );
  await page.keyboard.press('Escape');
  expect(await picked.count()).toBe(0);
  const row = page.locator('button.pick', { hasText: name ?? '' }).first();
  await row.focus();
  await page.keyboard.press('Enter');
  expect(await drawing.locator('[aria-selected=true]').count()).toBe(1);
  // What was seen of it stands beside what is concluded, and the address leads a colleague to the same.
  await page.locator('#picked', { hasText: name ?? '' }).waitFor();
  expect(await page.locator('.panel h3').allTextContents()).toEqual(
    expect.arrayContaining(['Seen', 'Concluded']),
  );
  await page.reload();
  await page.locator('#picked', { hasText: name ?? '' }).waitFor();
  expect(wrong).toEqual([]);
  await page.close();
});

// The policy is what a browser makes of it: the packaged one must not have been started with its guards down.
test('a text that would become HTML or code is refused by the browser', async () => {
  const { page } = await open('/devices');
  // From a task of the page's own: what the test runs itself is let through.
  const tried = await page.evaluate(`new Promise((resolve) => setTimeout(() => {
    const outcomes = [];
    for (const attempt of [
      () => { document.createElement('p').innerHTML = '<b>bold</b>'; },
      () => { document.createElement('script').src = '/assets/feed.js'; },
      () => { window.trustedTypes.createPolicy('other', { createHTML: (text) => text }); },
      () => { (0, eval)('1'); },
    ]) try { attempt(); outcomes.push('done'); } catch (error) { outcomes.push(error.name); }
    resolve(outcomes);
  }))`);
  expect(tried).toEqual(['TypeError', 'TypeError', 'TypeError', 'EvalError']);
  await page.close();
});

test('the archive is searched as one types, by keyboard alone, after the pattern of the ARIA Authoring Practices', async () => {
  const { page, wrong } = await open('/devices');
  const box = page.getByRole('combobox', { name: 'Search the archive' });
  await box.pressSequentially('sennit');
  await page.getByRole('option').first().waitFor();
  expect(await box.getAttribute('aria-expanded')).toBe('true');
  expect(await box.getAttribute('aria-activedescendant')).toBeNull();
  await page.keyboard.press('ArrowDown');
  const at = await box.getAttribute('aria-activedescendant');
  const first = page.getByRole('option').first();
  expect([await first.getAttribute('id'), await first.getAttribute('aria-selected')]).toEqual([at, 'true']);
  // Up from the first is back in the field, up from there the last.
  await page.keyboard.press('ArrowUp');
  expect(await box.getAttribute('aria-activedescendant')).toBeNull();
  await page.keyboard.press('Escape');
  expect(await box.getAttribute('aria-expanded')).toBe('false');
  await page.keyboard.press('ArrowDown');
  const title = (await page.locator('[role=option][aria-selected=true]').textContent()) ?? '';
  await page.keyboard.press('Enter');
  const name = title.replace(/ (?:device|product line|component).*/u, '');
  await page.locator('h1', { hasText: name }).waitFor();
  await box.fill('sennit 2');
  await page.keyboard.press('Enter');
  await page.waitForURL(/\/search\?text=sennit/u);
  await page.locator('main h2', { hasText: 'hit' }).waitFor();
  expect(wrong).toEqual([]);
  await page.close();
});
