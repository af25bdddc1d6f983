import { describe, expect, test } from 'vitest';
import { exportCatalogue, exportDossiers } from '../../src/archive/as-files.ts';
import { Archive } from '../../src/archive.ts';
import { readDocument } from '../../src/dossier/read.ts';
import { writeCatalogue, writeDossier } from '../../src/dossier/write.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { CasebackError } from '../../src/model/problems.ts';
import { documents as demo } from '../seed/seed.ts';
import { another } from './check/findings.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';

const BY = { actor: 'bench', reason: 'test' } as const;
const DEVICE = 'tarn-sennit-3';
const EMBARGOED = 'visibility: embargoed\nembargoUntil: 2030-01-01T00:00:00Z\n';

/** The sound dossier as another specimen, in another state, with another mass. */
function dossier({ specimen = 'a', state = '', mass = '43 g' } = {}): string {
  return changed(GOOD_DOSSIER, 'specimen: { id: a', `specimen: { id: ${specimen}`)
    .replace('mass: 43 g', `mass: ${mass}`)
    .replace('caseback: dossier/1\n', `caseback: dossier/1\n${state}`);
}

const known = (more = '') =>
  `caseback: catalogue/1\ndevices:\n  - { id: brindle-1, name: Brindle 1, maker: tarn, bodySite: ear, released: 2021${more} }\n`;

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

async function refusalOf(archive: Archive, ...texts: readonly string[]): Promise<string> {
  const { code, problems } = await bring(archive, ...texts).then(
    () => {
      throw new Error('it was taken');
    },
    (error: CasebackError) => error,
  );
  return `${code} ${problems.map(({ path, what, fix }) => `${path}: ${what} — ${fix}`).join('; ')}`;
}

const massSeen = (archive: Archive, audience: 'reader' | 'desk') =>
  archive.state(audience).device(DEVICE)?.mass?.value;

describe('a device before it is opened', () => {
  test('is in the lists, with no specimens, and can be found by its name', async () => {
    const archive = await archiveOf([GOOD_CATALOGUE, known()]);
    const view = archive.state('reader');
    expect([...view.devices()].map(({ id }) => id)).toEqual(['brindle-1']);
    expect(view.specimensOf('brindle-1')).toEqual([]);
    expect([...view.search('brindle')].map(({ id, kind }) => [id, kind])).toEqual([['brindle-1', 'DEVICE']]);
    // Its maker makes devices alone, and is known through it.
    expect(view.maker('tarn')?.name).toBe('Tarn');
  });

  test('is visible when its visibility allows', async () => {
    const draft = await archiveOf([GOOD_CATALOGUE, known(', visibility: draft')]);
    expect(draft.state('reader').device('brindle-1')).toBeUndefined();
    expect([...draft.state('reader').search('brindle')]).toEqual([]);
    expect(draft.state('reader').maker('tarn')).toBeUndefined();
    expect(draft.state('desk').device('brindle-1')?.name).toBe('Brindle 1');
    const text = known(', visibility: embargoed, embargoUntil: 2030-01-01T00:00:00Z');
    const journal = new MemoryJournal();
    const at = async (now: string) => (await Archive.open(journal, () => new Date(now))).state('reader');
    await (await Archive.open(journal)).importDocuments(
      [documentOf(GOOD_CATALOGUE, 'c.yaml'), documentOf(text, 'd.yaml')],
      BY,
    );
    expect((await at('2029-12-31T23:59:59Z')).device('brindle-1')).toBeUndefined();
    expect((await at('2030-01-01T00:00:00Z')).device('brindle-1')).toBeDefined();
  });

  test('gets its first specimen by a dossier that names it or describes it', async () => {
    const archive = await archiveOf([GOOD_CATALOGUE, known()], [another('a', 'brindle-1')]);
    expect(
      archive
        .state('reader')
        .specimensOf('brindle-1')
        .map(({ id }) => id),
    ).toEqual(['brindle-1/a']);
    const report = await bring(archive, known());
    expect(report.entries).toBe(0);
  });

  test('must be described by the rules of dossiers: maker, line, predecessors, dates, embargo', async () => {
    const archive = await archiveOf([GOOD_CATALOGUE]);
    for (const [more, message] of [
      [', succeeds: [brindle-0]', 'devices[0].succeeds[0]: no device "brindle-0"'],
      [', productLine: tarn-senit', 'did you mean "tarn-sennit"?'],
      [', visibility: embargoed', 'devices[0].visibility: is embargoed without an end'],
      [
        ', regulatoryIds: [{ scheme: gtin, id: "1" }]',
        'devices[0].regulatoryIds[0].id: "1" is not a valid GTIN',
      ],
      [', succeeds: [brindle-1]', 'succession goes in a circle'],
    ])
      expect(await refusalOf(archive, known(more)), more).toContain(message);
  });
});

