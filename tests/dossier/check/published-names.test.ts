import { expect, test } from 'vitest';
import { Archive } from '../../../src/archive.ts';
import { MemoryJournal } from '../../../src/journal/memory/journal.ts';
import { documentOf } from '../files.ts';
import { findingsIn } from './findings.ts';

// What readers may see may not name what they may not: each case by hand, with where it stands and the fix.

const CATALOGUE = `caseback: catalogue/1
makers:
  - { id: tarn, name: Tarn, makes: [devices] }
  - { id: quistle, name: Quistle, makes: [parts] }
parts:
  - { number: A, maker: quistle, categories: [Accelerometer], PART }
sources:
  - { id: paper, kind: paper, title: Paper, SOURCE }
patterns:
  - { id: any, name: Any, idea: Any., text: "MATCH (x:Sensor) RETURN x", reasons: [r], PATTERN }
publications:
  - id: letter
    kind: article
    title: Letter
    LETTER
    claims:
      - { id: c, sentence: So it is., supportedBy: [SUPPORT], CLAIM }
`;
const DOSSIER = `caseback: dossier/1
DOSSIER
device: { id: band, name: Band, maker: tarn, released: 2020, bodySite: wrist }
specimen: { id: a }
teardown: { on: 2025, by: I. Example }
boards: [{ id: main, kind: rigid }]
components: [{ id: U1, board: main }]
observations: [{ id: o1, about: [U1], kind: appearance, text: seen }]
identifications:
  - { component: U1, candidates: [{ part: quistle/A, probability: 0.9 }], basis: [o1], IDENTIFICATION }
`;
const DRAFT = 'visibility: draft';
const until = (day: number) => `visibility: embargoed, embargoUntil: "2099-01-0${day}T00:00:00Z"`;

/** Both files with some things hidden; everything else is published. */
function files(hidden: Record<string, string>, support = 'band/a/U1'): readonly string[] {
  const written = (text: string) =>
    text
      .replace('SUPPORT', support)
      .replaceAll(/(?:, )?\b(?:PART|SOURCE|PATTERN|LETTER|CLAIM|DOSSIER|IDENTIFICATION)\b/gu, (place) => {
        const mark = hidden[place.replace(', ', '')];
        const inner = place.startsWith(', ');
        if (!mark) return inner ? '' : '# all see it';
        return inner ? `, ${mark}` : mark.replace(', ', `\n${place === 'LETTER' ? '    ' : ''}`);
      });
  return [written(DOSSIER), written(CATALOGUE)];
}

test.each([
  [
    'a published identification names a draft part',
    { PART: DRAFT },
    undefined,
    [
      'a.yaml:10 identifications[0].candidates[0].part: names "quistle/A", which is not published, while this is published — publish "quistle/A" with it, hide this as well, or leave the name out',
    ],
  ],
  ['a draft identification may name a draft part', { PART: DRAFT, IDENTIFICATION: DRAFT }, undefined, []],
  ['a draft dossier may name a draft part', { PART: DRAFT, DOSSIER: DRAFT, LETTER: DRAFT }, undefined, []],
  [
    'an identification of which the embargo ends before that of the part',
    { PART: until(2), IDENTIFICATION: until(1) },
    undefined,
    [
      'a.yaml:10 identifications[0].candidates[0].part: names "quistle/A", which is under embargo until 2099-01-02T00:00:00Z, while this is embargoed until 2099-01-01T00:00:00Z — publish "quistle/A" with it, hide this as well, or leave the name out',
    ],
  ],
  [
    'an identification of which the embargo ends with that of the part',
    { PART: until(2), IDENTIFICATION: until(2) },
    undefined,
    [],
  ],
  [
    'a published sentence on a draft dossier',
    { DOSSIER: DRAFT },
    undefined,
    [
      'b.yaml:17 publications[0].claims[0].supportedBy[0]: names "band/a/U1", which is not published, while this is published — publish "band/a/U1" with it, hide this as well, or leave the name out',
    ],
  ],
  ['a draft sentence on a draft dossier', { DOSSIER: DRAFT, CLAIM: DRAFT }, undefined, []],
  [
    'a published sentence on the decision of a draft pattern',
    { PATTERN: DRAFT },
    '"band:any"',
    [
      'b.yaml:17 publications[0].claims[0].supportedBy[0]: names "any", which is not published, while this is published — publish "any" with it, hide this as well, or leave the name out',
    ],
  ],
  [
    'a published sentence on a draft source',
    { SOURCE: DRAFT },
    'paper',
    [
      'b.yaml:17 publications[0].claims[0].supportedBy[0]: names "paper", which is not published, while this is published — publish "paper" with it, hide this as well, or leave the name out',
    ],
  ],
])('%s', (_, hidden, support, expected) => {
  const found = findingsIn(files(hidden as Record<string, string>, support));
  expect(found.filter((one) => !one.startsWith('caution'))).toEqual(expected);
});

