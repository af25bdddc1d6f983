import { beforeEach, describe, expect, test } from 'vitest';
import { Archive } from '../../../src/archive.ts';
import { readDocument } from '../../../src/dossier/read.ts';
import { writeDossier, writeJson } from '../../../src/dossier/write.ts';
import { MemoryJournal } from '../../../src/journal/memory/journal.ts';
import { identificationSchema, observationSchema } from '../../../src/model/dossier.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from '../files.ts';
import { findingsIn } from './findings.ts';

const SPECIMEN = 'tarn-sennit-3/a';

interface Written {
  readonly supportedBy: string;
  readonly figures?: string;
}

/** A catalogue with a piece of sentences c1, c2 … that rest on what is given. */
function publication(...claims: readonly Written[]): string {
  const lines = claims.map(
    ({ supportedBy, figures }, at) =>
      `      - { id: c${at + 1}, sentence: S., supportedBy: [${supportedBy}]${figures ? `, figures: [${figures}]` : ''} }\n`,
  );
  return `${GOOD_CATALOGUE}sources:
  - { id: sheet, kind: data-sheet, title: A sheet }
patterns:
  - { id: senses, name: It senses, idea: I., text: "MATCH (x:Sensor) RETURN x", reasons: [R.] }
publications:
  - id: publication
    kind: article
    title: T
    claims:
${lines.join('')}`;
}

const observing = (cites: string) =>
  changed(GOOD_DOSSIER, '    kind: marking\n', `    kind: marking\n    cites: [${cites}]\n`);
/** The dossier with the identification alone citing something. */
function identificationCiting(cites: string): string {
  const at = GOOD_DOSSIER.lastIndexOf('    basis: [seen-1]\n');
  return `${GOOD_DOSSIER.slice(0, at)}    cites: [${cites}]\n${GOOD_DOSSIER.slice(at)}`;
}

const circles = (dossier: string, catalogue: string) =>
  findingsIn([dossier, catalogue]).flatMap(
    (said) => /own evidence.*? — /u.exec(said)?.[0].slice(0, -3) ?? [],
  );
const told = (dossier: string, catalogue: string) => findingsIn([dossier, catalogue]).join('\n');

