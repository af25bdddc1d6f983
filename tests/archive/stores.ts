import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Journal } from '../../src/journal/journal.ts';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { sharedSchema } from '../postgres/shared.ts';

/** An empty store that several processes can open, here several journals. */
export interface SharedStore {
  open(): Journal;
  remove(): Promise<void>;
}

/** The stores that processes share, by name. */
export const STORES: Readonly<Record<string, () => Promise<SharedStore>>> = {
  'a SQLite file': async () => {
    const folder = mkdtempSync(join(tmpdir(), 'caseback-shared-'));
    return {
      open: () => new SqliteJournal(join(folder, 'journal.sqlite')),
      remove: async () => rmSync(folder, { recursive: true, force: true }),
    };
  },
  'a PostgreSQL database': async () => {
    const schema = await sharedSchema();
    return { open: () => new PostgresJournal(schema.url), remove: () => schema.drop() };
  },
};