describe('a device that a dossier describes', () => {
  test('has a record of its own, and the dossier names it', async () => {
    const journal = new MemoryJournal();
    const archive = await Archive.open(journal);
    await bring(archive, GOOD_CATALOGUE, GOOD_DOSSIER);
    const entries = [];
    for await (const batch of journal.read()) entries.push(...batch);
    const put = entries.filter(
      ({ kind, payload }) => kind === 'record-put' && payload.collection === 'devices',
    );
    expect(put.map(({ payload }) => payload)).toMatchObject([
      { record: { id: DEVICE, mass: { value: 43 }, visibility: 'published' } },
    ]);
    expect(entries.findLast(({ kind }) => kind === 'dossier-put')?.payload).toMatchObject({ device: DEVICE });
  });

  test('is as hidden as the dossier that first describes it', async () => {
    for (const state of ['visibility: draft\n', EMBARGOED]) {
      const archive = await archiveOf([GOOD_CATALOGUE, dossier({ state })]);
      expect([massSeen(archive, 'reader'), massSeen(archive, 'desk')]).toEqual([undefined, 43]);
      // Published by the same dossier; a hidden version of that leaves it standing, and a recall does not.
      await bring(archive, dossier());
      expect(massSeen(archive, 'reader')).toBe(43);
      await bring(archive, dossier({ state }));
      expect(massSeen(archive, 'reader')).toBe(43);
      await archive.recallRecord(DEVICE, { actor: 'I. Example', reason: 'test' });
      expect(massSeen(archive, 'reader')).toBeUndefined();
    }
  });

  test('is neither hidden nor changed by a hidden second specimen that repeats it', async () => {
    for (const state of ['visibility: draft\n', EMBARGOED]) {
      const archive = await archiveOf([GOOD_CATALOGUE, dossier()], [dossier({ specimen: 'b', state })]);
      expect(massSeen(archive, 'reader')).toBe(43);
      expect(
        archive
          .state('reader')
          .specimensOf(DEVICE)
          .map(({ id }) => id),
      ).toEqual([`${DEVICE}/a`]);
      const other = dossier({ specimen: 'c', state, mass: '44 g' });
      expect(await refusalOf(archive, other)).toBe(
        `CONFLICT device: device "${DEVICE}" is described differently by another dossier in the archive — write only "device: ${DEVICE}", or change that dossier`,
      );
    }
  });

  test('known from a catalogue is not changed by a first, hidden dossier', async () => {
    const catalogue = `${GOOD_CATALOGUE}devices:\n  - { id: ${DEVICE}, name: Tarn Sennit 3, maker: tarn, bodySite: wrist, released: 2019-04 }\n`;
    const archive = await archiveOf([catalogue]);
    expect(await refusalOf(archive, dossier({ state: 'visibility: draft\n' }))).toBe(
      `CONFLICT device: device "${DEVICE}" is seen by more than this dossier (draft), and is described differently here — write only "device: ${DEVICE}", and change the device in a catalogue file`,
    );
    expect(massSeen(archive, 'reader')).toBeUndefined();
    expect(archive.state('reader').device(DEVICE)?.name).toBe('Tarn Sennit 3');
    // A published one may.
    await bring(archive, dossier());
    expect(massSeen(archive, 'reader')).toBe(43);
  });

  test('becomes visible with any specimen of it that is', async () => {
    const archive = await archiveOf(
      [GOOD_CATALOGUE, dossier({ state: 'visibility: draft\n' })],
      [another('b', DEVICE)],
    );
    const view = archive.state('reader');
    expect([massSeen(archive, 'reader'), view.specimensOf(DEVICE).map(({ id }) => id)]).toEqual([
      43,
      [`${DEVICE}/b`],
    ]);
  });

  test('in a catalogue and a dossier of one import has who may see it from the catalogue', async () => {
    const device = GOOD_DOSSIER.slice(GOOD_DOSSIER.indexOf('device:'), GOOD_DOSSIER.indexOf('specimen:'));
    const listed = device.replace('device:\n', 'devices:\n  -\n').replaceAll(/^ {2}(?! *-)/gmu, '    ');
    const archive = await archiveOf([
      `${GOOD_CATALOGUE}${listed}`,
      dossier({ state: 'visibility: draft\n' }),
    ]);
    expect(massSeen(archive, 'reader')).toBe(43);
    expect(archive.state('reader').specimensOf(DEVICE)).toEqual([]);
  });
});

