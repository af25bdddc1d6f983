import { expect, test } from 'vitest';
import { PostgresJournal } from '../../../src/journal/postgres/journal.ts';
import { examine } from '../../../src/journal/verify.ts';
import { execute } from '../../postgres/server.ts';
import { sharedSchema } from '../../postgres/shared.ts';
import { numbered } from '../changes.ts';

const INDEX = 'CREATE INDEX caseback_entries_instant ON caseback_entries (instant, sequence)';

test('tables of version 1, which had an index that nothing asked, are without it, and no entry changes', async () => {
  const schema = await sharedSchema();
  try {
    const before = new PostgresJournal(schema.url);
    await before.append(numbered(5));
    await before.close();
    await execute(
      schema.url,
      `DROP INDEX IF EXISTS caseback_entries_instant; ${INDEX};
       DELETE FROM caseback_migrations WHERE version > 1`,
    );
    const after = new PostgresJournal(schema.url);
    expect(await examine(after)).toMatchObject({ whole: 5, faults: [], damage: [] });
    await after.append(numbered(1));
    await after.close();
    // The name is free.
    await execute(schema.url, INDEX);
  } finally {
    await schema.drop();
  }
});
