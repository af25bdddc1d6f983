// Appends changes of about 16 kB to a journal, all in one transaction, as a process of its own.
// node append.ts FILE CHANGES
// Says "begun" on standard output when it starts to append and "done" when all is durable; what went wrong stands
// on standard error with its code.
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import type { Change } from '../../../src/model/entry.ts';
import { CasebackError } from '../../../src/model/problems.ts';

const [file, count] = process.argv.slice(2);
const changes = Array.from({ length: Number(count) }, (_, i) => {
  const components = Array.from({ length: 100 }, (_, c) => ({
    id: `U${c + 1}`,
    marking: `G${i}-${c}\nK7 ${2013 + (c % 13)}`,
    at: { x: { value: c / 7, unit: 'mm' }, y: { value: i / 7, unit: 'mm' } },
    note: 'invented, to be of a size with a real one',
  }));
  return { actor: 'child', reason: 'import', kind: 'dossier-put', payload: { components } };
}) as unknown as Change[];

try {
  const journal = new SqliteJournal(file);
  process.stdout.write('begun\n');
  await journal.append(changes);
  process.stdout.write('done\n');
  await journal.close();
} catch (error) {
  if (!(error instanceof CasebackError)) throw error;
  process.stderr.write(`${error.code}: ${error.message}\n`);
  process.exitCode = 1;
}
