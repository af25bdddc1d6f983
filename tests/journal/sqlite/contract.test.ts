import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { journalContract } from '../contract.ts';

journalContract('in a SQLite file', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-journal-'));
  return {
    open: async (options) => new SqliteJournal(join(folder, 'journal.sqlite'), options),
    remove: async () => rmSync(folder, { recursive: true, force: true }),
  };
});
