import { globSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { parse, YAMLParseError } from 'yaml';
import { readYamlFile } from '../../src/text/yaml-file.ts';

const ROOT = join(import.meta.dirname, '../..');
const KEPT = join(ROOT, 'node_modules/.cache/caseback/tables');

let folder: string;
let file: URL;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'table-'));
  file = pathToFileURL(join(folder, `${basename(folder)}.yaml`));
});
afterEach(() => {
  for (const name of kept()) rmSync(join(KEPT, name));
  rmSync(folder, { recursive: true });
});

/** What is kept of the file of a test. */
const kept = () => readdirSync(KEPT).filter((name) => name.startsWith(`${basename(folder)}.yaml-`));

test('every table is what the package reads from its text, the first time and from what is kept', () => {
  const tables = globSync('schema/*.yaml', { cwd: ROOT });
  expect(tables.length).toBeGreaterThan(10);
  for (const table of tables) {
    const expected = parse(readFileSync(join(ROOT, table), 'utf8'));
    for (let time = 0; time < 2; time++)
      expect(readYamlFile(pathToFileURL(join(ROOT, table)))).toStrictEqual(expected);
  }
});

test('another text is read anew, and the one before is still known', () => {
  for (const text of ['a: 1', 'a: 2', 'a: 1']) {
    writeFileSync(file, text);
    expect(readYamlFile(file)).toEqual(parse(text));
  }
  expect(kept()).toHaveLength(2);
});

test('what is kept and damaged is read anew, and kept whole again', () => {
  writeFileSync(file, 'weights: [1, 2, 3]');
  readYamlFile(file);
  const place = join(KEPT, kept()[0] as string);
  const whole = readFileSync(place, 'utf8');
  for (const damaged of [whole.replace('[1,2,3]', '[1,2,4]'), whole.slice(0, -1), '', 'null']) {
    writeFileSync(place, damaged);
    expect(readYamlFile(file)).toEqual({ weights: [1, 2, 3] });
    expect(readFileSync(place, 'utf8')).toBe(whole);
  }
});

test('whichever bit of it is flipped, and wherever it is cut', () => {
  writeFileSync(file, 'weights: [1, 20, 300]\nname: Ferrule');
  const read = readYamlFile(file);
  const place = join(KEPT, kept()[0] as string);
  const whole = readFileSync(place);
  for (let at = 0; at < whole.length; at++) {
    const flipped = Buffer.from(whole);
    flipped[at] = (flipped[at] as number) ^ (1 << (at % 8));
    for (const damaged of [flipped, whole.subarray(0, at)]) {
      writeFileSync(place, damaged);
      expect(readYamlFile(file)).toEqual(read);
    }
  }
});

test('what JSON does not hold as it is, is not kept', () => {
  writeFileSync(file, 'most: .inf');
  for (let time = 0; time < 2; time++) expect(readYamlFile(file)).toEqual({ most: Number.POSITIVE_INFINITY });
  expect(kept()).toEqual([]);
});

test('a text that is not YAML is refused each time', () => {
  writeFileSync(file, 'a: [1');
  for (let time = 0; time < 2; time++) expect(() => readYamlFile(file)).toThrow(YAMLParseError);
  expect(kept()).toEqual([]);
});
