import { describe, expect, test } from 'vitest';
import { NOTHING_HELD } from '../../../src/dossier/check/context.ts';
import { changed, GOOD_CATALOGUE, GOOD_DOSSIER } from '../files.ts';
import { another, deviceCalled, findingsIn, withCatalogue, withDossier } from './findings.ts';

describe('things named must be described, in the files or in the archive', () => {
  test.each([
    [
      'a maker',
      'maker: tarn\n',
      'maker: trn\n',
      'a.yaml:5 device.maker: no maker "trn" in these files or the archive — did you mean "tarn"?',
    ],
    [
      'a product line',
      'productLine: tarn-sennit\n',
      'productLine: tarn-senit\n',
      'a.yaml:6 device.productLine: no product line "tarn-senit" in these files or the archive — did you mean "tarn-sennit"?',
    ],
    [
      'a part',
      'quistle/QWR4T10',
      'quistle/QWR4T11',
      'a.yaml:49 identifications[0].candidates[0].part: no part "quistle/QWR4T11" in these files or the archive — did you mean "quistle/QWR4T10"?',
    ],
    [
      'a device before',
      'mass: 43 g',
      'succeeds: [tarn-sennit-2]',
      'a.yaml:9 device.succeeds[0]: no device "tarn-sennit-2" in these files or the archive — did you mean "tarn-sennit-3"?',
    ],
  ])('%s', (_, from, to, said) => {
    expect(withDossier(from, to)).toEqual([said]);
  });

  test('a device named by its id', () => {
    expect(findingsIn([another('b', 'brindle-1')])).toEqual([
      'a.yaml:2 device: no device "brindle-1" in these files or the archive — describe the device in a dossier or catalogue first',
    ]);
  });

  test('makers and originals of the catalogue', () => {
    expect(
      withCatalogue('maker: ostrel, categories', 'maker: ostrl, relabels: quistle/QWR1, categories'),
    ).toEqual([
      expect.stringContaining('no maker "ostrl" in these files or the archive — did you mean "ostrel"?'),
      expect.stringContaining('no part "quistle/QWR1" in these files or the archive'),
    ]);
  });

  test('evidence of a claim', () => {
    const publication = (on: string) =>
      `${GOOD_CATALOGUE}publications:\n  - id: trend\n    kind: article\n    title: T\n    claims:\n      - { id: c1, sentence: S., supportedBy: [${on}] }\n`;
    expect(
      findingsIn([
        GOOD_DOSSIER,
        publication('tarn-sennit-3/a/U1, tarn-sennit-3/a/seen-1, quistle/QWR4T10, tarn-sennit-3'),
      ]),
    ).toEqual([]);
    expect(findingsIn([GOOD_DOSSIER, publication('tarn-sennit-3/a/U7')])).toEqual([
      'b.yaml:16 publications[0].claims[0].supportedBy[0]: nothing in these files or the archive is called "tarn-sennit-3/a/U7" — did you mean "tarn-sennit-3/a/U1", "tarn-sennit-3/a/U2" or "tarn-sennit-3/a"?',
    ]);
    expect(findingsIn([GOOD_DOSSIER, publication('trend/c1')])).toEqual([
      expect.stringContaining('it would support its own evidence: trend/c1 is supported by trend/c1'),
    ]);
  });

  test('records of the archive count, and give near names', () => {
    const held = { ...NOTHING_HELD, ids: () => ['tarn', 'quistle'] };
    const [maker] = findingsIn([changed(GOOD_DOSSIER, 'maker: tarn\n', 'maker: trn\n')], held);
    expect(maker).toContain('did you mean "tarn"?');
  });
});

