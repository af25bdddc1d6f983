import { describe, expect, test } from 'vitest';
import { readDocument } from '../../src/dossier/read.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER, problemsIn as problems } from './files.ts';

function dossierOf(text: string) {
  const document = documentOf(text);
  if (document.kind !== 'dossier') throw new Error('no dossier');
  return document.dossier;
}

describe('a valid file', () => {
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
    expect(dossierOf(changed(GOOD_DOSSIER, 'name: Tarn Sennit 3', 'name: true')).device).toMatchObject({
      name: 'true',
    });
  });

  test('may be JSON, and may start with a byte-order mark', () => {
    const json = JSON.stringify({
      caseback: 'dossier/1',
      device: 'tarn-sennit-3',
      specimen: { id: 'b' },
      teardown: { on: '2020', by: 'I. Example', note: '\u{1f600} "q" \\ /' },
    });
    expect(dossierOf(json).teardown.note).toBe('\u{1f600} "q" \\ /');
    expect(problems(`\ufeff${GOOD_DOSSIER}`)).toEqual([]);
    expect(problems(GOOD_DOSSIER.replaceAll('\n', '\r\n'))).toEqual([]);
  });

  test('in JSON a number for a text is taken as written, and a duplicate key is still reported', () => {
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

  test('knows the place of every value', () => {
    const { locate } = documentOf(GOOD_DOSSIER);
    expect(locate(['components', 0, 'marking'])).toEqual({ line: 30, column: 14 });
    expect(locate(['components', 0, 'rotation'])).toEqual(locate(['components', 0]));
    expect(documentOf(GOOD_CATALOGUE).locate(['parts', 1, 'maker'])).toEqual({ line: 10, column: 27 });
  });
});

describe('a mistake is named with its place, what is wrong and the fix', () => {
  test.each([
    [
      'bodySite: wrist',
      'bodySite: Wrist',
      'd.yaml:8:13 device.bodySite: "Wrist" is not allowed here — did you mean "wrist"?',
    ],
    [
      'bodySite: wrist',
      'bodySite: arm',
      'd.yaml:8:13 device.bodySite: "arm" is not allowed here — write one of "wrist", "finger", "ear", "chest", "head", "ankle", "eyewear", "badge", "clothing", "other"',
    ],
    [
      'bodySite: wrist',
      'bodysite: wrist',
      'd.yaml:8:3 device.bodysite: "bodysite" is not a field here — did you mean "bodySite"?',
    ],
    ['  released: 2019-04\n', '', 'd.yaml:3:3 device.released: "released" is missing — add it: First sold'],
    [
      'released: 2019-04',
      'released: April 2019',
      'd.yaml:7:13 device.released: "April 2019" is not a valid date — write "2019", "2019-04" or "2019-04-17" (ISO 8601)',
    ],
    [
      'released: 2019-04',
      'released: 2019-13',
      'd.yaml:7:13 device.released: "2019-13" is not a valid date — write "2019", "2019-04" or "2019-04-17" (ISO 8601)',
    ],
    [
      'id: tarn-sennit-3',
      'id: Tarn Sennit 3',
      'd.yaml:3:7 device.id: "Tarn Sennit 3" does not fit here — write "tarn-sennit-3": lower-case words joined by hyphens',
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
      'd.yaml:9:9 device.mass: "about 43 g" is not a valid quantity — write a number and a unit, such as "3.7 V"',
    ],
    [
      'mass: 43 g',
      'mass: [43, g]',
      'd.yaml:9:9 device.mass: [43,"g"] is not a valid quantity — write a number with its unit, such as "1 g"',
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
      'd.yaml:11:35 device.price.currency: "eur" is not a valid currency — write three capital letters after ISO 4217',
    ],
    [
      'region: NO',
      'region: Norway',
      'd.yaml:12:64 specimen.region: "Norway" is not a valid country — write two capital letters after ISO 3166-1',
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
      'd.yaml:24:24 boards[1].outline.points: has too few corners — write at least 3, or 2 with an arc',
    ],
    [
      'at: { x: 5, y: 5 }',
      'at: 5, 5',
      'd.yaml:29:9 components[0].at: "5, 5" is text — write a group { x: …, y: … }',
    ],
    [
      'at: { x: 5, y: 5 }',
      'at: { x: 5,2, y: 5 }',
      'd.yaml:29:16 components[0].at.2: "2" is not a field here — write decimals with a point, such as 5.2',
    ],
    [
      '- id: U1',
      '- id: 3C',
      'd.yaml:26:9 components[0].id: "3C" is not a valid reference designator — write capital class letters and a number, such as "U3", "MK1", "SW2"',
    ],
    [
      'side: top',
      'side: front',
      'd.yaml:28:11 components[0].side: "front" is not allowed here — write one of "top", "bottom"',
    ],
    [
      'marking: 1E30',
      'marking: "A[8B"',
      'd.yaml:30:14 components[0].marking: "A[8B" has "[" without "]" — close it behind the characters that it may be, such as "[02]", or write "\\[" for a real bracket',
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
      'part: quistle/QWR4T10',
      'part: QWR4T10',
      'd.yaml:49:17 identifications[0].candidates[0].part: "QWR4T10" is not a valid part id — write maker id, slash, part number, such as "quistle/QWR4T10"',
    ],
    [
      'part: quistle/QWR4T10, ',
      '',
      'd.yaml:49:9 identifications[0].candidates[0]: names neither part, category nor maker — give at least one',
    ],
    [
      'probability: 0.7',
      'probability: 70',
      'd.yaml:49:47 identifications[0].candidates[0].probability: 70 does not fit here — a probability lies between 0 and 1',
    ],
    [
      'probability: 0.7',
      'probability: 70%',
      'd.yaml:49:47 identifications[0].candidates[0].probability: "70%" is text, not a number — write 0.7, without quotation marks or unit',
    ],
    [
      'category: Gyroscope',
      'category: Gyro',
      'd.yaml:50:21 identifications[0].candidates[1].category: "Gyro" is not a term of the component taxonomy — write Gyroscope',
    ],
    [
      'caseback: dossier/1\n',
      '',
      'd.yaml:1:1: does not say what it is — start with "caseback: dossier/1" or "caseback: catalogue/1"',
    ],
    [
      'caseback: dossier/1',
      'caseback: dosier/1',
      'd.yaml:1:11 caseback: "dosier/1" is not a form this program reads — did you mean "dossier/1"?',
    ],
  ])('"%s" written as "%s"', (from, to, said) => {
    expect(problems(changed(GOOD_DOSSIER, from, to))).toEqual([said]);
  });

  test('all mistakes of a file are listed at once, in its order', () => {
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
      'd.yaml:5:3 device.makers: "makers" is not a field here — did you mean "maker"?',
    ]);
  });

  test('no more than a hundred are listed', () => {
    const fields = Array.from({ length: 250 }, (_, i) => `field${i}: 1\n`).join('');
    const found = problems(GOOD_DOSSIER + fields);
    expect(found).toHaveLength(101);
    expect(found.at(-1)).toBe('d.yaml: and 150 more — fix these first, then check again');
  });

  test('names that mean something to JavaScript are fields like any other', () => {
    expect(problems(`${GOOD_DOSSIER}__proto__: { visibility: draft }\nconstructor: 1\n`)).toEqual([
      expect.stringContaining('"__proto__" is not a field here'),
      expect.stringContaining('"constructor" is not a field here'),
    ]);
  });
});
