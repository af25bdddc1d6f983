import { describe, expect, test } from 'vitest';
import { NOTHING_HELD } from '../../src/dossier/check/context.ts';
import { everyProblem } from '../../src/dossier/every-problem.ts';
import { readDocument } from '../../src/dossier/read.ts';
import { gatherRead } from '../../src/dossier/read-files.ts';
import { changed, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';

/** `a.yaml:12 device.maker: what`, for every problem of files called a, b, c. */
function problems(...texts: readonly string[]): readonly string[] {
  const read = gatherRead(
    texts.map((text, i) => readDocument(Buffer.from(text, 'utf8'), `${'abcdef'[i]}.yaml`)),
  );
  return everyProblem(read, { ...NOTHING_HELD, today: '2026-03-01' }).map(
    ({ severity, file, line, path, what }) =>
      `${severity === 'caution' ? 'caution ' : ''}${file}:${line} ${path}: ${what}`,
  );
}

const all = (text: string, ...edits: readonly (readonly [from: string, to: string])[]) =>
  edits.reduce((now, [from, to]) => changed(now, from, to), text);

// Six faults, three of the form and three of the content: each rule by itself is held to in check/.
const SIX = all(
  GOOD_DOSSIER,
  ['bodySite: wrist', 'bodySite: knee'], // form
  ['mass: 43 g', 'mass: 43 V'], // form
  ['on: 2019-06', 'on: 2031-06'], // a day to come
  ['board: sensor', 'board: sensr'], // no such board
  ['[U1, U2]', '[U1, U1]'], // itself
  ['probability: 0.2', 'probability: 2'], // form
);

describe('a file that its schema refuses is held to the rules all the same', () => {
  test('six faults are six problems, with their lines', () => {
    expect(problems(SIX, GOOD_CATALOGUE)).toEqual([
      expect.stringMatching(/^a\.yaml:8 device\.bodySite: /u),
      expect.stringMatching(/^a\.yaml:9 device\.mass: /u),
      expect.stringMatching(/^a\.yaml:14 teardown\.on: opened on 2031-06/u),
      expect.stringMatching(/^a\.yaml:33 components\[1\]\.board: no board is called "sensr"/u),
      expect.stringMatching(/^a\.yaml:37 connections\[0\]\.between: joins "U1" to itself/u),
      expect.stringMatching(/^a\.yaml:50 identifications\[0\]\.candidates\[1\]\.probability: /u),
    ]);
  });

  test('each alone is the same problem', () => {
    const together = problems(SIX, GOOD_CATALOGUE);
    const alone = [
      ['bodySite: wrist', 'bodySite: knee'],
      ['mass: 43 g', 'mass: 43 V'],
      ['on: 2019-06', 'on: 2031-06'],
      ['board: sensor', 'board: sensr'],
      ['[U1, U2]', '[U1, U1]'],
      ['probability: 0.2', 'probability: 2'],
    ].flatMap(([from, to]) => problems(changed(GOOD_DOSSIER, from, to), GOOD_CATALOGUE));
    expect(together).toEqual(alone);
  });

  test('items that cannot be read shift no line and no path of those behind them', () => {
    const text = all(
      GOOD_DOSSIER,
      ['  - id: U2\n', '  - just words\n  - id: U2\n'],
      ['at: { x: 2, y: 2 }', 'at: { x: 200, y: 2 }'],
    );
    expect(problems(text, GOOD_CATALOGUE)).toEqual([
      expect.stringMatching(/^a\.yaml:32 components\[1\]: /u),
      expect.stringMatching(/^a\.yaml:36 components\[2\]\.at: U2 at \(200, 2\) mm lies off board/u),
    ]);
  });

  test('what an unreadable item may have described is not called unknown', () => {
    // U2 is named by a connection, and its own designator cannot be read.
    expect(problems(changed(GOOD_DOSSIER, '- id: U2\n', '- id: the second\n'), GOOD_CATALOGUE)).toEqual([
      expect.stringMatching(
        /^a\.yaml:32 components\[1\]\.id: "the second" is not a valid reference designator/u,
      ),
    ]);
    // Nor what a file describes that is no YAML at all.
    expect(problems(GOOD_DOSSIER, 'caseback: [')).toEqual([expect.stringMatching(/^b\.yaml:1/u)]);
  });

  test('the other files are held to the rules too, and know what the sound part describes', () => {
    const catalogue = changed(GOOD_CATALOGUE, 'introduced: 2018', 'introduced: never');
    const dossier = changed(GOOD_DOSSIER, '[U1, U2]', '[U1, U1]');
    expect(problems(dossier, catalogue)).toEqual([
      expect.stringMatching(/^a\.yaml:37 connections\[0\]\.between/u),
      expect.stringMatching(/^b\.yaml:10 parts\[1\]\.introduced: /u),
    ]);
  });

  test.each([
    ['a missing field', '  on: 2019-06\n', ''],
    [
      'a field of no group',
      'specimen: { id: a, revision: 1.10, bought: 2019-05-02, region: NO }',
      'specimen: a',
    ],
    ['a list that is none', 'boards:\n  - id: main', 'boards:\n  main:\n   - id: main'],
    ['a missing device', 'maker: tarn\n', ''],
    ['no header field', 'by: I. Example\n', 'by: 3\n  bi: x\n'],
  ])('%s brings no problem that is not there', (_, from, to) => {
    const found = problems(changed(GOOD_DOSSIER, from, to), GOOD_CATALOGUE);
    expect(found.join('\n')).not.toMatch(/unread|9173|1971/u);
    expect(found.length).toBeGreaterThan(0);
    expect(found.length).toBeLessThan(4);
  });
});
