import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { AxeResults } from 'axe-core';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { packAt } from '../pack/packs.ts';
import { demoArchive } from '../trends/demo.ts';
import { openBrowser } from './browser.ts';

// The first page of a pack, opened from its folder as a reader does, without a network.

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const folder = mkdtempSync(join(tmpdir(), 'caseback-pack-'));
let browser: Browser;
beforeAll(async () => {
  const view = (await demoArchive()).state('reader');
  const { files } = await packAt(view, 'altitude-at-the-wrist', '2026-11-30T09:00:00.000Z');
  for (const { path, content } of files) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

// Outside check: axe-core's rules for WCAG 2.2, levels A and AA, contrast among them.
test.each(['light', 'dark'] as const)(
  'keeps WCAG 2.2 AA in %s colours, shows every picture, and leads nowhere but to files of the pack',
  async (colorScheme) => {
    const page = await browser.newPage({ colorScheme });
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(pathToFileURL(join(folder, 'ro-crate-preview.html')).href);
    await page.evaluate(axe);
    const { violations } = (await page.evaluate(
      "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })",
    )) as AxeResults;
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`)).toEqual([]);
    expect(asked.filter((url) => !url.startsWith(pathToFileURL(folder).href))).toEqual([]);
    const pictures = (await page.evaluate(
      '[...document.images].map(({ naturalWidth, alt, src }) => ({ naturalWidth, alt, src }))',
    )) as { naturalWidth: number; alt: string; src: string }[];
    expect(pictures.length).toBe(10);
    for (const { naturalWidth, alt, src } of pictures)
      expect([naturalWidth > 0, alt.length > 20], src).toEqual([true, true]);
    const links = (await page.evaluate('[...document.links].map(({ href }) => href)')) as string[];
    for (const href of links.filter((one) => one.startsWith('file:')))
      expect(existsSync(fileURLToPath(href.replace(/#.*$/u, ''))), href).toBe(true);
    expect(links.filter((one) => !one.startsWith('file:'))).toEqual(['https://w3id.org/ro/crate/1.2']);
    if (process.env.CASEBACK_PICTURES) {
      await page.setViewportSize({ width: 1000, height: 1400 });
      for (const at of [0, 1300, 2600, 12_000]) {
        await page.evaluate(`window.scrollTo(0, ${at})`);
        await page.screenshot({ path: join(process.env.CASEBACK_PICTURES, `pack-${colorScheme}-${at}.png`) });
      }
    }
    await page.close();
  },
);