describe('a sentence does not support its own evidence', () => {
  test('an observation that cites the sentence it supports', () => {
    const found = findingsIn([
      observing('publication/c1'),
      publication({ supportedBy: `${SPECIMEN}/seen-1` }),
    ]);
    expect(found).toEqual([
      `a.yaml:45 observations[0].cites: it would support its own evidence: ${SPECIMEN}/seen-1 is supported by publication/c1 is supported by ${SPECIMEN}/seen-1 — name what was seen on the bench instead`,
      `b.yaml:20 publications[0].claims[0].supportedBy: it would support its own evidence: publication/c1 is supported by ${SPECIMEN}/seen-1 is supported by publication/c1 — name what was seen on the bench instead`,
    ]);
  });

  test.each([
    ['the identification', identificationCiting, `${SPECIMEN}/U1`],
    ['an observation about the component', observing, `${SPECIMEN}/U1`],
    ['the whole unit', observing, SPECIMEN],
    ['the whole device', observing, 'tarn-sennit-3'],
    ['a decision on the device', observing, 'tarn-sennit-3:senses'],
    ['the unit, and the identification cites', identificationCiting, SPECIMEN],
    ['a decision, and the identification cites', identificationCiting, 'tarn-sennit-3:senses'],
  ])('through %s', (_, dossier, supportedBy) => {
    expect(told(dossier('publication/c1'), publication({ supportedBy }))).toContain(
      'it would support its own evidence',
    );
  });

  test('through other sentences, with the complete path shown', () => {
    const catalogue = publication(
      { supportedBy: 'publication/c2' },
      { supportedBy: 'publication/c3' },
      { supportedBy: `${SPECIMEN}/U1` },
    );
    expect(circles(identificationCiting('publication/c1'), catalogue)).toContain(
      `own evidence: ${SPECIMEN}/U1 is supported by publication/c1 is supported by publication/c2 is supported by publication/c3 is supported by ${SPECIMEN}/U1`,
    );
  });

  test('sentences that support one another', () => {
    const catalogue = publication({ supportedBy: 'publication/c2' }, { supportedBy: 'publication/c1' });
    expect(told(GOOD_DOSSIER, catalogue)).toContain(
      'it would support its own evidence: publication/c1 is supported by publication/c2 is supported by publication/c1',
    );
  });

  test.each([
    ['all devices', '{ count: { category: Sensor }, atLeast: 1 }', true],
    [
      'devices like it',
      '{ share: { category: Sensor }, where: { bodySite: wrist, from: "2019" }, atLeast: 1 }',
      true,
    ],
    ['a trend', '{ trend: { category: Sensor }, where: { maker: tarn, to: "2019-04" }, says: rising }', true],
    ['it beside itself', '{ compare: Sensor, devices: [tarn-sennit-3, tarn-sennit-3], says: as-many }', true],
    [
      'devices worn elsewhere',
      '{ count: { category: Sensor }, where: { bodySite: ear }, atLeast: 1 }',
      false,
    ],
    ['later devices', '{ count: { category: Sensor }, where: { from: "2019-05" }, atLeast: 1 }', false],
    ['earlier devices', '{ count: { category: Sensor }, where: { to: "2019-03" }, atLeast: 1 }', false],
    [
      'those of another line',
      '{ count: { category: Sensor }, where: { productLine: other }, atLeast: 1 }',
      false,
    ],
  ])('through a figure over %s: %s', (_, figures, refused) => {
    const catalogue = publication({ supportedBy: 'sheet', figures }).replace(
      'productLines:\n',
      'productLines:\n  - { id: other, name: Other, maker: tarn }\n',
    );
    for (const dossier of [observing('publication/c1'), identificationCiting('publication/c1')])
      expect(told(dossier, catalogue).includes('it would support its own evidence')).toBe(refused);
  });
});

describe('valid input is accepted', () => {
  test.each([
    ['a source', observing('sheet'), { supportedBy: `${SPECIMEN}/seen-1` }],
    [
      'a sentence on another component',
      identificationCiting('publication/c1'),
      { supportedBy: `${SPECIMEN}/U2` },
    ],
    ['a sentence on a board', observing('publication/c1'), { supportedBy: `${SPECIMEN}/main` }],
    ['a sentence on a part', observing('publication/c1'), { supportedBy: 'quistle/QWR4T10' }],
    [
      'a sentence on what the identification, which cites, is supported by',
      identificationCiting('publication/c1'),
      { supportedBy: `${SPECIMEN}/seen-1` },
    ],
  ])('citing %s', (_, dossier, claim) => {
    expect(findingsIn([dossier, publication(claim)])).toEqual([]);
  });

  test('a withdrawn observation supports nothing and is in no circle', () => {
    const withdrawn = observing('publication/c1').replace(
      '    marking: 1E30\nidentifications',
      '    marking: 1E30\n    withdrawn: { by: W, on: "2020-01-01T00:00:00Z", reason: wrong }\nidentifications',
    );
    expect(withdrawn).toContain('withdrawn');
    expect(findingsIn([withdrawn, publication({ supportedBy: `${SPECIMEN}/seen-1` })])).toEqual([]);
  });

  test('what is cited must be there', () => {
    expect(told(observing('publication/c9'), publication({ supportedBy: 'sheet' }))).toContain(
      'observations[0].cites[0]: no source or published sentence "publication/c9" in these files or the archive',
    );
  });

  test.each([
    ['YAML', writeDossier],
    ['JSON', writeJson],
  ] as const)('citations survive writing and reading back as %s', (_, write) => {
    for (const text of [observing('sheet, publication/c1'), identificationCiting('sheet, publication/c1')]) {
      const read = documentOf(text);
      if (read.kind !== 'dossier') throw new Error('no dossier');
      const again = readDocument(Buffer.from(write(read.dossier), 'utf8'), 'again');
      expect(again.problems).toEqual([]);
      expect(again.document?.kind === 'dossier' && again.document.dossier).toEqual(read.dossier);
      expect(JSON.stringify(read.dossier)).toContain('"cites":["sheet","publication/c1"]');
    }
  });
});

