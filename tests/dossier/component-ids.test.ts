import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exportCatalogue, exportDossiers } from '../../src/archive/as-files.ts';
import { Archive } from '../../src/archive.ts';
import { withPrintedIds, withRecordedIds, withUniqueIds } from '../../src/dossier/component-ids.ts';
import { readDocument } from '../../src/dossier/read.ts';
import { writeCatalogue, writeDossier, writeJson } from '../../src/dossier/write.ts';
import { impactOf } from '../../src/evidence/impact-of.ts';
import { candidatesOf } from '../../src/identification/questions.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import type { CasebackError } from '../../src/model/problems.ts';
import { nearIds, resolve } from '../../src/state/resolve.ts';
import { findingsIn } from './check/findings.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';

// The sound dossier has U1 on board main and U2 on board sensor.
const BY = { actor: 'bench', reason: 'test' } as const;
const SPECIMEN = 'tarn-sennit-3/a';

/** The sound dossier with a further component. */
const with_ = (component: string, more = (text: string) => text) =>
  more(changed(GOOD_DOSSIER, '  - id: U2\n', `  - { id: ${component} }\n  - id: U2\n`));
/** Two components are called U1, told apart by their boards where something speaks of one. */
const TWO = with_('U1, board: sensor, marking: SECOND', (text) =>
  text
    .replace('[U1, U2]', '[main:U1, U2]')
    .replace('about: [U1]', 'about: [main:U1]')
    .replace('component: U1', 'component: main:U1'),
);

function dossierIn(text: string): Dossier {
  const { document, problems } = readDocument(Buffer.from(text), 'a.yaml');
  if (document?.kind !== 'dossier') throw new Error(JSON.stringify(problems));
  return document.dossier;
}

const idsOf = ({ components }: Dossier) => components.map(({ id }) => id);
const problemsOf = (text: string) => findingsIn([text, GOOD_CATALOGUE]);

async function archiveOf(...steps: readonly (readonly string[])[]) {
  const archive = await Archive.open(new MemoryJournal());
  for (const texts of steps) await bring(archive, ...texts);
  return archive;
}

const bring = (archive: Archive, ...texts: readonly string[]) =>
  archive.importDocuments(
    texts.map((text, i) => documentOf(text, `${i}.yaml`)),
    BY,
  );

const thing = (archive: Archive, local: string) => {
  const found = resolve(archive.state('desk'), `${SPECIMEN}/${local}`);
  return found?.kind === 'Component' ? `${found.id} on ${found.thing.board}` : undefined;
};

describe('in a file', () => {
  test('a designator is unique on its board, and ids name the board where it alone fits two', () => {
    expect(idsOf(dossierIn(GOOD_DOSSIER))).toEqual(['U1', 'U2']);
    expect(problemsOf(TWO)).toEqual([]);
    const dossier = dossierIn(TWO);
    expect(idsOf(dossier)).toEqual(['main:U1', 'sensor:U1', 'U2']);
    expect(dossier.identifications[0].component).toBe('main:U1');
    expect(dossier.connections[0].between).toEqual(['main:U1', 'U2']);
  });

  test('both spellings of a reference are understood', () => {
    const named = changed(
      changed(GOOD_DOSSIER, '[U1, U2]', '[main:U1, sensor:U2]'),
      'about: [U1]',
      'about: [main:U1]',
    );
    expect(problemsOf(named)).toEqual([]);
    expect(dossierIn(named)).toEqual(dossierIn(GOOD_DOSSIER));
  });

  test('a reference that fits two is a problem that names both', () => {
    expect(problemsOf(TWO.replace('component: main:U1', 'component: U1'))).toEqual([
      expect.stringMatching(
        /identifications\[0\]\.component: "U1" may be main:U1 or sensor:U1 — write one of main:U1, sensor:U1$/u,
      ),
    ]);
    const claim = (on: string) =>
      `caseback: catalogue/1\npublications:\n  - { id: p, kind: article, title: T, claims: [{ id: c, sentence: S., supportedBy: [${on}] }] }\n`;
    expect(findingsIn([TWO, GOOD_CATALOGUE, claim(`${SPECIMEN}/U1`)])).toEqual([
      `c.yaml:3 publications[0].claims[0].supportedBy[0]: "${SPECIMEN}/U1" may be ${SPECIMEN}/main:U1 or ${SPECIMEN}/sensor:U1 — write one of them`,
    ]);
    for (const on of ['sensor:U1', 'main:U1', 'U2'])
      expect(findingsIn([TWO, GOOD_CATALOGUE, claim(`${SPECIMEN}/${on}`)]), on).toEqual([]);
  });

  test('ambiguous ids are refused', () => {
    const twice = 'two components are called "U1"';
    expect(problemsOf(with_('U1, board: main'))[0]).toContain(twice);
    expect(problemsOf(with_('U1'))[0]).toContain(twice);
    expect(problemsOf(with_('sensor:C1, board: main'))).toEqual([
      expect.stringContaining(
        '"sensor:C1" names board "sensor", but it is on "main" — write id: C1 and board: sensor',
      ),
    ]);
    expect(problemsOf(with_('sensor:C1'))[0]).toContain('it says of no board');
    expect(idsOf(dossierIn(with_('sensor:C1, board: sensor')))).toEqual(['U1', 'C1', 'U2']);
    expect(problemsOf(changed(GOOD_DOSSIER, 'component: U1', 'component: sensor:U1'))[0]).toContain(
      'no component is called "sensor:U1"',
    );
  });
});

