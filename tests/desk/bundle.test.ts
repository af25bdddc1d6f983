import { globSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { deskBundle } from '../../src/desk/bundle.ts';

const bundle = await deskBundle();
const contentOf = (address: string) => readFileSync(join(bundle.folder, address.replace('/desk/', '')));
const compressed = (addresses: readonly string[]) =>
  addresses.reduce((sum, one) => sum + gzipSync(contentOf(one)).length, 0);

test('it is built once, and opened as it is after that', async () => {
  let builds = 0;
  expect((await deskBundle(() => builds++)).script).toBe(bundle.script);
  expect(builds).toBe(0);
});

test('the first view of every page loads less than 60 kB of compressed script', () => {
  const files = globSync('pages/**/*page.tsx', { cwd: join(import.meta.dirname, '../../src/web') });
  expect(files.length).toBeGreaterThanOrEqual(bundle.paths.length);
  for (const file of files.map((one) => one.replaceAll('\\', '/'))) {
    const ahead = bundle.ahead(file);
    expect(ahead.length, file).toBeGreaterThan(0);
    expect(compressed([bundle.script, ...ahead]), file).toBeLessThan(60_000);
  }
});

test('nothing in it makes code or HTML of texts, or names another machine', () => {
  for (const name of readdirSync(join(bundle.folder, 'assets'))) {
    const text = readFileSync(join(bundle.folder, 'assets', name), 'utf8');
    expect(text, name).not.toMatch(/\beval\(|new Function|document\.write|insertAdjacentHTML/u);
    const addresses = [...text.matchAll(/https?:\/\/[^\s"'`)]+/gu)].map(([address]) => address);
    // Names of XML, which nobody asks for.
    expect(
      addresses.filter((one) => !one.startsWith('http://www.w3.org/')),
      name,
    ).toEqual(addresses.filter((one) => one === 'http://desk'));
  }
});
