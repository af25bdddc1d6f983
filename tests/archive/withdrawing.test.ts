import { expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import type { ReadOptions } from '../../src/journal/journal.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { CATALOGUE, DOSSIERS } from '../service/invented.ts';
import { BY, documentOf } from '../service/serving.ts';

/** A journal that counts the entries that are read from it. */
class Counting extends MemoryJournal {
  count = 0;

  override async *read(options?: ReadOptions) {
    for await (const entries of super.read(options)) {
      this.count += entries.length;
      yield entries;
    }
  }
}

test('whoever withdraws what they recorded has no more of the journal read than what is about the specimen', async () => {
  const journal = new Counting();
  const archive = await Archive.open(journal);
  await archive.importDocuments([{ ...CATALOGUE, publications: [] }, ...DOSSIERS].map(documentOf), BY);
  const mine = { actor: 'Ada Bench', reason: 'r' };
  const record = (id: string) =>
    archive.recordObservation(
      'tarn-sennit-1/a',
      { id, about: ['U1'], kind: 'appearance', text: 'Matt.' },
      mine,
      'desk',
    );
  const withdraw = (id: string, by = mine, through = archive) =>
    through.withdrawObservation('tarn-sennit-1/a', id, by, 'desk', { mayAny: false });
  for (const id of ['n1', 'n2', 'n3', 'n4']) await record(id);
  await withdraw('n1');
  journal.count = 0;
  await withdraw('n2');
  // The dossier, four observations, two withdrawals; each is folded once when it is new.
  const own = 7 + 2;
  expect(archive.version).toBeGreaterThan(2 * own);
  expect(journal.count).toBeLessThanOrEqual(own);
  // Under an idempotency key it is as little.
  journal.count = 0;
  await withdraw('n3', mine, archive.keyed('k', {}));
  expect(journal.count).toBeLessThanOrEqual(own + 2);
  await expect(withdraw('n4', { actor: 'Ben Bench', reason: 'r' })).rejects.toMatchObject({
    code: 'NOT_ALLOWED',
  });
  await expect(withdraw('o1')).rejects.toMatchObject({ code: 'NOT_ALLOWED' });
});