describe('a single space of ids', () => {
  test('the same id for two kinds of record', () => {
    expect(withCatalogue('- { id: tarn-sennit, name', '- { id: tarn, name')).toEqual(
      expect.arrayContaining([
        'b.yaml:7 productLines[0]: "tarn" is already the id of a maker — choose another id',
      ]),
    );
  });

  test('a device that takes the id of its maker', () => {
    expect(withDossier('id: tarn-sennit-3', 'id: tarn')).toEqual([
      'b.yaml:3 makers[0]: "tarn" is already the id of a device — choose another id',
    ]);
  });

  test('the same record twice in a file', () => {
    const twice = '  - { id: quistle, name: Quistle, makes: [parts], invented: true }\n';
    expect(withCatalogue(twice, twice + twice)).toEqual([
      'b.yaml:5 makers[2]: maker "quistle" is also at b.yaml:4 — describe it once',
    ]);
  });

  test('the same record in two files, described alike and differently', () => {
    expect(findingsIn([GOOD_CATALOGUE, GOOD_CATALOGUE])).toEqual([]);
    expect(findingsIn([GOOD_CATALOGUE, changed(GOOD_CATALOGUE, 'name: Ostrel', 'name: Ostrell')])).toEqual([
      'b.yaml:5 makers[2]: maker "ostrel" is described differently at a.yaml:5 — describe it once',
    ]);
  });

  test('the same specimen in two files, and the same device described in two ways', () => {
    const second = changed(GOOD_DOSSIER, 'specimen: { id: a', 'specimen: { id: b');
    expect(findingsIn([GOOD_DOSSIER, GOOD_CATALOGUE, GOOD_DOSSIER])).toEqual([
      'c.yaml:12 specimen.id: specimen "tarn-sennit-3/a" is also in a.yaml:12 — give each specimen its own id',
    ]);
    expect(findingsIn([GOOD_DOSSIER, GOOD_CATALOGUE, second])).toEqual([]);
    expect(findingsIn([GOOD_DOSSIER, GOOD_CATALOGUE, changed(second, 'mass: 43 g', 'mass: 44 g')])).toEqual([
      'c.yaml:3 device: device "tarn-sennit-3" is described differently at a.yaml:3 — describe it in one place and write only its id in the others',
    ]);
  });

  test('an id that the archive has for something else', () => {
    const held = {
      ...NOTHING_HELD,
      record: (kind: string, id: string) =>
        kind === 'devices' && id === 'ostrel' ? ({} as never) : undefined,
    };
    expect(findingsIn([GOOD_CATALOGUE], held)).toEqual([
      'a.yaml:5 makers[2]: "ostrel" is already the id of a device — choose another id',
    ]);
  });
});

describe('succession', () => {
  const chain = (...steps: readonly [string, string][]) =>
    findingsIn([GOOD_CATALOGUE, ...steps.map(([id, more]) => deviceCalled(id, more))]);

  test('may branch and join', () => {
    expect(
      chain(
        ['a-1', 'released: 2019'],
        ['a-2', 'released: 2020, succeeds: [a-1]'],
        ['a-3', 'released: 2021, succeeds: [a-1, a-2]'],
      ),
    ).toEqual([]);
  });

  test('has no cycles', () => {
    expect(
      chain(['a-1', 'released: 2020, succeeds: [a-2]'], ['a-2', 'released: 2020, succeeds: [a-1]']),
    ).toEqual([
      'b.yaml:2 device.succeeds: succession goes in a circle: a-1 > a-2 > a-1 — leave one of the steps out',
      'c.yaml:2 device.succeeds: succession goes in a circle: a-2 > a-1 > a-2 — leave one of the steps out',
    ]);
  });

  test('has no cycles through the archive either', () => {
    const held = {
      ...NOTHING_HELD,
      record: (kind: string, id: string) =>
        kind === 'devices' && id === 'a-2'
          ? ({ id, released: '2020', succeeds: ['a-1'] } as never)
          : undefined,
    };
    expect(
      findingsIn([GOOD_CATALOGUE, deviceCalled('a-1', 'released: 2020, succeeds: [a-2]')], held),
    ).toEqual([expect.stringContaining('succession goes in a circle: a-1 > a-2 > a-1')]);
  });

  test('follows time', () => {
    expect(chain(['a-1', 'released: 2020-06'], ['a-2', 'released: 2020-05, succeeds: [a-1]'])).toEqual([
      'c.yaml:2 device.succeeds[0]: a-2 (2020-05) is released before a-1 (2020-06), which it succeeds — check both dates and the direction',
    ]);
    expect(chain(['a-1', 'released: 2020-06'], ['a-2', 'released: 2020, succeeds: [a-1]'])).toEqual([]);
  });
});

