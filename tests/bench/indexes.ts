// How long after the fold a new process has the indexes for questions over the whole archive.
//
//   npm run bench:indexes -- JOURNAL
import { parseArgs } from 'node:util';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { keepIndexed } from '../../src/questions/indexes.ts';

const {
  positionals: [file],
} = parseArgs({ allowPositionals: true });
if (file === undefined) throw new Error('give the file of a journal, such as npm run bench writes');
const clock = () => ({ at: performance.now(), used: process.cpuUsage() });
function since(start: ReturnType<typeof clock>): string {
  const { user, system } = process.cpuUsage(start.used);
  const seconds = (performance.now() - start.at) / 1000;
  return `${seconds.toFixed(1)} s, ${((user + system) / 1e6).toFixed(1)} s of processor time`;
}

let start = clock();
const archive = await Archive.open(new SqliteJournal(file));
console.log(`fold: ${since(start)}`);
start = clock();
const indexing = keepIndexed(archive, ['desk'], (error) => {
  throw error;
});
await indexing.first;
console.log(`indexes: ${since(start)}`);
console.log(`memory: ${Math.round(process.memoryUsage().rss / 1024 / 1024)} MiB`);
indexing.stop();
await archive.close();
