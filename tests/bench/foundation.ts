// Figures of the foundation: cold start, import rate, fold time, memory, requests a second. Nothing is written but to
// a temporary folder, unless --out names a file.
//
//   npm run bench [-- DEVICES ...] [--no-service] [--out FILE]
//
// Each size runs in processes of its own, so that memory figures do not add up.
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { toTable } from '../../src/export/table.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const MIB = 1024 * 1024;
/** Dossiers imported at once. */
const BATCH = 500;
const COLD_STARTS = 5;

interface Figure {
  readonly figure: string;
  readonly devices: number | undefined;
  readonly value: number;
  readonly unit: string;
  /** The most that the figure should be. */
  readonly aim?: number;
}

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    write: { type: 'string' },
    fold: { type: 'string' },
    out: { type: 'string' },
    'no-service': { type: 'boolean' },
  },
});
if (values.write !== undefined) report(await write(Number(positionals[0]), values.write));
else if (values.fold !== undefined) report(await fold(Number(positionals[0]), values.fold));
else await main(positionals.length > 0 ? positionals.map(Number) : [1_000, 10_000]);

async function main(sizes: readonly number[]): Promise<void> {
  const figures: Figure[] = [...(await coldStart())];
  for (const devices of sizes) {
    const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
    try {
      const file = join(folder, 'journal.sqlite');
      for (const step of ['--write', '--fold']) figures.push(...inOwnProcess([step, file, String(devices)]));
    } finally {
      rmSync(folder, { recursive: true });
    }
  }
  process.stdout.write(
    `\n${toTable(figures.map(asRow))}\n${cpus().length} processors, ${cpus()[0]?.model}; on average ${loadavg()[1].toFixed(1)} programs wanted one over the last five minutes\n`,
  );
  if (values.out !== undefined) writeFileSync(values.out, `${JSON.stringify(figures, null, 2)}\n`);
  if (values['no-service']) return;
  process.stdout.write(
    '\nRequests a second, beside a bare route that answers the same JSON (aim: a ratio of 0.5)\n',
  );
  spawnSync(process.execPath, [join(import.meta.dirname, 'service.ts')], { stdio: 'inherit' });
}

function asRow({ figure, devices, value, unit, aim }: Figure): Record<string, string> {
  return {
    figure,
    devices: devices === undefined ? 'demo' : String(devices),
    value: value < 10 ? value.toFixed(2) : value.toFixed(0),
    unit,
    aim: aim === undefined ? '' : `at most ${aim}`,
    '': aim === undefined ? '' : value <= aim ? 'met' : 'MISSED',
  };
}

function inOwnProcess(args: readonly string[]): readonly Figure[] {
  process.stderr.write(`${args[0]} ${args[2]} devices …\n`);
  const { stdout, status } = spawnSync(process.execPath, [import.meta.filename, ...args], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  if (status !== 0) throw new Error(`${args.join(' ')} ended with ${status}`);
  return JSON.parse(stdout) as readonly Figure[];
}

function report(figures: readonly Figure[]): void {
  process.stdout.write(JSON.stringify(figures));
}

/** Generates and imports in batches, as an editor's folders would come; generating does not count. */
async function write(devices: number, file: string): Promise<readonly Figure[]> {
  const random = seededRandom(20260101);
  const catalogue = generateCatalogue(devices, random);
  const archive = await Archive.open(new SqliteJournal(file));
  const by = { actor: 'bench', reason: 'generated' };
  const locate = () => ({ line: 1, column: 1 });
  await archive.importDocuments([{ kind: 'catalogue', file: 'catalogue', locate, catalogue }], by);
  let spent = 0;
  let components = 0;
  let batch: ReadDocument[] = [];
  const flush = async () => {
    const start = performance.now();
    await archive.importDocuments(batch, by);
    spent += performance.now() - start;
    batch = [];
  };
  for (const dossier of generateDossiers(devices, catalogue, random)) {
    components += dossier.components.length;
    batch.push({ kind: 'dossier', file: `${dossier.specimen.id}-${components}`, locate, dossier });
    if (batch.length === BATCH) await flush();
  }
  await flush();
  await archive.close();
  return [
    { figure: 'components', devices, value: components, unit: '' },
    { figure: 'journal on disk', devices, value: statSync(file).size / MIB, unit: 'MiB' },
    { figure: 'import', devices, value: devices / (spent / 1000), unit: 'dossiers/s' },
    { figure: 'import', devices, value: components / (spent / 1000), unit: 'components/s' },
  ];
}

/** Opens what was written and says what it took. */
async function fold(devices: number, file: string): Promise<readonly Figure[]> {
  const start = performance.now();
  const before = process.cpuUsage();
  const archive = await Archive.open(new SqliteJournal(file));
  const seconds = (performance.now() - start) / 1000;
  const { user, system } = process.cpuUsage(before);
  const { rss, heapUsed } = process.memoryUsage();
  const peak = process.resourceUsage().maxRSS / 1024;
  await archive.close();
  const aims = devices <= 10_000;
  return [
    { figure: 'fold', devices, value: seconds, unit: 's', ...(aims ? { aim: 15 } : {}) },
    // On a machine that others use too, this says more than the clock.
    { figure: 'fold, processor time', devices, value: (user + system) / 1e6, unit: 's' },
    { figure: 'memory after the fold', devices, value: rss / MIB, unit: 'MiB' },
    { figure: 'memory at its highest', devices, value: peak, unit: 'MiB', ...(aims ? { aim: 1_536 } : {}) },
    { figure: 'of it on the heap', devices, value: heapUsed / MIB, unit: 'MiB' },
  ];
}

/** From starting the launcher on a loaded demo archive, as `npm start` does, to the first 200 of /readyz. */
async function coldStart(): Promise<readonly Figure[]> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
  const times: number[] = [];
  // The first run loads the demo archive, the second may still compile; neither counts as a cold start.
  for (let run = 0; run < COLD_STARTS + 2; run++) times.push(await startOnce(folder));
  rmSync(folder, { recursive: true });
  const [first, , ...rest] = times;
  rest.sort((a, b) => a - b);
  const starts = { devices: undefined, unit: 's' };
  return [
    { figure: 'first start, loading the demo', ...starts, value: first },
    { figure: `cold start, median of ${COLD_STARTS}`, ...starts, value: rest[COLD_STARTS >> 1], aim: 1.5 },
    { figure: 'cold start, fastest', ...starts, value: rest[0] },
  ];
}

/** Seconds from spawn to ready. */
async function startOnce(folder: string): Promise<number> {
  const port = 48_600;
  const launcher = join(import.meta.dirname, '../../src/run.mjs');
  const start = performance.now();
  const child = spawn(process.execPath, [launcher, 'serve', '--demo', '--port', String(port)], {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEMO_DIR: folder },
  });
  const end = once(child, 'exit');
  while (!(await isReady(port))) {
    if (child.exitCode !== null) throw new Error(`the service ended with ${child.exitCode}`);
    await pause(5);
  }
  const seconds = (performance.now() - start) / 1000;
  child.kill('SIGTERM');
  await end;
  return seconds;
}

async function isReady(port: number): Promise<boolean> {
  try {
    return (await fetch(`http://127.0.0.1:${port}/readyz`)).status === 200;
  } catch {
    return false;
  }
}
