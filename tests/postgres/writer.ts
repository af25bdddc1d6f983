// Appends three entries at a time to a PostgreSQL journal, each under a key, and says so on standard output, until it is killed.
// node writer.ts URL NAME
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import type { Change } from '../../src/model/entry.ts';
import { CasebackError } from '../../src/model/problems.ts';

const [url, name] = process.argv.slice(2);
const journal = new PostgresJournal(url, { patience: { reach: 300 } });
for (let i = 0; ; i++) {
  const key = `${name}-${i}`;
  const changes = [1, 2, 3].map((n) => ({ actor: name, reason: key, kind: 'record-put', payload: { n } }));
  for (;;) {
    try {
      const [first] = await journal.append(changes as unknown as Change[], { key });
      process.stdout.write(`done ${key} ${first.sequence}\n`);
      break;
    } catch (error) {
      if (!(error instanceof CasebackError && error.code === 'UNAVAILABLE')) throw error;
      process.stdout.write(`unavailable ${key}\n`);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }
}
