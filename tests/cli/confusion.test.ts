import { cpSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { caseback, Folder } from './running.ts';

const STANDARD = readFileSync(new URL('../../schema/confusions.yaml', import.meta.url), 'utf8');
const CATALOGUE = `caseback: catalogue/1
makers:
  - { id: quistle, name: Quistle, makes: [parts], invented: true }
parts:
  - { number: W8W8W8, maker: quistle, categories: [Accelerometer] }
`;
/** Characters that the standard table does not take for one another. */
const STRANGE = `confusions:
  - { a: 8, b: T, probability: 0.4 }
otherwise: 0.01
overlooked: 0.01
imagined: 0.005
`;

const folder = new Folder({ 'catalogue.yaml': CATALOGUE, 'strange.yaml': STRANGE });
afterAll(() => folder.remove());
beforeAll(async () => {
  const { code } = await caseback(['import', 'catalogue.yaml', '--data', 'data'], { cwd: folder.path });
  expect(code).toBe(0);
  cpSync(join(folder.path, 'data'), join(folder.path, 'own'), { recursive: true });
  folder.write('own/confusion.yaml', STRANGE);
});

/** Weight of the one part for a marking in which every 8 was read as T. */
async function weight(...more: readonly string[]): Promise<number | undefined> {
  const { out, err, code } = await caseback(['read-marking', 'WTWTWT', '--format', 'json', ...more], {
    cwd: folder.path,
  });
  expect(`${code} ${err}`).toBe('0 ');
  return JSON.parse(out).matches[0]?.decibans;
}

describe('a confusion table of the desk', () => {
  test('is taken from the option', async () => {
    expect(await weight('--data', 'data')).toBeUndefined();
    expect(await weight('--data', 'data', '--confusion', 'strange.yaml')).toBeGreaterThan(20);
  });

  test('is taken from the data folder, by commands and by what answers GraphQL; an option goes before it', async () => {
    const own = await weight('--data', 'own');
    expect(own).toBeGreaterThan(20);
    folder.write('standard.yaml', STANDARD);
    expect(await weight('--data', 'own', '--confusion', 'standard.yaml')).toBeUndefined();
    const query = '{ readMarking(text: "WTWTWT") { matches { decibans } } }';
    const { out } = await caseback(['ask', '--query', query, '--data', 'own'], { cwd: folder.path });
    expect(JSON.parse(out).data.readMarking.matches[0].decibans).toBeCloseTo(own as number, 9);
  });

  test('with mistakes is refused with file, line, field and fix', async () => {
    const wrong = STRANGE.replace('b: T', 'b: "#"')
      .replace('otherwise', 'otherwis')
      .replace('imagined: 0.005', 'imagined: 0.9');
    folder.write('wrong.yaml', wrong);
    const { code, err } = await caseback(['read-marking', 'W8', '--confusion', 'wrong.yaml'], {
      cwd: folder.path,
    });
    expect(code).toBe(1);
    expect(err).toMatch(
      /^wrong\.yaml:2:\d+ confusions\[0\]\.b: "#" is not a valid marking character — write one of /mu,
    );
    expect(err).toMatch(
      /^wrong\.yaml:3:1 otherwis: "otherwis" is not a field here — did you mean "otherwise"\?$/mu,
    );
    expect(err).toMatch(/^wrong\.yaml:5:\d+ imagined: 0\.9 is too large — write less than 0\.5$/mu);
  });

  test('whose confusions of one character sum to 1, or that takes a character for itself, is refused', async () => {
    folder.write(
      'sums.yaml',
      STRANGE.replace(
        'otherwise',
        '  - { a: "8", b: B, probability: 0.4 }\n  - { a: "8", b: S, probability: 0.3 }\notherwise',
      ),
    );
    const sums = await caseback(['read-marking', 'W8', '--confusion', 'sums.yaml'], { cwd: folder.path });
    expect(sums.err).toMatch(
      /^sums\.yaml:4:\d+ confusions\[2\]\.probability: 0\.3 is too much: .* lower some/mu,
    );
    folder.write('same.yaml', STRANGE.replace('b: T', 'b: "8"'));
    const same = await caseback(['read-marking', 'W8', '--confusion', 'same.yaml'], { cwd: folder.path });
    expect(same.err).toMatch(
      /^same\.yaml:2:\d+ confusions\[0\]\.b: "8" is the same character as a — write/mu,
    );
  });

  test('that is missing or empty is refused', async () => {
    folder.write('empty.yaml', '\n');
    for (const [file, says] of [
      ['nowhere.yaml', 'does not exist'],
      ['empty.yaml', 'is empty'],
    ]) {
      const { code, err } = await caseback(['read-marking', 'W8', '--confusion', file], { cwd: folder.path });
      expect(code).toBe(1);
      expect(err).toContain(`${file}: ${says} — `);
    }
  });
});
