// Figures of the foundation: import rate, fold time, memory, cold start. Run with `npm run bench [-- DEVICES ...]`.
// Each size runs in a process of its own, so that memory figures do not add up.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/read.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const MIB = 1024 * 1024;
const BATCH = 500;
const [mode, ...args] = process.argv.slice(2);

if (mode === '--write') await write(Number(args[0]), args[1]);
else if (mode === '--fold') await fold(args[0]);
else await main([mode, ...args].filter(Boolean).map(Number));

async function main(sizes: readonly number[]): Promise<void> {
  await coldStart();
  for (const devices of sizes.length > 0 ? sizes : [1_000, 10_000]) {
    const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
    const file = join(folder, 'journal.sqlite');
    for (const step of [
      ['--write', String(devices), file],
      ['--fold', file],
    ]) {
      spawnSync(process.execPath, ['--expose-gc', import.meta.filename, ...step], { stdio: 'inherit' });
    }
    rmSync(folder, { recursive: true });
  }
}

/** Generates and imports in batches, as an editor's folders would come. */
async function write(devices: number, file: string): Promise<void> {
  const random = seededRandom(20260101);
  const catalogue = generateCatalogue(devices, random);
  const archive = await Archive.open(new SqliteJournal(file));
  const by = { actor: 'bench', reason: 'generated' };
  const place = () => ({ line: 1, column: 1 });
  await archive.importDocuments([{ kind: 'catalogue', file: 'catalogue', locate: place, catalogue }], by);
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
    batch.push({ kind: 'dossier', file: dossier.specimen.id, locate: place, dossier });
    if (batch.length === BATCH) await flush();
  }
  await flush();
  await archive.close();
  console.log(
    `\n${devices} devices, ${components} components, journal ${Math.round(statSync(file).size / MIB)} MiB`,
  );
  console.log(
    `  import  ${Math.round(devices / (spent / 1000))} dossiers/s, ${Math.round(components / (spent / 1000))} components/s`,
  );
}

/** Opens what was written and says what it took. */
async function fold(file: string): Promise<void> {
  const start = performance.now();
  const archive = await Archive.open(new SqliteJournal(file));
  const seconds = (performance.now() - start) / 1000;
  globalThis.gc?.();
  const { rss, heapUsed, external } = process.memoryUsage();
  console.log(`  fold    ${seconds.toFixed(1)} s   (aim at 10,000 devices: 15 s or less)`);
  console.log(
    `  memory  ${Math.round(rss / MIB)} MiB resident, ${Math.round(heapUsed / MIB)} MiB heap, ${Math.round(external / MIB)} MiB outside it   (aim at 10,000: 1,500 MiB or less)`,
  );
  await archive.close();
}

/** From starting the process on a loaded demo archive to the first 200 of /readyz. */
async function coldStart(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
  const port = 48_600;
  const times: number[] = [];
  for (let run = 0; run < 6; run++) {
    const start = performance.now();
    const main = join(import.meta.dirname, '../../src/cli/main.ts');
    const child = spawn(process.execPath, [main, 'serve', '--data', folder, '--port', String(port)], {
      stdio: 'ignore',
    });
    while (!(await ready(port)) && performance.now() - start < 60_000)
      await new Promise((done) => setTimeout(done, 5));
    // The first run loads the demo archive and does not count.
    if (run > 0) times.push(performance.now() - start);
    child.kill('SIGTERM');
    await new Promise((done) => child.once('exit', done));
  }
  rmSync(folder, { recursive: true });
  times.sort((a, b) => a - b);
  console.log(
    `cold start of the demo to ready: median ${(times[2] / 1000).toFixed(2)} s of 5   (aim: 1.5 s or less)`,
  );
}

async function ready(port: number): Promise<boolean> {
  try {
    return (await fetch(`http://127.0.0.1:${port}/readyz`)).status === 200;
  } catch {
    return false;
  }
}
