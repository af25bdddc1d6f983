// Time that every named pattern of the library takes over a generated archive, when first asked: the search, and the
// probabilities over worlds. Processor time, all threads together, tells more than the clock when others work too.
//
//   node src/run.mjs --script tests/bench/library.ts [DEVICES]
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { toTable } from '../../src/export/table.ts';
import { defaultPool } from '../../src/gql/gql.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { generatedArchive } from './generated-archive.ts';

const DEVICES = Number(process.argv[2] ?? 10_000);

const demo = await Archive.open(new MemoryJournal());
await demo.importDocuments(readFiles(['seed-data']).documents, { actor: 'bench', reason: 'benchmark' });
const patterns = [...demo.state('desk').patterns()].sort((a, b) => (a.id < b.id ? -1 : 1));

const view = generatedArchive(DEVICES).state('desk', new Date().toISOString());
await findPattern(view, { text: 'MATCH (x:Microphone) RETURN x' });
const rows = [];
let clock = 0;
let processor = 0;
for (const { id, text, scope } of patterns) {
  const used = process.cpuUsage();
  const start = performance.now();
  const { devices, unlikely, complete } = await findPattern(view, { text, scope });
  const took = performance.now() - start;
  const { user, system } = process.cpuUsage(used);
  clock += took;
  processor += (user + system) / 1000;
  rows.push({
    pattern: id,
    devices: String(devices.length),
    certain: String(devices.filter(({ certain }) => certain).length),
    unlikely: String(unlikely.size),
    estimates: String(devices.filter(({ method }) => method === 'estimate').length),
    complete: String(complete),
    ms: took.toFixed(0),
    'processor ms': ((user + system) / 1000).toFixed(0),
  });
}
process.stdout.write(toTable(rows));
process.stdout.write(
  `${DEVICES} devices, ${patterns.length} patterns: ${clock.toFixed(0)} ms, processor ${processor.toFixed(0)} ms\n`,
);
await defaultPool().close();
