// Questions about earlier instants, on a generated archive in which half of the dossiers were filed a second time: the first
// question, which reads the journal, then others at instants drawn at random, for both audiences.
//
//   npm run bench:as-of [-- DEVICES]
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { COLLECTIONS } from '../../src/model/catalogue.ts';
import type { Change } from '../../src/model/entry.ts';
import { findPattern } from '../../src/questions/patterns.ts';
import { listDevices } from '../../src/state/lists/device-list.ts';
import type { State } from '../../src/state/state.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const devices = Number(process.argv[2] ?? 10_000);
const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
const START = Date.UTC(2026, 0, 1);
const MINUTE = 60_000;
const QUESTIONS = 40;
const by = { actor: 'bench', reason: 'benchmark' };

try {
  let minutes = 0;
  const journal = new SqliteJournal(join(folder, 'journal.sqlite'), {
    clock: () => new Date(START + minutes * MINUTE),
  });
  const random = seededRandom(1);
  const catalogue = generateCatalogue(devices, random);
  await journal.append(
    COLLECTIONS.flatMap((collection) =>
      catalogue[collection].map(
        (record) => ({ ...by, kind: 'record-put', payload: { collection, record } }) as Change,
      ),
    ),
  );
  let batch: Change[] = [];
  const write = async () => {
    minutes++;
    await journal.append(batch);
    batch = [];
  };
  let count = 0;
  for (const dossier of generateDossiers(devices, catalogue, random)) {
    batch.push({ ...by, kind: 'dossier-put', payload: dossier });
    if (++count % 2 === 0) batch.push({ ...by, kind: 'dossier-put', payload: { ...dossier, note: 'again' } });
    if (batch.length >= 3) await write();
  }
  if (batch.length > 0) await write();
  const archive = await timed('opened', () => Archive.open(journal));
  const memory = () => Math.round(process.memoryUsage().rss / 2 ** 20);
  console.log(`memory ${memory()} MiB`);
  const at = (share: number) => new Date(START + Math.ceil(share * minutes) * MINUTE).toISOString();
  await timed('first instant', () => archive.asOf(at(0.5), 'desk'));
  console.log(`memory ${memory()} MiB`);
  const draw = seededRandom(2);
  const asks: Record<string, (state: State) => unknown> = {
    'the state alone': () => undefined,
    'a list of devices': (state) => listDevices(state, {}, 'ID').length,
    'a search': (state) => [...state.search('charger')].length,
    'a pattern': (state) =>
      findPattern(state, { text: 'MATCH (a:Accelerometer)-[:CONNECTS]-(m:Microcontroller) RETURN a' }),
  };
  for (const [name, ask] of Object.entries(asks))
    for (const audience of ['desk', 'reader'] as const) {
      if (name === 'a pattern') await ask(archive.state(audience));
      const spent: number[] = [];
      for (let i = 0; i < (name === 'a pattern' ? 4 : QUESTIONS); i++) {
        const start = process.cpuUsage();
        await ask(await archive.asOf(at(draw()), audience));
        spent.push(milliseconds(process.cpuUsage(start)));
      }
      spent.sort((a, b) => a - b);
      console.log(
        `${name}, ${audience}: ${spent[spent.length >> 1]?.toFixed(0)} ms at the median, ${spent.at(-1)?.toFixed(0)} at most (processor time)`,
      );
    }
  console.log(`memory ${memory()} MiB`);
  await archive.close();
} finally {
  rmSync(folder, { recursive: true });
}

async function timed<T>(what: string, work: () => Promise<T>): Promise<T> {
  const start = process.cpuUsage();
  const result = await work();
  console.log(`${what}: ${milliseconds(process.cpuUsage(start)).toFixed(0)} ms of processor time`);
  return result;
}

function milliseconds({ user, system }: NodeJS.CpuUsage): number {
  return (user + system) / 1000;
}
