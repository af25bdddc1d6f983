// How soon a service is ready and has answered a first pattern question: without a snapshot, with one, and with one that is
// 1,000 entries behind. Each start is a process of its own; the journal is copied, and what is given stays as it is.
//
//   npm run bench:start -- JOURNAL
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';

const PORT = 48_601;
const TEXT = 'MATCH (a:Accelerometer)~[:CONNECTS]~(m:Microcontroller) RETURN a, m';
const QUERY = `{ findPattern(text: ${JSON.stringify(TEXT)}, first: 5) { totalCount } }`;
const BEHIND = 1_000;

const {
  positionals: [given],
} = parseArgs({ allowPositionals: true });
if (given === undefined) throw new Error('give the file of a journal, such as npm run bench writes');
const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
const snapshot = join(folder, 'snapshot');
try {
  copyFileSync(given, join(folder, 'journal.sqlite'));
  await start('without a snapshot', true);
  console.log(`snapshot: ${Math.round(statSync(snapshot).size / 2 ** 20)} MiB`);
  for (let run = 0; run < 3; run++) await start('with a snapshot');
  await append();
  await start(`with one that is ${BEHIND} entries behind`);
} finally {
  rmSync(folder, { recursive: true });
}

/** Observations at many specimens. */
async function append(): Promise<void> {
  const journal = new SqliteJournal(join(folder, 'journal.sqlite'));
  const archive = await Archive.open(journal);
  const rows = archive.state('desk').specimenRows();
  await journal.append(
    Array.from({ length: BEHIND }, (_, at) => {
      const row = rows[(at * 7919) % rows.length];
      const observation = { id: `bench-${at}`, about: [], kind: 'appearance', text: `Seen ${at}.` };
      return {
        actor: 'bench',
        reason: 'timed',
        kind: 'observation-recorded',
        payload: { specimen: row?.id, observation },
      };
    }) as never,
  );
  await archive.close();
}

/** @param untilSaved whether to wait for the snapshot that the service writes */
async function start(what: string, untilSaved = false): Promise<void> {
  const began = performance.now();
  const main = join(import.meta.dirname, '../../src/cli/main.ts');
  const child = spawn(process.execPath, [main, 'serve', '--data', folder, '--port', String(PORT)], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const end = once(child, 'exit');
  const since = () => ((performance.now() - began) / 1000).toFixed(2);
  while (!(await ready())) {
    if (child.exitCode !== null) throw new Error(`the service ended with ${child.exitCode}`);
    await pause(5);
  }
  const readyAt = since();
  const answer = await fetch(`http://127.0.0.1:${PORT}/graphql`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ query: QUERY }),
  }).then((response) => response.text());
  const { user, system } = cpuOf(child.pid as number);
  console.log(
    `${what}: ready after ${readyAt} s, first pattern answered after ${since()} s, ${(user + system).toFixed(1)} s of processor time; ${answer.slice(0, 80)}`,
  );
  while (untilSaved && !existsSync(snapshot)) await pause(200);
  child.kill('SIGTERM');
  await end;
}

async function ready(): Promise<boolean> {
  try {
    return (await fetch(`http://127.0.0.1:${PORT}/readyz`)).status === 200;
  } catch {
    return false;
  }
}

/** Processor time of a process so far, s (proc(5), fields 14 and 15 of stat, in hundredths); nothing elsewhere than on Linux. */
function cpuOf(pid: number): { readonly user: number; readonly system: number } {
  const file = `/proc/${pid}/stat`;
  if (!existsSync(file)) return { user: Number.NaN, system: Number.NaN };
  const fields = readFileSync(file, 'utf8').split(') ')[1]?.split(' ') ?? [];
  return { user: Number(fields[11]) / 100, system: Number(fields[12]) / 100 };
}
