/**
 * `npm run bench:hostile`: hostile requests (`hostile-requests.ts`) sent to a service in a process of its own, one after the other,
 * while a heavy question runs again and again and a light one is asked twenty times a second; and hostile files through
 * `caseback check`. Prints what was not answered cleanly, which requests held the event loop longest (processor time of its
 * thread between two turns), the light question's percentiles, and memory before and after; ends with 1 when a bound is broken.
 *
 * Environment: HOSTILE_DEVICES (500), HOSTILE_ROUNDS (2), HOSTILE_AUDIENCE (desk), HOSTILE_ONLY (part of a name).
 */
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { stringify } from 'yaml';
import { main as caseback } from '../../src/cli/command-line.ts';
import { createService } from '../../src/service/create-service.ts';
import { entryOf, handZip, type RawEntry, repeated } from '../trade-files/hand-zip.ts';
import { partsOf, sheetData } from '../trade-files/workbooks.ts';
import { asking, importedArchive, send } from './asking.ts';
import { generateBoardCatalogue, generateBoards } from './generate-boards.ts';
import { HOSTILE_FILES, HOSTILE_REQUESTS, type HostileRequest, UNCLEAN } from './hostile-requests.ts';

/** Memory after to before; milliseconds of the light question at the 99th percentile, and that the loop may be held. */
const BOUNDS = { memory: 1.5, light: 150, hold: 100 };
/** V8 gives back the pages of threads that have ended some seconds later: until then, ms, they count. */
const SETTLED = 12_000;
const ROUNDS = Number(process.env.HOSTILE_ROUNDS ?? 2);
const LIGHT = '{ devices(first: 5) { nodes { id name } } }';
const HEAVY =
  '{ findPattern(text: "MATCH (a:IntegratedCircuit)-[x]-{1,3}(b:Sensor) RETURN a, b") { totalCount } }';

interface Looked {
  /** Longest processor time between two turns since last asked, ms. */
  readonly held: number;
  /** Resident, after a collection, bytes. */
  readonly memory: number;
}

if (process.argv[2] === '--serve') await serve(Number(process.env.HOSTILE_DEVICES ?? 500));
else await main();

async function main(): Promise<void> {
  const child = fork(import.meta.filename, ['--serve'], { execArgv: ['--expose-gc'] });
  let died = false;
  child.once('exit', () => {
    died = true;
  });
  const [port] = (await once(child, 'message')) as [number];
  const look = async (collect: boolean): Promise<Looked> => {
    child.send(collect ? 'collect' : 'look');
    return (await once(child, 'message'))[0] as Looked;
  };
  const asked = (query: string) => asking('', query);
  for (let i = 0; i < 20; i++) await send(port, asked(i % 5 === 0 ? HEAVY : LIGHT));
  const before = await look(true);

  const times: number[] = [];
  let isOver = false;
  const light = (async () => {
    while (!isOver && !died) {
      const start = performance.now();
      await send(port, asked(LIGHT));
      times.push(performance.now() - start);
      await after(50);
    }
  })();
  const heavy = (async () => {
    // Each a text of its own, so that nothing of it is kept.
    for (let i = 0; !isOver && !died; i++) await send(port, asked(`${HEAVY} #${i}`));
  })();

  const unclean: string[] = [];
  const holds: { name: string; held: number }[] = [];
  const statuses = new Map<string, number>();
  let sent = 0;
  for (let round = 0; round < ROUNDS; round++) {
    for (const hostile of [...HOSTILE_REQUESTS, ...largeImports()]) {
      if (!hostile.name.includes(process.env.HOSTILE_ONLY ?? '')) continue;
      if (died) throw new Error(`the service ended after ${unclean.at(-1) ?? 'nothing'}`);
      await look(false);
      const { status, text } = await send(port, hostile);
      sent++;
      statuses.set(status, (statuses.get(status) ?? 0) + 1);
      if (UNCLEAN.test(text) || /^5(?!03)/u.test(status))
        unclean.push(`${hostile.name}: ${status} ${text.slice(0, 200)}`);
      holds.push({ name: hostile.name, held: (await look(false)).held });
    }
  }
  isOver = true;
  await Promise.all([light, heavy]);
  const background = quantile(
    holds.map(({ held }) => held),
    0.5,
  );
  await after(SETTLED);
  const { memory } = await look(true);
  child.kill();
  const files = await checkFiles(unclean);

  const [p50, p99] = [quantile(times, 0.5), quantile(times, 0.99)];
  const long = Map.groupBy(
    holds.filter(({ held }) => held > BOUNDS.hold),
    ({ name }) => name,
  );
  const both = [...long].filter(([, each]) => each.length === ROUNDS);
  const growth = memory / before.memory;
  const mib = (bytes: number) => `${(bytes / 2 ** 20).toFixed(0)} MiB`;
  console.log(
    `${sent} requests and ${files} files; statuses ${[...statuses]
      .sort()
      .map(([status, n]) => `${status}: ${n}`)
      .join(', ')}`,
  );
  for (const one of unclean) console.log(`UNCLEAN ${one}`);
  console.log(`held: ${background.toFixed(0)} ms at the median, beside the heavy question`);
  for (const { name, held } of holds.toSorted((a, b) => b.held - a.held).slice(0, 8))
    console.log(`  ${held.toFixed(0).padStart(5)} ms  ${name}`);
  for (const [name] of both) console.log(`HELD over ${BOUNDS.hold} ms in every round: ${name}`);
  console.log(`light question: ${times.length} times, 50th ${p50.toFixed(0)} ms, 99th ${p99.toFixed(0)} ms`);
  console.log(`memory: ${mib(before.memory)} before, ${mib(memory)} after, ${growth.toFixed(2)} times`);
  const broken = unclean.length > 0 || both.length > 0 || p99 > BOUNDS.light || growth > BOUNDS.memory;
  console.log(broken ? 'a bound is broken' : 'all within bounds');
  process.exitCode = broken ? 1 : 0;
}

