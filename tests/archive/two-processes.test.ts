import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { exportCatalogue, exportDossiers } from '../../src/archive/as-files.ts';
import { Archive } from '../../src/archive.ts';
import type { Journal } from '../../src/journal/journal.ts';
import { verify } from '../../src/journal/verify.ts';
import type { Observation } from '../../src/model/dossier.ts';
import { entriesOf } from '../journal/contract.ts';
import { DOSSIERS, dossier } from '../service/invented.ts';
import { archiveOf, BY, documentOf } from '../service/serving.ts';
import { type SharedStore, STORES } from './stores.ts';

const SPECIMEN = 'tarn-sennit-2/a';
const seen = (id: string): Observation => ({ id, about: ['U2'], kind: 'appearance', text: `Seen: ${id}.` });
const record = (archive: Archive, id: string, actor = 'A. Bench') =>
  archive.recordObservation(SPECIMEN, seen(id), { actor, reason: 'second look' }, 'desk');

describe.each(Object.entries(STORES))('two processes on %s', (_, newStore) => {
  let store: SharedStore;
  let journals: Journal[];
  let archives: Archive[];
  beforeEach(async () => {
    store = await newStore();
    journals = [store.open(), store.open()];
    const first = await archiveOf(undefined, journals[0]);
    archives = [first, await Archive.open(journals[1])];
  });
  afterEach(async () => {
    for (const archive of archives) await archive.close();
    await store.remove();
  });

  const exported = (archive: Archive) =>
    asJson([exportCatalogue(archive.state('desk')), ...exportDossiers(archive.state('desk'))]);

  test('refuse none of 60 changes that have nothing to do with each other, and converge', async () => {
    const before = archives[0].version;
    const observed = countIn(archives[0]);
    const all = await Promise.all(Array.from({ length: 60 }, (_, i) => record(archives[i % 2], `look-${i}`)));
    expect(new Set(all.map(({ sequence }) => sequence))).toEqual(
      new Set(Array.from({ length: 60 }, (_, i) => before + 1 + i)),
    );
    for (const archive of archives) await archive.follow();
    expect(exported(archives[0])).toEqual(exported(archives[1]));
    expect(countIn(archives[1])).toBe(observed + 60);
    expect(await verify(journals[1])).toEqual({ intact: true, entries: before + 60 });
  });

  test('refuse one of two changes that conflict', async () => {
    const before = archives[0].version;
    for (let round = 0; round < 5; round++) {
      const both = await Promise.allSettled([
        record(archives[round % 2], `round-${round}`, 'A. Bench'),
        record(archives[(round + 1) % 2], `round-${round}`, 'B. Bench'),
      ]);
      const [refused, ...others] = both.filter((one) => one.status === 'rejected');
      expect(others).toEqual([]);
      // What is wrong with it, not that somebody else was faster.
      expect(refused.reason.message).toContain(`round-${round}`);
      expect(refused.reason.message).not.toContain('has moved on');
    }
    for (const archive of archives) await archive.follow();
    expect(archives.map(({ version }) => version)).toEqual([before + 5, before + 5]);
  });

  test('make a change once that is asked of both under one key, and give one answer', async () => {
    const before = archives[0].version;
    const asked = ['observe', SPECIMEN, 'again'];
    const ask = async (archive: Archive, id = 'again', what: unknown = asked) => {
      const once = archive.keyed('key-1', what);
      try {
        const entry = await record(once, id);
        // What the answer is read from is the archive as it stood right behind the change.
        return { entry, version: once.version, specimen: once.state('desk').specimen(SPECIMEN)?.dossier };
      } finally {
        once.release();
      }
    };
    const [first, second] = await Promise.all(archives.map((archive) => ask(archive)));
    expect(asJson(second)).toEqual(asJson(first));
    expect(first.version).toBe(before + 1);
    await record(archives[1], 'later');
    for (const archive of archives) expect(asJson(await ask(archive))).toEqual(asJson(first));
    // Nor after a start.
    const started = await Archive.open(store.open());
    expect(asJson(await ask(started))).toEqual(asJson(first));
    expect(started.version).toBe(before + 2);
    await expect(ask(started, 'other', ['observe', SPECIMEN, 'other'])).rejects.toMatchObject({
      code: 'CONFLICT',
      message: expect.stringContaining('idempotency key'),
    });
    await started.close();
    expect(await entriesOf(journals[0], { after: before })).toHaveLength(2);
  });

  test('give the same report and the same difference for an import and a correction asked again', async () => {
    const fresh = dossier({
      id: 'tarn-sennit-4',
      name: 'Four',
      released: '2022',
      productLine: 'tarn-sennit',
    });
    const imported = (archive: Archive) => archive.importDocuments([documentOf(fresh)], BY);
    const amendment = { value: { of: 'tarn-sennit-4', field: 'name', is: 'Sennit Four' } } as const;
    const corrected = (archive: Archive) => archive.correct(amendment, BY, 'desk');
    for (const [key, change] of [
      ['import', imported],
      ['correct', corrected],
    ] as const) {
      const first = await change(archives[0].keyed(key, key));
      await record(archives[0], `after-${key}`);
      const before = archives[0].version;
      const again = archives[1].keyed(key, key);
      expect(asJson(await change(again))).toEqual(asJson(first));
      again.release();
      await archives[1].follow();
      expect(archives[1].version).toBe(before);
    }
  });

  test('give the same correction when it is asked for again on another day, also when its embargo has ended since', async () => {
    const tomorrow = new Date(Date.now() + 24 * 3_600_000);
    const later = await Archive.open(store.open(), () => tomorrow);
    const soon = new Date(Date.now() + 3_600_000).toISOString();
    for (const [key, until] of [
      ['open', undefined],
      ['held back', soon],
    ] as const) {
      const amendment = { value: { of: 'tarn-sennit-1', field: 'name', is: `Corrected, ${key}` } } as const;
      const corrected = (archive: Archive) => archive.correct(amendment, BY, 'desk', until);
      const first = await corrected(archives[0].keyed(key, key));
      const again = later.keyed(key, key);
      expect(asJson(await corrected(again))).toEqual(asJson(first));
      again.release();
    }
    await later.close();
  });

  test('write nothing for an import asked again that found nothing new, whatever came between', async () => {
    const same = documentOf(DOSSIERS[0]);
    const other = documentOf({
      ...DOSSIERS[0],
      teardown: { ...(DOSSIERS[0] as { teardown: object }).teardown, by: 'B. Bench' },
    });
    expect((await archives[0].keyed('same', 1).importDocuments([same], BY)).entries).toBe(0);
    expect((await archives[1].importDocuments([other], BY)).entries).toBe(1);
    const before = archives[1].version;
    const again = archives[0].keyed('same', 1);
    expect((await again.importDocuments([same], BY)).entries).toBe(0);
    again.release();
    await archives[0].follow();
    expect(archives[0].version).toBe(before);
  });

  test('show what the other wrote to whoever waits for it, and end the waiting', async () => {
    const { sequence } = await record(archives[0], 'awaited');
    await archives[1].reached(sequence, 60_000);
    expect(archives[1].version).toBe(sequence);
    await expect(archives[1].reached(sequence + 1, 50)).rejects.toMatchObject({ code: 'UNAVAILABLE' });
  });
});

/** What a value is after a way through JSON, which has no members that are undefined. */
function asJson(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value));
}

function countIn(archive: Archive): number {
  return archive.state('desk').specimen(SPECIMEN)?.dossier.observations.length ?? 0;
}
