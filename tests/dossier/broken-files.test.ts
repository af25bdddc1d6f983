import { describe, expect, test } from 'vitest';
import { changed, GOOD_DOSSIER, problemsIn as problems } from './files.ts';

describe('broken YAML is explained at the line', () => {
  test.each([
    ['    package: LGA-14', '\tpackage: LGA-14', 'd.yaml:31:1: is indented with a tab — indent with blanks'],
    [
      '    package: LGA-14',
      '    package LGA-14',
      'd.yaml:31:5: has no colon — write "field: value", with a blank after the colon',
    ],
    [
      '    package: LGA-14',
      '   package: LGA-14',
      'd.yaml:31:1: is indented like no line above it — line the fields of one entry up under one another; start each entry of a list with "- "',
    ],
    [
      '    package: LGA-14',
      '    package: LGA-14\n    package: LGA-16',
      'd.yaml:32:5: "package" is given twice; first on line 31 — keep one of the two',
    ],
    [
      'marking: 1E30',
      'marking: A: B',
      'd.yaml:30:14: has fields where text was expected — put text that holds ": ", or is just "?" or "-", into quotation marks; start inner fields on a new line',
    ],
    [
      'marking: 1E30',
      'marking: "A1',
      'd.yaml:52:1: ends inside quotation marks — close them; they may have been opened far above',
    ],
    [
      'marking: 1E30',
      'marking: @A1',
      'd.yaml:30:14: plain value cannot start with reserved character @ — put the text into quotation marks',
    ],
    [
      'marking: 1E30',
      'marking: "A\\Q"',
      "d.yaml:30:16: invalid escape sequence \\Q — write a real backslash twice, or use single quotation marks ('…') around the text",
    ],
    [
      'marking: 1E30',
      'marking: !x A1',
      'd.yaml:30:14: carries a tag (unresolved tag: !x) — leave the tag out; put text that starts with "!" into quotation marks',
    ],
    ['marking: 1E30', 'marking: !!str 1E30', 'd.yaml:30:20: carries the tag !!str — leave it out'],
  ])('"%s" written as "%s"', (from, to, said) => {
    expect(problems(changed(GOOD_DOSSIER, from, to))).toEqual([said]);
  });

  test('an unclosed bracket is reported at the next line', () => {
    expect(problems(changed(GOOD_DOSSIER, 'between: [U1, U2]', 'between: [U1, U2'))[0]).toBe(
      'd.yaml:38:5: is where a bracket opened above is not closed yet — put the "]" at the end of the list or group above',
    );
  });

  test('a key given twice does not hide the other mistakes', () => {
    const text = changed(
      changed(GOOD_DOSSIER, 'mass: 43 g', 'mass: 43'),
      '    package',
      '    board: main\n    package',
    );
    expect(problems(text)).toEqual([
      expect.stringContaining('43 has no unit'),
      expect.stringContaining('"board" is given twice; first on line 27'),
    ]);
  });

  test('anchors, aliases and merge keys are refused, also those of an alias bomb', () => {
    expect(problems(`${GOOD_DOSSIER}note: &n x\nmore: { <<: *n }\n`)).toEqual([
      'd.yaml:52:10: sets the anchor &n — leave it out',
      'd.yaml:53:9: uses the merge key "<<" — write the merged fields out',
      'd.yaml:53:13: uses the alias *n — write the repeated part out',
    ]);
    const levels = Array.from({ length: 30 }, (_, i) => `l${i + 1}: &l${i + 1} [*l${i}, *l${i}, *l${i}]\n`);
    expect(problems(`l0: &l0 [x, x, x]\n${levels.join('')}`)).toHaveLength(101);
  });

  test.each([
    [
      'a second document',
      `${GOOD_DOSSIER}---\na: 1\n`,
      'd.yaml:52:1: holds a second document — put each dossier into a file of its own',
    ],
    [
      'a list as a key',
      `${GOOD_DOSSIER}? [a]\n: b\n`,
      'd.yaml:52:3: has a list or group as a key — write a field name before the colon',
    ],
    [
      'a list instead of fields',
      '- a\n- b\n',
      'd.yaml:1:1: does not say what it is — start with "caseback: dossier/1" or "caseback: catalogue/1"',
    ],
    ['nothing', '', 'd.yaml: is empty — start with "caseback: dossier/1" or "caseback: catalogue/1"'],
    [
      'only a comment',
      '# later\n',
      'd.yaml: is empty — start with "caseback: dossier/1" or "caseback: catalogue/1"',
    ],
    [
      'JSON without a comma',
      '{"caseback": "dossier/1" "device": "x"}',
      expect.stringContaining('check commas, colons, brackets'),
    ],
  ])('%s', (_, text, said) => {
    expect(problems(text)).toEqual([said]);
  });
});

describe('files that are not text, or too large', () => {
  test.each([
    [
      'UTF-16 with its mark',
      Buffer.from(`\ufeff${GOOD_DOSSIER}`, 'utf16le'),
      'd.yaml: is in UTF-16 — save it as UTF-8',
    ],
    [
      'UTF-16 without',
      Buffer.from(GOOD_DOSSIER, 'utf16le'),
      'd.yaml:1: holds a NUL character, as no text in UTF-8 does — save it as UTF-8',
    ],
    [
      'Latin-1',
      Buffer.from('caseback: dossier/1\nnote: caf\u00e9\n', 'latin1'),
      'd.yaml:2: holds bytes that are not UTF-8 — save it as UTF-8',
    ],
    [
      'a file cut off inside a character',
      Buffer.from('a: é').subarray(0, 4),
      'd.yaml:1: holds bytes that are not UTF-8 — save it as UTF-8',
    ],
  ])('%s', (_, bytes, said) => {
    expect(problems(bytes)).toEqual([said]);
  });

  test('more than 20 MiB is refused unread', () => {
    expect(problems(new Uint8Array(50 * 1024 * 1024).fill(0x5b))).toEqual([
      'd.yaml: is 50.0 MiB large; at most 20.0 MiB are read — split it into several files; photos belong beside the dossier, not in it',
    ]);
  });

  test('a file below that with too many publications is refused before it is parsed', () => {
    expect(problems('- a\n'.repeat(300_000))).toEqual([
      'd.yaml: holds more than 1,000,000 words and marks of YAML — split it into several files, or write it as JSON',
    ]);
  });

  test.each([
    ['brackets', `a: ${'['.repeat(100_000)}`],
    ['closed brackets', `a: ${'['.repeat(100)}${']'.repeat(100)}`],
    ['dashes', `${'- '.repeat(100_000)}a`],
    ['braces', `a: ${'{b: '.repeat(50_000)}1`],
    ['indentation', Array.from({ length: 3000 }, (_, i) => `${' '.repeat(i)}a:\n`).join('')],
  ])('excessive nesting by %s is reported as such', (_, text) => {
    expect(problems(text)).toEqual([
      expect.stringMatching(/nests far deeper than a dossier does — a dossier needs six levels/u),
    ]);
  });

  // Both took minutes where every key or mark was compared with every other.
  test('many keys, or many stray marks, are still read', () => {
    expect(problems(`a: ${'"'.repeat(40_000)}`)).toHaveLength(1);
    expect(problems(Array.from({ length: 40_000 }, (_, i) => `k${i}: 1\n`).join(''))).toHaveLength(1);
  });
});
