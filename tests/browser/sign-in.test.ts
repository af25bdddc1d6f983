import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type ServedPeople, servePeople } from '../access/people-served.ts';
import { openBrowser } from './browser.ts';

// The page on which people sign in and out, on a small screen and without a mouse.

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const SMALL = { viewport: { width: 360, height: 700 } };

let served: ServedPeople;
let browser: Browser;
let address: string;
beforeAll(async () => {
  served = await servePeople();
  address = await served.app.listen({ host: '127.0.0.1', port: 0 });
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await served.close();
});

async function open(options: object = SMALL): Promise<Page> {
  const page = await browser.newPage(options);
  // On a busy machine a page may take its time; the test ends what hangs.
  page.setDefaultTimeout(0);
  await page.goto(`${address}/sign-in?next=/docs`);
  return page;
}

/** Outside check: axe-core's rules for WCAG 2.2, levels A and AA, contrast and size of targets among them. */
async function violationsOf(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  const { violations } = (await page.evaluate(
    "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })",
  )) as AxeResults;
  return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`);
}
const isWide = (page: Page) => page.evaluate('document.documentElement.scrollWidth > innerWidth');
const focused = (page: Page) =>
  page.evaluate(
    'document.activeElement.labels?.[0]?.textContent ?? document.activeElement.textContent.trim()',
  );
async function tab(page: Page, times: number): Promise<readonly unknown[]> {
  const found: unknown[] = [];
  for (let i = 0; i < times; i++) {
    await page.keyboard.press('Tab');
    found.push(await focused(page));
  }
  return found;
}

describe.each(['light', 'dark'] as const)('in %s colours at 360 px', (colorScheme) => {
  test('the form, what it says of a wrong token, and who has signed in keep WCAG 2.2 AA', async () => {
    const page = await open({ ...SMALL, colorScheme });
    expect([await violationsOf(page), await isWide(page)]).toEqual([[], false]);
    await page.getByLabel('Your token').fill('caseback_wrong');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('alert').waitFor();
    expect([await violationsOf(page), await isWide(page)]).toEqual([[], false]);
    await page.getByLabel('Your token').fill(served.tokens.editor);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.waitForURL(`${address}/docs`);
    await page.goto(`${address}/sign-in`);
    await page.getByRole('heading', { name: 'Signed in as editor' }).waitFor();
    expect([await violationsOf(page), await isWide(page)]).toEqual([[], false]);
    await page.close();
  });
});

test('by keyboard alone: in order to the field, wrong, told why, right, in, and out in every browser', async () => {
  const page = await open();
  expect(await tab(page, 8)).toEqual([
    'Skip to the content',
    'Caseback',
    'Start',
    'Explorer',
    'Guide',
    'Schema',
    'Account',
    'Your token',
  ]);
  await page.keyboard.type('caseback_wrong');
  await page.keyboard.press('Enter');
  await page.getByRole('alert').waitFor();
  // WCAG 2.2, 3.3.1 and 4.1.3: the fault is said, of the field that has it.
  const field = page.getByLabel('Your token');
  expect(await field.getAttribute('aria-invalid')).toBe('true');
  const described = String(await field.getAttribute('aria-describedby')).split(' ');
  const texts = await Promise.all(described.map((id) => page.locator(`#${id}`).textContent()));
  expect(texts.join(' ')).toContain('This token is not valid');
  expect(await field.inputValue()).toBe('');
  expect((await tab(page, 8)).at(-1)).toBe('Your token');
  await page.keyboard.type(served.tokens.contributor);
  expect(await tab(page, 1)).toEqual(['Sign in']);
  await page.keyboard.press('Enter');
  await page.waitForURL(`${address}/docs`);
  await page.goto(`${address}/sign-in`);
  expect((await tab(page, 9)).slice(7)).toEqual(['Sign out', 'Sign out in every browser']);
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Sign in' }).waitFor();
  await page.close();
});