describe('an export', () => {
  const filesOf = (archive: Archive, audience: 'reader' | 'desk') => {
    const view = archive.state(audience);
    return [writeCatalogue(exportCatalogue(view)), ...[...exportDossiers(view)].map(writeDossier)];
  };

  test.each<[string, readonly (readonly string[])[]]>([
    ['a device nobody opened', [[GOOD_CATALOGUE, known()]]],
    ['a hidden device nobody opened', [[GOOD_CATALOGUE, known(', visibility: draft')]]],
    ['a device and its specimen', [[GOOD_CATALOGUE, dossier()]]],
    [
      'a draft, then a published specimen',
      [[GOOD_CATALOGUE, dossier({ state: EMBARGOED })], [another('b', DEVICE)]],
    ],
    [
      'a published, then a draft specimen',
      [[GOOD_CATALOGUE, dossier()], [dossier({ specimen: 'b', state: EMBARGOED })]],
    ],
    [
      'a published device of which the specimen is a draft',
      [[GOOD_CATALOGUE, known()], [another('a', 'brindle-1').replace('/1\n', '/1\nvisibility: draft\n')]],
    ],
  ])('of %s comes in again without a change, here and elsewhere', async (_, steps) => {
    const archive = await archiveOf(...steps);
    const files = filesOf(archive, 'desk');
    expect((await bring(archive, ...files)).entries).toBe(0);
    const elsewhere = await archiveOf(files);
    for (const audience of ['reader', 'desk'] as const) {
      expect(filesOf(elsewhere, audience)).toEqual(filesOf(archive, audience));
      const [one, other] = [archive, elsewhere].map((kept) => [...kept.state(audience).devices()]);
      expect(other).toEqual(one);
    }
  });

  test('describes the device in the file of its first visible specimen only', async () => {
    const archive = await archiveOf(
      [GOOD_CATALOGUE, dossier({ state: 'visibility: draft\n' })],
      [another('b', DEVICE)],
    );
    const devices = (audience: 'reader' | 'desk') =>
      filesOf(archive, audience)
        .slice(1)
        .map((text) => {
          const { document } = readDocument(Buffer.from(text), 'x.yaml');
          return document?.kind === 'dossier' ? typeof document.dossier.device : undefined;
        });
    expect(devices('desk')).toEqual(['object', 'string']);
    expect(devices('reader')).toEqual(['object']);
  });

  test('of the demo archive gives the files back', async () => {
    const archive = await Archive.open(new MemoryJournal());
    await archive.importDocuments(demo, BY);
    const view = archive.state('desk');
    const given = demo.flatMap((one) => (one.kind === 'dossier' ? [one.dossier] : []));
    const byFile = (texts: readonly string[]) => texts.toSorted();
    expect(byFile([...exportDossiers(view)].map(writeDossier))).toEqual(byFile(given.map(writeDossier)));
  });
});