describe('dates against the device', () => {
  test('bought before release', () => {
    expect(withDossier('bought: 2019-05-02', 'bought: 2019-03')).toEqual([
      'a.yaml:12 specimen.bought: bought before the device was released: 2019-03 lies before 2019-04 — check both dates; leave "bought" out for a sample on loan',
    ]);
  });

  test('opened before release is a caution', () => {
    const text = changed(changed(GOOD_DOSSIER, 'bought: 2019-05-02, ', ''), 'on: 2019-06', 'on: 2019-03');
    expect(findingsIn([text, GOOD_CATALOGUE])).toEqual([
      'caution a.yaml:14 teardown.on: opened before the device was released: 2019-03 lies before 2019-04 — check both dates, unless it was a sample',
    ]);
  });

  test('a specimen whose device another file describes', () => {
    const second = another('b').replace('id: b', 'id: b, bought: 2018');
    expect(findingsIn([GOOD_DOSSIER, GOOD_CATALOGUE, second])).toEqual([
      expect.stringContaining('c.yaml:3 specimen.bought: bought before the device was released: 2018'),
    ]);
  });

  test('a part that came later than the device', () => {
    expect(withCatalogue('introduced: 2017', 'introduced: 2020')).toEqual([
      'caution a.yaml:49 identifications[0].candidates[0].part: U1 may be quistle/QWR4T10, first delivered 2020, but the device was released 2019-04 — check the part and both dates',
    ]);
  });
});

describe('the catalogue', () => {
  test('a part delivered last before first', () => {
    expect(withCatalogue('introduced: 2018', 'introduced: 2018, discontinued: 2016')).toEqual([
      'b.yaml:10 parts[1].discontinued: last delivered 2016, before it was first delivered (2018) — check both dates',
    ]);
  });

  test('labels in a cycle, and a label older than the original', () => {
    const relabelled = (first: string, second: string) =>
      findingsIn([changed(changed(GOOD_CATALOGUE, 'introduced: 2017', first), 'introduced: 2018', second)]);
    expect(relabelled('relabels: ostrel/OS7', 'relabels: quistle/QWR4T10')).toEqual([
      expect.stringContaining('relabelling goes in a circle: quistle/QWR4T10 > ostrel/OS7 > quistle/QWR4T10'),
      expect.stringContaining('relabelling goes in a circle: ostrel/OS7 > quistle/QWR4T10 > ostrel/OS7'),
    ]);
    expect(relabelled('introduced: 2019', 'introduced: 2018, relabels: quistle/QWR4T10')).toEqual([
      expect.stringMatching(
        /^caution .*first delivered 2018, before the original quistle\/QWR4T10 \(2019\)/u,
      ),
    ]);
  });

  test('makers used for something that they do not make', () => {
    expect(withCatalogue('name: Tarn, makes: [devices]', 'name: Tarn, makes: [parts]')).toEqual([
      'caution a.yaml:5 device.maker: maker "tarn" is not said to make devices — add devices to what the maker makes, or name another maker',
    ]);
    expect(withCatalogue('name: Tarn Sennit, maker: tarn', 'name: Tarn Sennit, maker: ostrel')).toEqual([
      'caution a.yaml:6 device.productLine: tarn-sennit-3 is by "tarn", its line "tarn-sennit" by "ostrel" — check both, unless the line changed hands',
    ]);
  });

  test('a publication older than its evidence, and a claim id given twice', () => {
    const claim = '{ id: c1, sentence: S., supportedBy: [tarn-sennit-3/a/U1] }';
    const publications = `publications:\n  - { id: trend, kind: article, title: T, published: 2018, claims: [${claim}] }\n`;
    expect(findingsIn([GOOD_DOSSIER, GOOD_CATALOGUE + publications])).toEqual([
      expect.stringMatching(
        /^caution .*supportedBy\[0\]: published 2018, but is supported by a specimen opened 2019-06/u,
      ),
    ]);
    const twice = publications.replace('2018', '2021').replace(claim, `${claim}, ${claim}`);
    expect(findingsIn([GOOD_DOSSIER, GOOD_CATALOGUE + twice])).toEqual([
      expect.stringContaining('"c1" is already the id of a claim'),
    ]);
  });
});

test('findings come by file, then by line, from all rules', () => {
  const text = [
    ['maker: tarn\n', 'maker: trn\n'],
    ['x: 5, y: 5', 'x: 61, y: 5'],
    ['probability: 0.2', 'probability: 0.5'],
  ].reduce((at, [from, to]) => changed(at, from, to), GOOD_DOSSIER);
  const lines = findingsIn([GOOD_CATALOGUE, text]).map((one) => one.split(' ')[0]);
  expect(lines).toEqual(['b.yaml:5', 'b.yaml:29', 'b.yaml:49']);
});
