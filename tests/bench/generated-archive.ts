import { COLLECTIONS } from '../../src/model/catalogue.ts';
import type { Change } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

/** An archive of generated devices in memory, without a journal; the same number gives the same archive. */
export function generatedArchive(devices: number): Holder {
  const random = seededRandom(1);
  const catalogue = generateCatalogue(devices, random);
  const made = new Holder();
  let sequence = 0;
  const by = { actor: 'bench', reason: 'benchmark' };
  const put = (changes: readonly Change[]) =>
    made.apply(
      changes.map((change) => {
        sequence++;
        const instant = new Date(Date.UTC(2026, 0, 1)).toISOString();
        return { ...change, sequence, id: `entry-${sequence}`, instant, previousHash: '', hash: '' };
      }),
    );
  put(
    COLLECTIONS.flatMap((collection) =>
      catalogue[collection].map(
        (record) => ({ ...by, kind: 'record-put', payload: { collection, record } }) as const,
      ),
    ),
  );
  for (const dossier of generateDossiers(devices, catalogue, random))
    put([{ ...by, kind: 'dossier-put', payload: dossier }]);
  return made;
}
