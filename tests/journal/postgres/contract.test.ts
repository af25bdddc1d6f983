import { PostgresJournal } from '../../../src/journal/postgres/journal.ts';
import { sharedSchema } from '../../postgres/shared.ts';
import { journalContract } from '../contract.ts';

journalContract('in a PostgreSQL database', async () => {
  const schema = await sharedSchema();
  return {
    open: async (options) => new PostgresJournal(schema.url, options),
    remove: () => schema.drop(),
  };
});