/** Imports as large as a service takes, and larger ones. */
function largeImports(): readonly HostileRequest[] {
  const importing = (name: string, text: string) =>
    asking(
      name,
      'mutation ($files: [FileInput!]!) { importDossier(input: { files: $files, reason: "x" }) { entries } }',
      { files: [{ name: 'a.yaml', text }] },
    );
  const board = generateBoards({ id: 'large', components: 1_000, seed: 3 });
  const catalogue = generateBoardCatalogue();
  return [
    importing('1,000 components that name unknown parts, JSON', JSON.stringify(board)),
    importing('1,000 components that name unknown parts, YAML', stringify(board)),
    importing('their catalogue', JSON.stringify(catalogue)),
    importing('1,000 components, JSON', JSON.stringify(board)),
    importing('1,000 components again, YAML', stringify(board)),
    importing('a file of 20 megabytes', 'x'.repeat(20_000_000)),
    importing('a megabyte of brackets', '['.repeat(1_000_000)),
    asking(
      'a trade file of 18 megabytes',
      'mutation ($input: ImportTradeFilesInput!) { importTradeFiles(input: $input) { entries } }',
      {
        input: {
          files: [{ name: 'a.kicad_pcb', text: `(kicad_pcb ${'(net 1 "a")'.repeat(1_600_000)})` }],
          device: 'large',
          specimen: 'b',
          opened: '2026',
          reason: 'x',
        },
      },
    ),
    workbook('a workbook that unpacks to 600 megabytes', {
      'xl/sharedStrings.xml': repeated('xl/sharedStrings.xml', '<sst>', Buffer.alloc(2 ** 20, ' '), 600),
    }),
    workbook('a workbook of 100 megabytes of empty cells', {
      'xl/worksheets/sheet1.xml': repeated(
        'xl/worksheets/sheet1.xml',
        '<worksheet><sheetData>',
        Buffer.from(
          Array.from({ length: 5_000 }, (_, i) => `<row><c s="${i % 977}"/><c s="${i}"/></row>`).join(''),
        ),
        600,
        '</sheetData></worksheet>',
      ),
    }),
    { name: 'the guide', method: 'GET', url: '/docs' },
    { name: 'the start page', method: 'GET', url: '/' },
  ];
}

/** A small workbook with some of its parts in another form. */
function workbook(name: string, instead: Readonly<Record<string, RawEntry>>): HostileRequest {
  const parts = partsOf({
    sheets: {
      BOM: sheetData([
        ['Ref', 'Value'],
        ['R1', '1k'],
      ]),
    },
    texts: '<sst/>',
  });
  const bytes = handZip(
    Object.entries(parts).map(([part, content]) => instead[part] ?? entryOf(part, content)),
  );
  return asking(
    name,
    'mutation ($input: ImportTradeFilesInput!) { importTradeFiles(input: $input) { entries } }',
    {
      input: {
        files: [{ name: 'a.xlsx', content: bytes.toString('base64') }],
        device: 'large',
        specimen: 'b',
        opened: '2026',
        reason: 'x',
      },
    },
  );
}

/** Checks every file on the command line; answers how many. */
async function checkFiles(unclean: string[]): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-hostile-'));
  process.env.DATA_DIR = join(folder, 'data');
  process.env.DEMO_DIR = join(folder, 'demo');
  try {
    for (const { name, content } of HOSTILE_FILES) {
      const file = join(folder, 'hostile.yaml');
      writeFileSync(file, content);
      let text = '';
      const gather = (written: string) => {
        text += written;
      };
      const terminal = { out: gather, message: gather, input: () => '', isInputTyped: false };
      const code = await caseback(['check', file, '--data', join(folder, 'data')], terminal);
      if (code > 1 || UNCLEAN.test(text) || text.length > 100_000)
        unclean.push(`file, ${name}: ${code} ${text.slice(0, 200)}`);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return HOSTILE_FILES.length;
}

function quantile(values: readonly number[], share: number): number {
  return (
    values.toSorted((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * share))] ?? 0
  );
}

async function serve(devices: number): Promise<void> {
  const archive = await importedArchive(devices);
  const audience = process.env.HOSTILE_AUDIENCE === 'reader' ? 'reader' : 'desk';
  const app = createService({ archive, audience });
  await app.listen({ host: '127.0.0.1', port: 0 });
  let last = process.threadCpuUsage();
  let longest = 0;
  const turn = () => {
    const { user, system } = process.threadCpuUsage(last);
    longest = Math.max(longest, (user + system) / 1_000);
    last = process.threadCpuUsage();
  };
  setInterval(turn, 5);
  process.on('message', async (message) => {
    turn();
    const held = longest;
    if (message === 'collect') {
      for (let i = 0; i < 4; i++) {
        globalThis.gc?.();
        await after(50);
      }
    }
    longest = 0;
    last = process.threadCpuUsage();
    process.send?.({ held, memory: process.memoryUsage.rss() } satisfies Looked);
  });
  process.once('disconnect', () => process.exit());
  process.send?.((app.server.address() as AddressInfo).port);
}
