// Appends small changes to a journal one by one, as a process of its own, until it is killed.
// node append-on.ts FILE
// Says "begun" on standard output, then the sequence of every entry once it is durable, a line each.
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { numbered } from '../changes.ts';

const journal = new SqliteJournal(process.argv[2]);
process.stdout.write('begun\n');
for (;;) {
  const [{ sequence }] = await journal.append(numbered(1));
  process.stdout.write(`${sequence}\n`);
  // Lets the line out before the next.
  await new Promise(setImmediate);
}
