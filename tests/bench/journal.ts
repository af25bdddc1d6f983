// Figures of the journal on its own: one import of many dossiers in one transaction, reading, checking the chain.
// node src/run.mjs --script tests/bench/journal.ts [DOSSIERS]
// Times are processor time of this process, since a busy machine stretches the clock; beside each stands the ratio
// to what cannot be avoided, writing (or reading) the same payloads as plain JSON in memory.
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { verify } from '../../src/journal/verify.ts';
import type { Change } from '../../src/model/entry.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const MIB = 1024 * 1024;
const count = Number(process.argv[2] ?? 10_000);
const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
const file = join(folder, 'journal.sqlite');
try {
  const changes = makeChanges();
  const stringified = await timed(() => changes.map(({ payload }) => JSON.stringify(payload)));
  const texts = stringified.result;
  const size = texts.reduce((sum, text) => sum + Buffer.byteLength(text), 0);
  const parsed = await timed(() => texts.forEach((text) => JSON.parse(text)));
  console.log(`${count} dossiers of ${Math.round(size / count)} bytes on average`);
  say('plain JSON, written', stringified, stringified);
  say('plain JSON, read', parsed, parsed);

  const journal = new SqliteJournal(file);
  say('append in one transaction', await timed(() => journal.append(changes)), stringified);
  const few = changes.slice(0, 50);
  const oneByOne = await timed(async () => {
    for (const change of few) await journal.append([change]);
  });
  say('append one by one', oneByOne, stringified, few.length);
  say('read', await timed(() => readAll(journal)), parsed);
  say('verify', await timed(() => verify(journal)), parsed);
  await journal.close();
  console.log(`file ${(statSync(file).size / MIB).toFixed(0)} MiB, payloads ${(size / MIB).toFixed(0)} MiB`);
  console.log(`most memory resident ${Math.round(process.resourceUsage().maxRSS / 1024)} MiB`);
} finally {
  rmSync(folder, { recursive: true });
}

function makeChanges(): Change[] {
  const random = seededRandom(20260101);
  const catalogue = generateCatalogue(count, random);
  return Array.from(generateDossiers(count, catalogue, random), (payload) => ({
    kind: 'dossier-put',
    actor: 'bench',
    reason: 'generated',
    payload,
  }));
}

async function readAll(journal: SqliteJournal): Promise<number> {
  let entries = 0;
  for await (const batch of journal.read()) entries += batch.length;
  return entries;
}

interface Timed<T> {
  readonly result: T;
  /** Processor time and time on the clock, ms. */
  readonly spent: number;
  readonly passed: number;
}

async function timed<T>(work: () => T | Promise<T>): Promise<Timed<T>> {
  const start = performance.now();
  const before = process.cpuUsage();
  const result = await work();
  const { user, system } = process.cpuUsage(before);
  return { result, spent: (user + system) / 1000, passed: performance.now() - start };
}

function say(what: string, { spent, passed }: Timed<unknown>, base: Timed<unknown>, entries = count): void {
  const ratio = (spent / entries / (base.spent / count)).toFixed(1);
  const rate = Math.round(entries / (spent / 1000));
  console.log(
    `  ${what.padEnd(26)} ${spent.toFixed(0).padStart(6)} ms of processor, ${passed.toFixed(0).padStart(6)} ms on the clock, ${String(rate).padStart(6)} a second, ${ratio} of plain JSON`,
  );
}
