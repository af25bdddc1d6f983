import type { z } from 'zod';
import { COLLECTIONS, catalogueSchema } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import type { Change, Entry } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';

/** Entries as a journal would hand them over; hashes play no part in the fold. */
export function entriesOf(changes: readonly Change[], firstSequence = 1): Entry[] {
  return changes.map((change, index) => ({
    ...change,
    sequence: firstSequence + index,
    id: `entry-${firstSequence + index}`,
    instant: new Date(Date.UTC(2026, 0, 1, 0, firstSequence + index)).toISOString(),
    previousHash: '',
    hash: '',
  }));
}

export const BY = { actor: 'bench', reason: 'test' } as const;

/** Changes that put everything of a catalogue written in short. */
export function catalogueChanges(written: Omit<z.input<typeof catalogueSchema>, 'caseback'>): Change[] {
  const catalogue = catalogueSchema.parse({ caseback: 'catalogue/1', ...written });
  return COLLECTIONS.flatMap((collection) =>
    catalogue[collection].map(
      (record) => ({ ...BY, kind: 'record-put', payload: { collection, record } }) as const,
    ),
  );
}

/** A dossier written in short. */
export function dossierOf(written: Omit<z.input<typeof dossierSchema>, 'caseback' | 'teardown'>): Dossier {
  return dossierSchema.parse({
    caseback: 'dossier/1',
    teardown: { on: '2020-01-02', by: 'I. Example' },
    ...written,
  });
}

export function dossierChange(written: Parameters<typeof dossierOf>[0]): Change {
  return { ...BY, kind: 'dossier-put', payload: dossierOf(written) };
}

export function liveOf(changes: readonly Change[]): Holder {
  const live = new Holder();
  live.apply(entriesOf(changes));
  return live;
}

/** A small invented catalogue: one device maker, one line, two chip makers, three parts. */
export const SMALL_CATALOGUE = catalogueChanges({
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'], invented: true },
    { id: 'quistle', name: 'Quistle', makes: ['parts'], invented: true },
    { id: 'ostrel', name: 'Ostrel', makes: ['parts'], invented: true },
  ],
  productLines: [{ id: 'tarn-sennit', name: 'Tarn Sennit', maker: 'tarn' }],
  parts: [
    { number: 'QWR4T10', maker: 'quistle', categories: ['Accelerometer'], package: 'LGA-12' },
    { number: 'QWR4T60', maker: 'quistle', categories: ['Accelerometer', 'Gyroscope'], package: 'LGA-14' },
    { number: 'OS7', maker: 'ostrel', categories: ['Microcontroller', 'BluetoothRadio'] },
  ],
});

export const DEVICE = {
  id: 'tarn-sennit-1',
  name: 'Tarn Sennit 1',
  maker: 'tarn',
  productLine: 'tarn-sennit',
  released: '2016-05',
  bodySite: 'wrist',
} as const;
