// Time from an entry to the next state, on an archive that is there already, and memory with both audiences' states loaded.
//
//   npm run bench:state -- JOURNAL
import { parseArgs } from 'node:util';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import type { Change } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';

const MIB = 1024 * 1024;
const TIMES = 400;

const {
  positionals: [file],
} = parseArgs({ allowPositionals: true });
if (file === undefined) throw new Error('give the file of a journal, such as npm run bench writes');
const journal = new SqliteJournal(file);
const holder = new Holder();
const folding = holder.fold();
for await (const entries of journal.read({ batchSize: 50 })) folding.add(entries);
folding.done();
const now = () => new Date().toISOString();
const memory = () => {
  globalThis.gc?.();
  return Math.round(process.memoryUsage().rss / MIB);
};
const before = memory();
const reader = holder.state('reader', now());
const rows = holder.state('desk', now()).specimenRows();
console.log(
  `memory after the fold ${before} MiB, with both audiences' states ${memory()} MiB, ${reader.specimenRows().length} specimens`,
);

const kinds: Record<string, (at: number) => Change> = {
  'observation recorded': (at) => {
    const row = rows[(at * 7919) % rows.length]!;
    const component = row.filed.unpack().components[0]!.id;
    return change('observation-recorded', {
      specimen: row.id,
      observation: { id: `bench-${at}`, about: [component], kind: 'trace', text: 'seen' },
    });
  },
  'dossier filed again': (at) => change('dossier-put', rows[(at * 104_729) % rows.length]!.filed.unpack()),
  'record put': (at) => {
    const all = reader.makers();
    return change('record-put', { collection: 'makers', record: all[at % all.length] });
  },
};

function change(kind: Change['kind'], payload: unknown): Change {
  return { actor: 'bench', reason: 'timed', kind, payload } as Change;
}

for (const [name, make] of Object.entries(kinds)) {
  const times = { apply: [] as number[], reader: [] as number[] };
  for (let at = 0; at < TIMES; at++) {
    const { sequence } = holder;
    const entry = {
      ...make(at),
      sequence: sequence + 1,
      id: `bench-${sequence}`,
      instant: now(),
      version: 2 as const,
      previousHash: '',
      hash: '',
    };
    const start = performance.now();
    holder.apply([entry]);
    const applied = performance.now();
    holder.state('reader', now());
    times.apply.push(applied - start);
    times.reader.push(performance.now() - applied);
  }
  const at = (all: number[], share: number) =>
    all.sort((a, b) => a - b)[Math.floor(share * all.length)]!.toFixed(2);
  console.log(
    `${name}: applied in ${at(times.apply, 0.5)} ms at the median, ${at(times.apply, 0.95)} at the 95th percentile; readers' state ${at(times.reader, 0.5)} and ${at(times.reader, 0.95)} ms`,
  );
}
console.log(`memory after ${TIMES * 3} entries ${memory()} MiB`);
holder.close();
await journal.close();