describe('a single record at a time into an archive', () => {
  const BY = { actor: 'bench', reason: 'test' } as const;
  let archive: Archive;
  beforeEach(async () => {
    archive = await Archive.open(new MemoryJournal());
    const texts = [
      GOOD_DOSSIER,
      publication(
        { supportedBy: `${SPECIMEN}/U1` },
        { supportedBy: 'publication/c1' },
        { supportedBy: `${SPECIMEN}/U2` },
        { supportedBy: 'sheet', figures: '{ count: { category: Sensor }, atLeast: 1 }' },
      ),
    ];
    await archive.importDocuments(
      texts.map((text, at) => documentOf(text, `${at}.yaml`)),
      BY,
    );
  });
  const observe = (written: object) =>
    archive.recordObservation(
      SPECIMEN,
      observationSchema.parse({ id: 'late', about: ['U2'], kind: 'marking', text: 'seen', ...written }),
      BY,
      'desk',
    );
  const identify = (written: object) =>
    archive.setIdentification(
      SPECIMEN,
      identificationSchema.parse({
        component: 'U1',
        candidates: [{ part: 'ostrel/OS7', probability: 0.5 }],
        ...written,
      }),
      BY,
      'desk',
    );

  test('an observation is refused with the path shown, and nothing is written', async () => {
    const before = archive.version;
    await expect(observe({ about: ['U1'], cites: ['publication/c2'] })).rejects.toMatchObject({
      code: 'BAD_INPUT',
      message: expect.stringContaining(
        `${SPECIMEN}/late is supported by publication/c2 is supported by publication/c1 is supported by ${SPECIMEN}/U1 is supported by ${SPECIMEN}/late`,
      ),
    });
    await expect(observe({ cites: ['publication/c4'] })).rejects.toMatchObject({
      message: expect.stringContaining(
        `${SPECIMEN}/late is supported by publication/c4 is supported by tarn-sennit-3 is supported by`,
      ),
    });
    expect(archive.version).toBe(before);
  });

  test('an identification likewise', async () => {
    const before = archive.version;
    await expect(identify({ cites: ['publication/c1'] })).rejects.toMatchObject({
      code: 'BAD_INPUT',
      message: expect.stringContaining(
        `${SPECIMEN}/U1 is supported by publication/c1 is supported by ${SPECIMEN}/U1`,
      ),
    });
    expect(archive.version).toBe(before);
    await identify({ cites: ['publication/c3', 'sheet'] });
    expect(archive.version).toBe(before + 1);
  });

  test('a later sentence may not be supported by what it supports, through what was recorded', async () => {
    await observe({ cites: ['publication/c1', 'sheet'] });
    const again = publication(
      { supportedBy: `${SPECIMEN}/U2` },
      { supportedBy: 'sheet' },
      { supportedBy: 'sheet' },
      { supportedBy: 'sheet' },
    );
    await expect(archive.importDocuments([documentOf(again)], BY)).rejects.toMatchObject({
      code: 'BAD_FILE',
      problems: [
        expect.objectContaining({
          what: `it would support its own evidence: publication/c1 is supported by ${SPECIMEN}/U2 is supported by ${SPECIMEN}/late is supported by publication/c1`,
        }),
      ],
    });
    // Taken back, it stands in the way of nothing.
    await archive.withdrawObservation(SPECIMEN, 'late', BY, 'desk');
    await archive.importDocuments([documentOf(again)], BY);
    expect(archive.state('desk').publication('publication')?.claims[0].supportedBy).toEqual([
      `${SPECIMEN}/U2`,
    ]);
  });
});
