import { expect, test, vi } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { recordChanges } from '../../src/questions/between.ts';
import { PackedDossier } from '../../src/state/packed-dossier.ts';
import { CATALOGUE, DOSSIERS } from '../service/invented.ts';
import { BY, documentOf } from '../service/serving.ts';

test('what differs from an earlier instant is found without unpacking a dossier that is as it was', async () => {
  let now = '2026-03-01T08:00:00.000Z';
  const clock = () => new Date(now);
  const archive = await Archive.open(new MemoryJournal({ clock }), clock);
  await archive.importDocuments([{ ...CATALOGUE, publications: [] }, ...DOSSIERS].map(documentOf), BY);
  const instant = now;
  now = '2026-03-02T08:00:00.000Z';
  const seen = { id: 'n1', about: ['U1'], kind: 'appearance' as const, text: 'Matt.' };
  await archive.recordObservation('tarn-sennit-1/a', seen, BY, 'desk');
  const [before, after] = [await archive.asOf(instant, 'desk'), archive.state('desk')];
  expect(after.specimenRows().length).toBeGreaterThan(2);
  const unpack = vi.spyOn(PackedDossier.prototype, 'unpack');
  const changed = (of?: string) => {
    unpack.mockClear();
    return recordChanges(before, after, of).map(({ id, kind }) => `${kind} ${id}`);
  };
  expect(changed()).toEqual(['Specimen tarn-sennit-1/a']);
  // As it was, and as it is.
  expect(unpack).toHaveBeenCalledTimes(2);
  expect(changed('tarn-sennit-1')).toEqual(['Specimen tarn-sennit-1/a']);
  expect(unpack).toHaveBeenCalledTimes(2);
  expect(changed('tarn-sennit-2')).toEqual([]);
  expect(unpack).not.toHaveBeenCalled();
  unpack.mockRestore();
});