describe('in the archive', () => {
  test('a component is found by either spelling, by the short spelling while that is unambiguous', async () => {
    const one = await archiveOf([GOOD_CATALOGUE, GOOD_DOSSIER]);
    expect(['U1', 'main:U1', 'sensor:U1'].map((local) => thing(one, local))).toEqual([
      `${SPECIMEN}/U1 on main`,
      `${SPECIMEN}/U1 on main`,
      undefined,
    ]);
    const two = await archiveOf([GOOD_CATALOGUE, TWO]);
    expect(['U1', 'main:U1', 'sensor:U1', 'sensor:U2'].map((local) => thing(two, local))).toEqual([
      undefined,
      `${SPECIMEN}/main:U1 on main`,
      `${SPECIMEN}/sensor:U1 on sensor`,
      `${SPECIMEN}/U2 on sensor`,
    ]);
    const view = two.state('desk');
    expect(nearIds(view, `${SPECIMEN}/U1`)).toEqual([`${SPECIMEN}/main:U1`, `${SPECIMEN}/sensor:U1`]);
    await expect(candidatesOf(view, `${SPECIMEN}/U1`)).rejects.toThrow(
      `did you mean "${SPECIMEN}/main:U1" or "${SPECIMEN}/sensor:U1"?`,
    );
    expect((await candidatesOf(view, `${SPECIMEN}/sensor:U2`)).component.id).toBe('U2');
    expect((await impactOf(view, `${SPECIMEN}/sensor:U2`)).of.id).toBe(`${SPECIMEN}/U2`);
  });

  test('records added later are kept under one id, in either spelling', async () => {
    const archive = await archiveOf([GOOD_CATALOGUE, TWO]);
    const observe = (id: string, about: string) =>
      archive.recordObservation(
        SPECIMEN,
        { id, about: [about], kind: 'appearance', text: 'Matt.' },
        BY,
        'desk',
      );
    expect((await observe('later-1', 'sensor:U2')).payload).toMatchObject({ observation: { about: ['U2'] } });
    expect((await observe('later-2', 'sensor:U1')).payload).toMatchObject({
      observation: { about: ['sensor:U1'] },
    });
    await expect(observe('later-3', 'U1')).rejects.toMatchObject({
      code: 'BAD_INPUT',
      problems: [{ what: '"U1" may be main:U1 or sensor:U1', fix: 'write one of main:U1, sensor:U1' }],
    });
    const candidates = [{ part: 'ostrel/OS7', probability: 0.9 }];
    const { difference } = await archive.correct(
      { identify: { specimen: SPECIMEN, component: 'sensor:U2', candidates, state: 'proposed', basis: [] } },
      BY,
      'desk',
    );
    expect(difference).toBeDefined();
    expect(archive.state('desk').specimen(SPECIMEN)?.identified.get('U2')?.candidates).toEqual(candidates);
    await archive.correct({ value: { of: `${SPECIMEN}/sensor:U1`, field: 'pins', is: 8 } }, BY, 'desk');
    expect(archive.state('desk').specimen(SPECIMEN)?.components.get('sensor:U1')?.pins).toBe(8);
    expect(archive.state('desk').specimen(SPECIMEN)?.components.get('main:U1')?.pins).toBeUndefined();
  });

  test('a later dossier with a second such component takes nothing away from the first', async () => {
    const claims = `caseback: catalogue/1\npublications:\n  - { id: p, kind: article, title: T, claims: [{ id: c, sentence: S., supportedBy: [${SPECIMEN}/U1] }] }\n`;
    const archive = await archiveOf([GOOD_CATALOGUE, GOOD_DOSSIER, claims]);
    await archive.recordObservation(
      SPECIMEN,
      { id: 'later', about: ['U1'], kind: 'appearance', text: 'Matt.' },
      BY,
      'desk',
    );
    await bring(archive, TWO);
    // What was recorded of U1 is still said of the component on the main board, which keeps its id.
    expect(['U1', 'main:U1', 'sensor:U1'].map((local) => thing(archive, local))).toEqual([
      `${SPECIMEN}/U1 on main`,
      `${SPECIMEN}/U1 on main`,
      `${SPECIMEN}/sensor:U1 on sensor`,
    ]);
    const view = archive.state('desk');
    expect(
      view
        .specimen(SPECIMEN)
        ?.observations.get('U1')
        ?.map(({ id }) => id),
    ).toEqual(['seen-1', 'later']);
    expect(view.specimen(SPECIMEN)?.observations.get('sensor:U1')).toBeUndefined();
    expect((await impactOf(view, `${SPECIMEN}/main:U1`)).impacted.map(({ id }) => id)).toContain('p/c');
    expect((await impactOf(view, `${SPECIMEN}/sensor:U1`)).impacted.map(({ id }) => id)).not.toContain('p/c');

    // Its files say which is meant, come in again without a change, and mean the same elsewhere.
    const files = [writeCatalogue(exportCatalogue(view)), ...[...exportDossiers(view)].map(writeDossier)];
    expect(files[0]).toContain(`${SPECIMEN}/main:U1`);
    expect(files[1]).toContain('about: [main:U1]');
    expect(files[1]).not.toMatch(/id: "?(?:main|sensor):/u);
    expect((await bring(archive, ...files)).entries).toBe(0);
    const elsewhere = await archiveOf(files);
    expect(
      ['main:U1', 'sensor:U1'].map((local) => [
        thing(elsewhere, local)?.split(' ')[2],
        elsewhere.state('desk').specimen(SPECIMEN)?.observations.get(local)?.length,
      ]),
    ).toEqual([
      ['main', 2],
      ['sensor', undefined],
    ]);
    // Back to one: what was recorded of the second would be lost, if anything was.
    expect(
      (await bring(archive, files[1].replace(/ {2}- id: U1\n {4}board: sensor\n {4}marking: SECOND\n/u, '')))
        .entries,
    ).toBe(1);
    expect(thing(archive, 'U1')).toBe(`${SPECIMEN}/U1 on main`);
  });

  test('a component that others refer to cannot be replaced by the same designator on another board', async () => {
    const archive = await archiveOf([GOOD_CATALOGUE, TWO]);
    await archive.recordObservation(
      SPECIMEN,
      { id: 'later', about: ['main:U1'], kind: 'appearance', text: 'Matt.' },
      BY,
      'desk',
    );
    const without = TWO.replace('  - { id: U1, board: sensor, marking: SECOND }\n', '')
      .replace(/board: main/u, 'board: sensor')
      .replaceAll('main:U1', 'U1');
    await expect(bring(archive, without)).rejects.toSatisfy(({ code, problems }: CasebackError) =>
      code === 'CONFLICT' ? problems.some(({ what }) => what.startsWith('drops "main:U1"')) : false,
    );
  });
});

test('whatever designators two boards share, files and records agree', () => {
  const designators = fc.uniqueArray(fc.constantFrom('C1', 'C2', 'R1', 'U1', 'U2'), { minLength: 1 });
  const boards = fc.record({ main: designators, flex: designators, none: fc.subarray(['BT1', 'J9']) });
  const made = boards.map(({ main, flex, none }) => {
    const placed = [
      ...main.map((id) => ({ id, board: 'main' })),
      ...flex.map((id) => ({ id, board: 'flex' })),
    ];
    const refs = placed.map(({ id, board }) => `${board}:${id}`);
    return dossierSchema.parse({
      caseback: 'dossier/1',
      device: 'd-1',
      specimen: { id: 'a' },
      teardown: { on: '2020', by: 'I. Example' },
      boards: [
        { id: 'main', kind: 'rigid' },
        { id: 'flex', kind: 'flex' },
      ],
      components: [...placed, ...none.map((id) => ({ id }))],
      observations: refs.map((ref, i) => ({ id: `o${i}`, about: [ref], kind: 'appearance', text: ref })),
    });
  });
  fc.assert(
    fc.property(made, made, (first, second) => {
      const read = withUniqueIds(first);
      expect(new Set(idsOf(read)).size).toBe(first.components.length);
      const meant = (dossier: Dossier) =>
        dossier.observations.map(({ about, text }) => {
          const [one, ...more] = dossier.components.filter(({ id }) => id === about[0]);
          return more.length === 0 && `${one.board}:${one.id.replace(/^.*:/u, '')}` === text;
        });
      expect(meant(read).every(Boolean)).toBe(true);
      expect(withUniqueIds(withPrintedIds(read))).toEqual(read);
      // A second version of the dossier keeps the id of every component that it shares with the first.
      const later = withRecordedIds(withUniqueIds(second), read);
      expect(new Set(idsOf(later)).size).toBe(second.components.length);
      expect(meant(later).every(Boolean)).toBe(true);
      for (const { id, board } of later.components) {
        const before = read.components.find(
          (one) => one.board === board && one.id.replace(/^.*:/u, '') === id.replace(/^.*:/u, ''),
        );
        if (before) expect(id).toBe(before.id);
      }
      const text = writeJson(later);
      const again = readDocument(Buffer.from(text), 'a.json').document;
      expect(again?.kind === 'dossier' && withRecordedIds(again.dossier, later)).toEqual(later);
    }),
    { numRuns: 300, seed: 44 },
  );
});
