import { describe, expect, test } from 'vitest';
import { readDocument } from '../../src/dossier/read.ts';
import { formatProblem } from '../../src/model/problems.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';

function problems(text: string | Uint8Array, file = 'd.yaml'): readonly string[] {
  const bytes = typeof text === 'string' ? Buffer.from(text, 'utf8') : text;
  return readDocument(bytes, file).problems.map(formatProblem);
}

function dossierOf(text: string) {
  const document = documentOf(text);
  if (document.kind !== 'dossier') throw new Error('no dossier');
  return document.dossier;
}

describe('a sound file', () => {
  test('gives a record, with defaults filled in', () => {
    const dossier = dossierOf(GOOD_DOSSIER);
    expect(dossier.visibility).toBe('published');
    expect(dossier.device).toMatchObject({ mass: { value: 43, unit: 'g' }, succeeds: [] });
    expect(dossier.components[0]).toMatchObject({ id: 'U1', at: { x: 5, y: 5 }, printed: false });
  });

  test('keeps text as it is written, where YAML would see a number, a flag or a date', () => {
    const dossier = dossierOf(GOOD_DOSSIER);
    expect(dossier.specimen).toMatchObject({ revision: '1.10', bought: '2019-05-02', region: 'NO' });
    expect(dossier.components[0].marking).toBe('1E30');
    expect(dossierOf(changed(GOOD_DOSSIER, 'released: 2019-04', 'released: 2019')).device).toMatchObject({
      released: '2019',
    });
    expect(dossierOf(changed(GOOD_DOSSIER, 'marking: 1E30', 'marking: 0x1F')).components[0].marking).toBe(
      '0x1F',
    );
    expect(dossierOf(changed(GOOD_DOSSIER, 'name: Tarn Loop 3', 'name: true')).device).toMatchObject({
      name: 'true',
    });
  });

  test('may be JSON, and may start with a byte-order mark', () => {
    const json = JSON.stringify({
      caseback: 'dossier/1',
      device: 'tarn-loop-3',
      specimen: { id: 'b' },
      teardown: { on: '2020', by: 'I. Example', note: '\u{1f600} "q" \\ /' },
    });
    expect(dossierOf(json).teardown.note).toBe('\u{1f600} "q" \\ /');
    expect(problems(`\ufeff${GOOD_DOSSIER}`)).toEqual([]);
    expect(problems(GOOD_DOSSIER.replaceAll('\n', '\r\n'))).toEqual([]);
  });

  test('in JSON with a number for a text is taken as written, and a key given twice is still told of', () => {
    const text =
      '{ "caseback": "dossier/1", "device": "d", "specimen": { "id": "a", "revision": 1.10 },\n  "teardown": { "on": 2020, "by": "I. Example" } }';
    expect(dossierOf(text).specimen.revision).toBe('1.10');
    const twice = text
      .replace('"on": 2020', '"note": "\\"{", "on": "2020", "\\u006fn": "2021"')
      .replace('1.10', '"1"');
    expect(problems(twice)).toEqual([
      'd.yaml:2:46: "on" is given twice; first on line 2 — keep one of the two',
    ]);
    expect(problems(twice.replace('\\u006fn', 'place'))).toEqual([]);
  });

  test('in JSON knows its places too', () => {
    const text =
      '{ "caseback": "dossier/1", "device": "d", "specimen": { "id": "a" },\n  "teardown": { "on": "2020", "by": "I. Example" } }';
    expect(documentOf(text).locate(['teardown', 'by'])).toEqual({ line: 2, column: 37 });
  });

  test('knows where everything stands', () => {
    const { locate } = documentOf(GOOD_DOSSIER);
    expect(locate(['components', 0, 'marking'])).toEqual({ line: 30, column: 14 });
    expect(locate(['components', 0, 'rotation'])).toEqual(locate(['components', 0]));
    expect(documentOf(GOOD_CATALOGUE).locate(['parts', 1, 'maker'])).toEqual({ line: 10, column: 27 });
  });
});

