// How soon a service is ready, and has answered a first question about a device, a first search and a first pattern, for readers
// and for the desk: without a snapshot, with one, and with one that is 1,000 entries behind. Each start is a process of its own; the
// journal is copied, and what is given stays as it is. The snapshot is written by another process, which says how long it held its
// event loop by that.
//
//   npm run bench:start -- JOURNAL [--with-fold]
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { patternIndexOf } from '../../src/patterns/pattern-index.ts';
import { presenceOf, readTogether } from '../../src/presence/presence.ts';
import type { Audience } from '../../src/state/visibility/audience.ts';

const PORT = 48_601;
const BEHIND = 1_000;
const TEXT = 'MATCH (a:Accelerometer)~[:CONNECTS]~(m:Microcontroller) RETURN a, m';
const AUDIENCES: readonly Audience[] = ['reader', 'desk'];

const {
  positionals: [given],
  values,
} = parseArgs({
  allowPositionals: true,
  options: { save: { type: 'string' }, 'with-fold': { type: 'boolean' } },
});
if (values.save !== undefined) await save(values.save, given as Audience);
else await main(given);

async function main(journal: string | undefined): Promise<void> {
  if (journal === undefined) throw new Error('give the file of a journal, such as npm run bench writes');
  const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
  try {
    copyFileSync(journal, join(folder, 'journal.sqlite'));
    const device = await deviceIn(folder);
    if (values['with-fold']) await start(folder, device, 'reader', 'without a snapshot');
    const kept = (audience: Audience) => join(folder, `kept-${audience}`);
    for (const audience of AUDIENCES) {
      rmSync(join(folder, 'snapshot'), { force: true });
      spawnSync(process.execPath, [import.meta.filename, '--save', folder, audience], { stdio: 'inherit' });
      copyFileSync(join(folder, 'snapshot'), kept(audience));
      for (let run = 0; run < 3; run++) await start(folder, device, audience, 'with a snapshot');
    }
    await append(folder);
    for (const audience of AUDIENCES) {
      // A service may write a newer one.
      copyFileSync(kept(audience), join(folder, 'snapshot'));
      await start(folder, device, audience, `with one that is ${BEHIND} entries behind`);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A device to ask about. */
async function deviceIn(folder: string): Promise<string> {
  const archive = await Archive.open(new SqliteJournal(join(folder, 'journal.sqlite')));
  const device = archive.state('reader').devices()[0]?.id as string;
  await archive.close();
  return device;
}

/** Writes the snapshot of a folder, with the indexes of an audience, as a service for it does. */
async function save(folder: string, audience: Audience): Promise<void> {
  const place = { file: join(folder, 'snapshot'), ahead: [], onUnusable: console.error };
  const archive = await Archive.open(new SqliteJournal(join(folder, 'journal.sqlite')), undefined, place);
  const state = archive.state(audience);
  readTogether(state);
  const index = patternIndexOf(state);
  await index.catchUp(state);
  index.align(state);
  await presenceOf(state);
  const held = monitorEventLoopDelay({ resolution: 1 });
  held.enable();
  const before = process.cpuUsage();
  await archive.saveSnapshot([audience]);
  const { user, system } = process.cpuUsage(before);
  held.disable();
  const size = Math.round(statSync(place.file).size / 2 ** 20);
  console.log(
    `snapshot of ${size} MiB, ${audience}, written in ${((user + system) / 1e6).toFixed(1)} s of processor time; the event loop was held ${Math.round(held.max / 1e6)} ms at most, ${Math.round(held.percentile(99) / 1e6)} ms at the 99th percentile`,
  );
  await archive.close();
}

/** Observations at many specimens. */
async function append(folder: string): Promise<void> {
  const journal = new SqliteJournal(join(folder, 'journal.sqlite'));
  const archive = await Archive.open(journal);
  const rows = archive.state('desk').specimenRows();
  await journal.append(
    Array.from({ length: BEHIND }, (_, at) => {
      const row = rows[(at * 7919) % rows.length];
      const observation = { id: `behind-${at}`, about: [], kind: 'appearance', text: `Seen ${at}.` };
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

async function start(folder: string, device: string, audience: Audience, what: string): Promise<void> {
  const began = performance.now();
  const program = join(import.meta.dirname, '../../src/cli/main.ts');
  const args = [program, 'serve', '--data', folder, '--port', String(PORT), '--audience', audience];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'inherit'] });
  const end = once(child, 'exit');
  const since = () => `${((performance.now() - began) / 1000).toFixed(2)} s (${cpuOf(child.pid as number)})`;
  while (!(await ready())) {
    if (child.exitCode !== null) throw new Error(`the service ended with ${child.exitCode}`);
    await pause(5);
  }
  const lines = [`ready ${since()}`];
  const questions = {
    device: `{ device(id: ${JSON.stringify(device)}) { name maker { name } specimens { id } } }`,
    search: '{ search(text: "accelerometer", first: 5) { nodes { title } } }',
    pattern: `{ findPattern(text: ${JSON.stringify(TEXT)}, first: 5) { totalCount } }`,
  };
  for (const [name, query] of Object.entries(questions)) {
    const answer = await asked(query);
    if (answer.includes('"errors"')) console.error(answer.slice(0, 300));
    lines.push(`${name} ${since()}`);
  }
  console.log(`${what}, ${audience}: ${lines.join(', ')}; load ${loadavg()[0]?.toFixed(1)}`);
  child.kill('SIGTERM');
  await end;
}

async function asked(query: string): Promise<string> {
  const response = await fetch(`http://127.0.0.1:${PORT}/graphql`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ query }),
  });
  return response.text();
}

async function ready(): Promise<boolean> {
  try {
    return (await fetch(`http://127.0.0.1:${PORT}/readyz`)).status === 200;
  } catch {
    return false;
  }
}

/** Processor time of a process so far (proc(5), fields 14 and 15 of stat, in hundredths); nothing elsewhere than on Linux. */
function cpuOf(pid: number): string {
  const file = `/proc/${pid}/stat`;
  if (!existsSync(file)) return 'processor time unknown';
  const fields = readFileSync(file, 'utf8').split(') ')[1]?.split(' ') ?? [];
  return `${((Number(fields[11]) + Number(fields[12])) / 100).toFixed(1)} s of processor time`;
}
