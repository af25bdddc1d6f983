import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { CATALOGUE } from '../service/invented.ts';
import { type Served, serve } from '../service/serving.ts';
import { openBrowser } from './browser.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const PUBLISHED = catalogueSchema.parse(CATALOGUE).publications[0];

let served: Served;
let browser: Browser;
let address: string;
beforeAll(async () => {
  served = await serve();
  address = await served.app.listen({ host: '127.0.0.1', port: 0 });
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await served.close();
});

/** Opens a page, gathering what it asks of others and what goes wrong in it. */
async function open(path: string, options = {}): Promise<{ page: Page; foreign: string[]; wrong: string[] }> {
  const page = await browser.newPage(options);
  // On a busy machine a page may take its time; the test ends what hangs.
  page.setDefaultTimeout(0);
  const foreign: string[] = [];
  const wrong: string[] = [];
  page.on('request', (request) => {
    if (!/^(?:data|blob):/u.test(request.url()) && !request.url().startsWith(address))
      foreign.push(request.url());
  });
  page.on('console', (message) => {
    if (message.type() === 'error') wrong.push(message.text());
  });
  page.on('pageerror', (error) => wrong.push(error.message));
  await page.goto(`${address}${path}`);
  return { page, foreign, wrong };
}

describe('the start page', () => {
  for (const colorScheme of ['light', 'dark'] as const) {
    // Outside check: axe-core's rules for WCAG 2.2, levels A and AA, contrast among them.
    test(`keeps WCAG 2.2 AA in ${colorScheme} colours, and asks nobody else for anything`, async () => {
      const { page, foreign, wrong } = await open('/', { colorScheme });
      await page.evaluate(axe);
      const { violations } = (await page.evaluate(
        "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })",
      )) as AxeResults;
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`)).toEqual([]);
      expect([foreign, wrong]).toEqual([[], []]);
      await page.close();
    });
  }

  test('answers the three questions, each with its certainty', async () => {
    const { page } = await open('/');
    expect(await page.locator('section h2').allTextContents()).toEqual([
      'Which devices share a pattern?',
      'How did a product line change?',
      'What figure can go into a trend publication?',
      'Does each sentence fit its evidence?',
      'Ask your own',
    ]);
    expect(await page.locator('section[aria-labelledby=pattern] tbody tr').count()).toBe(4);
    expect(await page.locator('section[aria-labelledby=pattern] tbody').textContent()).toMatch(
      /possible, 90\s%/u,
    );
    expect(await page.locator('section[aria-labelledby=line] tbody').textContent()).toContain(
      '0, expect 0.85',
    );
    expect(await page.locator('section[aria-labelledby=share] caption').textContent()).toContain(
      'n = 1, not observed in 3 more',
    );
    expect(await page.locator('footer').textContent()).toContain('pouch cell');
    await page.close();
  });

  test('can be walked by keyboard, and does not scroll sideways on a small screen', async () => {
    const { page } = await open('/', { viewport: { width: 360, height: 700 } });
    await page.keyboard.press('Tab');
    expect(await page.evaluate('document.activeElement.textContent')).toBe('Skip to the content');
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
    await page.close();
  });

  test('hands each question to the explorer, which answers it without a network', async () => {
    const { page, foreign, wrong } = await open('/');
    await page.locator('section[aria-labelledby=line] summary').click();
    await page.locator('section[aria-labelledby=line] details a').click();
    await page.locator('.graphiql-execute-button').click();
    await page.locator('.result-window', { hasText: 'Tarn Sennit 3' }).waitFor();
    expect([foreign, wrong]).toEqual([[], []]);
    await page.close();
  });
});

test('the explorer opens with a question, completes, and shows the descriptions of the schema', async () => {
  const { page, foreign, wrong } = await open('/explorer');
  await page.locator('.graphiql-execute-button').click();
  await page.locator('.result-window', { hasText: 'Tarn Sennit 3' }).waitFor();
  await page.getByRole('button', { name: 'Show Documentation Explorer' }).click();
  await page.locator('.graphiql-doc-explorer a', { hasText: 'Query' }).click();
  await page.getByText('What the archive holds.').waitFor();
  expect([foreign, wrong]).toEqual([[], []]);
  await page.close();
});

describe('the checking sheet of a publication', () => {
  for (const colorScheme of ['light', 'dark'] as const) {
    test(`is found from the start page, and keeps WCAG 2.2 AA in ${colorScheme} colours`, async () => {
      const { page, foreign, wrong } = await open('/', { colorScheme });
      await page.locator('section[aria-labelledby=publications] summary').click();
      await page.locator('section[aria-labelledby=publications] a', { hasText: 'Loops counted' }).click();
      await page.locator('h1', { hasText: 'Checking sheet: Loops counted' }).waitFor();
      expect(await page.locator('section.sentence').count()).toBe(PUBLISHED.claims.length);
      for (const { sentence } of PUBLISHED.claims)
        expect(await page.locator('section.sentence h2', { hasText: sentence }).count()).toBe(1);
      await page.evaluate(axe);
      const { violations } = (await page.evaluate(
        "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })",
      )) as AxeResults;
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`)).toEqual([]);
      expect([foreign, wrong]).toEqual([[], []]);
      await page.close();
    });
  }

  test('shows nothing of what is hidden: a draft is as absent as what there never was', async () => {
    const { page } = await open('/publications/hidden-film/sheet');
    const draft = await page.locator('main').textContent();
    expect(draft).not.toContain('Hidden film');
    await page.goto(`${address}/publications/hidden-reel/sheet`);
    expect(await page.locator('main').textContent()).toBe(draft?.replace('hidden-film', 'hidden-reel'));
    await page.close();
  });

  test('prints without the navigation', async () => {
    const { page } = await open(`/publications/${PUBLISHED.id}/sheet`);
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.masthead').isVisible()).toBe(false);
    expect(await page.locator('section.sentence').first().isVisible()).toBe(true);
    await page.close();
  });
});

test('the guide is readable in the browser', async () => {
  const { page, wrong } = await open('/docs');
  expect(await page.locator('h1').first().textContent()).toBe('Caseback');
  expect(wrong).toEqual([]);
  await page.close();
});