describe('a mistake is named with its place, what is wrong and the mend', () => {
  test.each([
    [
      'bodySite: wrist',
      'bodySite: Wrist',
      'd.yaml:8:13 device.bodySite: "Wrist" is not allowed here — did you mean "wrist"?',
    ],
    [
      'bodySite: wrist',
      'bodySite: arm',
      'd.yaml:8:13 device.bodySite: "arm" is not allowed here — write one of "wrist", "finger", "ear", "chest", "head", "ankle", "eyewear", "other"',
    ],
    [
      'bodySite: wrist',
      'bodysite: wrist',
      'd.yaml:8:3 device.bodysite: "bodysite" is no field here — did you mean "bodySite"?',
    ],
    ['  released: 2019-04\n', '', 'd.yaml:3:3 device.released: "released" is missing — add it: First sold'],
    [
      'released: 2019-04',
      'released: April 2019',
      'd.yaml:7:13 device.released: "April 2019" is no date — write "2019", "2019-04" or "2019-04-17" (ISO 8601)',
    ],
    [
      'released: 2019-04',
      'released: 2019-13',
      'd.yaml:7:13 device.released: "2019-13" is no date — write "2019", "2019-04" or "2019-04-17" (ISO 8601)',
    ],
    [
      'id: tarn-loop-3',
      'id: Tarn Loop 3',
      'd.yaml:3:7 device.id: "Tarn Loop 3" does not fit here — write "tarn-loop-3": lower-case words joined by hyphens',
    ],
    [
      'mass: 43 g',
      'mass: 43',
      'd.yaml:9:9 device.mass: 43 has no unit — write it with its unit, such as "43 g"',
    ],
    ['mass: 43 g', 'mass: 4,3 g', 'd.yaml:9:9 device.mass: "4,3 g" has a decimal comma — write "4.3 g"'],
    [
      'mass: 43 g',
      'mass: 43 mm',
      'd.yaml:9:9 device.mass: "43 mm" is in mm, which does not convert to g — write it in g, or in a unit that converts to it',
    ],
    [
      'mass: 43 g',
      'mass: about 43 g',
      'd.yaml:9:9 device.mass: "about 43 g" is no quantity — write a number and a unit, such as "3.7 V"',
    ],
    [
      'mass: 43 g',
      'mass: [43, g]',
      'd.yaml:9:9 device.mass: [43,"g"] is no quantity — write a number with its unit, such as "1 g"',
    ],
    ['mass: 43 g', 'mass:', 'd.yaml:9:8 device.mass: "mass" is empty — fill it in, or leave the field out'],
    [
      'price: { amount: 199, currency: EUR }',
      'price: 199 EUR',
      'd.yaml:11:10 device.price: "199 EUR" is text — write a group { amount: …, currency: … }',
    ],
    [
      'amount: 199',
      'amount: "199"',
      'd.yaml:11:20 device.price.amount: "199" is text, not a number — write 199, without quotation marks or unit',
    ],
    [
      'currency: EUR',
      'currency: eur',
      'd.yaml:11:35 device.price.currency: "eur" is no currency — write three capital letters after ISO 4217',
    ],
    [
      'region: NO',
      'region: Norway',
      'd.yaml:12:64 specimen.region: "Norway" is no country — write two capital letters after ISO 3166-1',
    ],
    [
      'hazards: [lithium-cell]',
      'hazards: [lithium]',
      'd.yaml:16:13 teardown.hazards[0]: "lithium" is not allowed here — did you mean "lithium-cell"?',
    ],
    [
      'hazards: [lithium-cell]',
      'hazards: lithium-cell',
      'd.yaml:16:12 teardown.hazards: "lithium-cell" is text — write a list: [lithium-cell]',
    ],
    [
      'outline: { length: 30, width: 20 }',
      'outline: { length: 30 }',
      'd.yaml:20:14 boards[0].outline.width: "width" is missing — add it: a number',
    ],
    [
      'outline: { length: 30, width: 20 }',
      'outline: 30 x 20',
      'd.yaml:20:14 boards[0].outline: "30 x 20" is text — write a group { length: …, width: … } or a group { points: … }',
    ],
    [
      'length: 30, width',
      'length: 30 mm, width',
      'd.yaml:20:24 boards[0].outline.length: "30 mm" is text, not a number — write 30, without quotation marks or unit',
    ],
    [
      '[[0, 0], [10, 0], [0, 10]]',
      '[[0, 0], [10, 0]]',
      'd.yaml:24:24 boards[1].outline.points: has 2 entries — write at least 3',
    ],
    [
      'at: { x: 5, y: 5 }',
      'at: 5, 5',
      'd.yaml:29:9 components[0].at: "5, 5" is text — write a group { x: …, y: … }',
    ],
    [
      'at: { x: 5, y: 5 }',
      'at: { x: 5,2, y: 5 }',
      'd.yaml:29:16 components[0].at.2: "2" is no field here — write decimals with a point, such as 5.2',
    ],
    [
      '- id: U1',
      '- id: IC1',
      'd.yaml:26:9 components[0].id: "IC1" is no reference designator — write class letters after IEEE 315 and a number, such as "U3", "MK1", "BT1"',
    ],
    [
      'side: top',
      'side: front',
      'd.yaml:28:11 components[0].side: "front" is not allowed here — write one of "top", "bottom"',
    ],
    [
      'marking: 1E30',
      'marking: "A[8B"',
      'd.yaml:30:14 components[0].marking: "A[8B" has "[" without "]" — write "\\[" for a real bracket',
    ],
    [
      'between: [U1, U2]',
      'between: U1, U2',
      'd.yaml:37:14 connections[0].between: "U1, U2" is text — write a list of 2 in brackets, such as [U1, U2]',
    ],
    [
      'between: [U1, U2]',
      'between: [U1]',
      'd.yaml:37:14 connections[0].between: has 1 entry — write at least 2',
    ],
    [
      'part: quillon/QN4410',
      'part: QN4410',
      'd.yaml:49:17 identifications[0].candidates[0].part: "QN4410" is no part id — write maker id, slash, part number, such as "quillon/QN4410"',
    ],
    [
      'part: quillon/QN4410, ',
      '',
      'd.yaml:49:9 identifications[0].candidates[0]: names neither part, category nor maker — give at least one',
    ],
    [
      'probability: 0.7',
      'probability: 70',
      'd.yaml:49:46 identifications[0].candidates[0].probability: 70 does not fit here — a probability lies between 0 and 1',
    ],
    [
      'probability: 0.7',
      'probability: 70%',
      'd.yaml:49:46 identifications[0].candidates[0].probability: "70%" is text, not a number — write 0.7, without quotation marks or unit',
    ],
    [
      'category: Gyroscope',
      'category: Gyro',
      'd.yaml:50:21 identifications[0].candidates[1].category: "Gyro" is not allowed here — did you mean "Gyroscope"?',
    ],
    [
      'caseback: dossier/1\n',
      '',
      'd.yaml:1:1: does not say what it is — start with "caseback: dossier/1" or "caseback: catalogue/1"',
    ],
    [
      'caseback: dossier/1',
      'caseback: dosier/1',
      'd.yaml:1:11 caseback: "dosier/1" is no form this program reads — did you mean "dossier/1"?',
    ],
  ])('"%s" written as "%s"', (from, to, said) => {
    expect(problems(changed(GOOD_DOSSIER, from, to))).toEqual([said]);
  });

  test('all mistakes of a file are named at once, in its order', () => {
    const text = [
      ['maker: tarn\n', 'mkaer: tarn\n'],
      ['mass: 43 g', 'mass: 43'],
      ['side: top', 'side: front'],
      ['kind: marking', 'kind: markings'],
    ].reduce((at, [from, to]) => changed(at, from, to), GOOD_DOSSIER);
    const found = readDocument(Buffer.from(text), 'd.yaml').problems;
    expect(found.map(({ line }) => line)).toEqual([...found.map(({ line }) => line)].sort((a, b) => a! - b!));
    expect(found.map(({ path }) => path)).toEqual(
      expect.arrayContaining(['device.mkaer', 'device.mass', 'components[0].side', 'observations[0].kind']),
    );
  });

  test('a mistyped field is not also called missing', () => {
    expect(problems(changed(GOOD_DOSSIER, '  maker: tarn\n', '  makers: tarn\n'))).toEqual([
      'd.yaml:5:3 device.makers: "makers" is no field here — did you mean "maker"?',
    ]);
  });

  test('no more than a hundred are listed', () => {
    const fields = Array.from({ length: 250 }, (_, i) => `field${i}: 1\n`).join('');
    const found = problems(GOOD_DOSSIER + fields);
    expect(found).toHaveLength(101);
    expect(found.at(-1)).toBe('d.yaml: and 150 more — mend these first, then check again');
  });

  test('names that mean something to JavaScript are fields like any other', () => {
    expect(problems(`${GOOD_DOSSIER}__proto__: { visibility: draft }\nconstructor: 1\n`)).toEqual([
      expect.stringContaining('"__proto__" is no field here'),
      expect.stringContaining('"constructor" is no field here'),
    ]);
  });
});

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

  test('a bracket left open is told of at the next line', () => {
    expect(problems(changed(GOOD_DOSSIER, 'between: [U1, U2]', 'between: [U1, U2'))[0]).toBe(
      'd.yaml:38:5: stands where a bracket opened above is not closed yet — put the "]" at the end of the list or group above',
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

describe('files that are no text, or too much of it', () => {
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
      'd.yaml:2: holds bytes that are no UTF-8 — save it as UTF-8',
    ],
    [
      'a file cut off inside a character',
      Buffer.from('a: é').subarray(0, 4),
      'd.yaml:1: holds bytes that are no UTF-8 — save it as UTF-8',
    ],
  ])('%s', (_, bytes, said) => {
    expect(problems(bytes)).toEqual([said]);
  });

  test('more than 20 MiB is refused unread', () => {
    expect(problems(new Uint8Array(50 * 1024 * 1024).fill(0x5b))).toEqual([
      'd.yaml: is 50.0 MiB large; at most 20.0 MiB are read — split it into several files; photos belong beside the dossier, not in it',
    ]);
  });

  test('a file below that with too many pieces is refused before it is parsed', () => {
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
  ])('nesting by %s beyond all reason is told as such', (_, text) => {
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
