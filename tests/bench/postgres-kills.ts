// Kills a PostgreSQL server (SIGKILL, fsync on) and processes that append to it, under load, and looks at what is left.
// node src/run.mjs --script tests/bench/postgres-kills.ts [KILLS OF THE SERVER] [KILLS OF WRITERS]
// Ends with 1 when an acknowledged append is lost, one is there in part, the chain is broken or a key was done twice.
import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { examine } from '../../src/journal/verify.ts';
import { PostgresServer } from '../postgres/server.ts';
import { seededRandom } from './generate.ts';

const [serverKills = 100, writerKills = 100] = process.argv.slice(2).map(Number);
const WRITERS = 3;
const random = seededRandom(20261130);
const server = await PostgresServer.start({ fsync: true });
/** By key: the first sequence, as the writer was told. */
const acknowledged = new Map<string, number>();
let refused = 0;
let started = 0;
const writers = new Set<ChildProcess>();
let wrong = 0;
try {
  for (let i = 0; i < WRITERS; i++) startWriter();
  for (let kill = 0; kill < serverKills; kill++) {
    await pause(100 + random() * 300);
    await server.kill();
    await server.start();
  }
  console.log(
    `${serverKills} kills of the server, ${acknowledged.size} appends acknowledged, ${refused} told UNAVAILABLE`,
  );
  for (let kill = 0; kill < writerKills; kill++) {
    await pause(50 + random() * 200);
    const victim = [...writers][Math.floor(random() * writers.size)];
    writers.delete(victim);
    victim.kill('SIGKILL');
    startWriter();
  }
  await pause(1_000);
  for (const writer of writers) writer.kill('SIGKILL');
  await pause(200);
  await check();
} finally {
  for (const writer of writers) writer.kill('SIGKILL');
  await server.remove();
}
process.exitCode = wrong === 0 ? 0 : 1;

function startWriter(): void {
  const child = spawn(process.execPath, [
    join(import.meta.dirname, 'postgres-writer.ts'),
    server.url(),
    `w${started++}`,
  ]);
  writers.add(child);
  child.stderr.pipe(process.stderr);
  createInterface({ input: child.stdout }).on('line', (line) => {
    const [what, key, first] = line.split(' ');
    if (what === 'done') acknowledged.set(key, Number(first));
    else refused++;
  });
}

async function check(): Promise<void> {
  const journal = new PostgresJournal(server.url());
  const { whole, faults } = await examine(journal);
  const byKey = new Map<string, number[]>();
  for await (const entries of journal.read())
    for (const { reason, sequence } of entries) byKey.set(reason, [...(byKey.get(reason) ?? []), sequence]);
  const lost = [...acknowledged].filter(([key, first]) => byKey.get(key)?.[0] !== first).length;
  // Each append has three entries, next to each other.
  const partial = [...byKey.values()].filter(
    (all) => all.length !== 3 || all.some((sequence, i) => sequence !== all[0] + i),
  ).length;
  await journal.close();
  wrong = lost + partial + faults.length;
  console.log(
    `${serverKills} kills of the server and ${writerKills} of writers: ${acknowledged.size} appends acknowledged, ${lost} lost, ${partial} in part or twice; ${whole} entries, ${faults.length} faults of the chain`,
  );
}