const BY = { actor: 'I. Example', reason: 'test' };
const documentsOf = (texts: readonly string[]) => texts.map((text, i) => documentOf(text, `${'ab'[i]}.yaml`));
const opened = () => Archive.open(new MemoryJournal(), () => new Date('2027-01-01T00:00:00Z'));

test('an import that hides a sentence which readers see cited names what cites it', async () => {
  const archive = await opened();
  const [dossier = '', catalogue = ''] = files({}, 'paper');
  const citing = dossier.replace('text: seen', 'text: seen, cites: [letter/c]');
  await archive.importDocuments(documentsOf([citing, catalogue]), BY);
  const hiding = files({ CLAIM: DRAFT }, 'paper')[1] as string;
  await expect(archive.importDocuments(documentsOf([hiding]), BY)).rejects.toMatchObject({
    problems: [
      {
        path: 'publications[0].claims[0].visibility',
        what: 'is hidden here, but readers see it cited in band/a',
      },
    ],
  });
});

test('an import says what readers see since, and a dry run what they would', async () => {
  const archive = await opened();
  const all = documentsOf(files({ LETTER: DRAFT }));
  const planned = archive.planDocuments(all, BY);
  expect(archive.version).toBe(0);
  const report = await archive.importDocuments(all, BY);
  const added = ['any', 'band', 'band/a', 'paper', 'quistle', 'quistle/A', 'tarn'];
  expect(report.readers).toEqual({ added, changed: [], gone: [] });
  expect(planned.readers).toEqual(report.readers);

  const letter = await archive.importDocuments(documentsOf([files({})[1] as string]), BY);
  expect(letter.readers).toEqual({ added: ['letter', 'letter/c'], changed: [], gone: [] });
  const draft = await archive.importDocuments(
    documentsOf([(files({ LETTER: DRAFT })[1] as string).replace('So it', 'Thus it')]),
    BY,
  );
  expect([draft.entries, draft.readers]).toEqual([1, { added: [], changed: [], gone: [] }]);
  expect(archive.state('reader').publication('letter')?.claims[0]?.sentence).toBe('So it is.');
});

test('what was recalled is seen again once it is filed anew, though it says the same', async () => {
  const archive = await opened();
  const all = documentsOf(files({}));
  await archive.importDocuments(all, BY);
  const report = await archive.recallRecord('band', BY);
  expect(report.ids).toEqual(['band', 'band/a']);
  expect(report.readers).toEqual({
    added: [],
    changed: ['letter', 'letter/c'],
    gone: ['band', 'band/a', 'tarn'],
  });
  await expect(archive.recallRecord('band', BY)).rejects.toMatchObject({ code: 'CONFLICT' });
  await expect(archive.recallRecord('bend', BY)).rejects.toMatchObject({ code: 'NOT_FOUND' });
  const again = await archive.importDocuments(all, BY);
  expect(again.readers.added).toEqual(['band', 'band/a', 'tarn']);
  expect((await archive.importDocuments(all, BY)).entries).toBe(0);
});
