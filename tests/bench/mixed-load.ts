// `npm run bench:mixed`: reads and writes mixed at 50 connections against `caseback serve`, over the embedded store and over PostgreSQL, beside a
// bare Fastify route that answers reads and writes with the same JSON, in the same run: requests a second and percentiles.
//
//   node src/run.mjs --script tests/bench/mixed-load.ts [SECONDS] [--devices N] [--profile FOLDER]
//
// Each of services, bare route and load is a process of its own. With --profile the services write what their time went into.
import { type ChildProcess, fork, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import autocannon, { type Result } from 'autocannon';
import fastify from 'fastify';
import { Archive } from '../../src/archive.ts';
import type { Journal } from '../../src/journal/journal.ts';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { specimenIdOf } from '../../src/model/dossier.ts';
import { PostgresServer } from '../postgres/server.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const READING = 45;
const WRITING = 5;
const TURNS = 5;
/** Devices that are asked for in turn. */
const ASKED = 40;
const MAIN = join(import.meta.dirname, '../../src/cli/main.ts');
const DEVICE = `query ($id: ID!) { device(id: $id) {
  id name released bodySite maker { name } boards { id kind } kindCounts { kind certain expected } } }`;
const COMPONENTS = `query ($id: ID!) { device(id: $id) { id components(first: 50) {
  totalCount nodes { id designator marking identification { state candidates { partId probability } } } } } }`;
const LIST = '{ devices(first: 20) { totalCount nodes { id name released } } }';
const PATTERN = '{ findPattern(text: "MATCH (x:Accelerometer) RETURN x", first: 10) { totalCount } }';
const WRITE = `mutation ($input: RecordObservationInput!) { recordObservation(input: $input) {
  observation { id text } entry { sequence id instant } } }`;

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    bare: { type: 'boolean' },
    devices: { type: 'string', default: '300' },
    profile: { type: 'string' },
  },
});
if (values.bare) await serveBare();
else await main(Number(positionals[0] ?? 4), Number(values.devices));

/** What is asked: of reads the bodies in turn, of writes another each time. */
interface Asked {
  readonly reads: readonly string[];
  readonly write: () => string;
}

/** One turn: reads and writes at once. */
interface Turn {
  readonly reads: Result;
  readonly writes: Result;
}

async function main(seconds: number, devices: number): Promise<void> {
  const bare = fork(import.meta.filename, ['--bare']);
  const [port] = (await once(bare, 'message')) as [number];
  const bareUrl = `http://127.0.0.1:${port}/bare`;
  const folder = mkdtempSync(join(tmpdir(), 'caseback-load-'));
  const server = await PostgresServer.start({ fsync: true });
  const services: ChildProcess[] = [];
  try {
    console.log(
      `${devices} devices; ${READING} connections read and ${WRITING} write, ${TURNS} turns of ${seconds} s, in alternation with the bare route\n`,
    );
    for (const [name, journal, env] of [
      ['embedded', new SqliteJournal(join(folder, 'data/journal.sqlite')), {}],
      ['PostgreSQL', new PostgresJournal(server.url()), { DATABASE_URL: server.url() }],
    ] as const) {
      const asked = await fill(journal, devices);
      const service = serve(folder, env);
      services.push(service);
      const url = `${await addressOf(service)}/graphql`;
      for (const body of asked.reads) await teach(bareUrl, body, await ask(url, body));
      await teach(bareUrl, 'write', await ask(url, asked.write()));
      await turn(url, asked, 2);
      const ours: Turn[] = [];
      const theirs: Turn[] = [];
      for (let i = 0; i < TURNS; i++) {
        theirs.push(await turn(bareUrl, asked, seconds));
        ours.push(await turn(url, asked, seconds));
      }
      report(name, ours, theirs);
      service.kill('SIGTERM');
      await once(service, 'exit');
    }
  } finally {
    bare.kill();
    for (const service of services) service.kill();
    await server.remove();
    rmSync(folder, { recursive: true, force: true });
  }
}

function report(name: string, ours: readonly Turn[], theirs: readonly Turn[]): void {
  console.log(`${name.padEnd(12)}  requests/s  ratio   50th   90th   99th  99.9th, ms`);
  for (const [who, turns] of [
    ['service', ours],
    ['bare', theirs],
  ] as const)
    for (const kind of ['reads', 'writes'] as const) {
      const of = (pick: (result: Result) => number) => median(turns.map((one) => pick(one[kind])));
      const rate = of(({ requests }) => requests.average);
      const ratio = median(
        ours.map((one, i) => one[kind].requests.average / theirs[i][kind].requests.average),
      );
      const ms = [
        of(({ latency }) => latency.p50),
        of(({ latency }) => latency.p90),
        of(({ latency }) => latency.p99),
        of(({ latency }) => latency.p99_9),
      ];
      console.log(
        `  ${`${who}, ${kind}`.padEnd(16)} ${rate.toFixed(0).padStart(6)} ${(who === 'bare' ? '' : ratio.toFixed(3)).padStart(6)} ${ms.map((one) => one.toFixed(0).padStart(6)).join(' ')}`,
      );
    }
}

/** An archive of generated devices, and what to ask of it. */
async function fill(journal: Journal, devices: number): Promise<Asked> {
  const random = seededRandom(20260101);
  const catalogue = generateCatalogue(devices, random);
  const dossiers = [...generateDossiers(devices, catalogue, random)];
  const locate = () => ({ line: 1, column: 1 });
  const archive = await Archive.open(journal);
  await archive.importDocuments(
    [
      { kind: 'catalogue', file: 'catalogue', locate, catalogue },
      ...dossiers.map(
        (dossier) => ({ kind: 'dossier', file: specimenIdOf(dossier), locate, dossier }) as const,
      ),
    ],
    { actor: 'bench', reason: 'generated' },
  );
  const ids = [...archive.state('reader').devices()].slice(0, ASKED).map(({ id }) => id);
  await archive.close();
  const one = (query: string, id?: string) => JSON.stringify({ query, variables: id && { id } });
  const reads = ids.flatMap((id, i) => [
    one(DEVICE, id),
    one(COMPONENTS, id),
    one(LIST),
    ...(i % 5 === 0 ? [one(PATTERN)] : []),
  ]);
  let written = 0;
  const write = () => {
    const dossier = dossiers[written++ % dossiers.length];
    const observation = {
      id: `load-${written}`,
      about: [dossier.components[0].id],
      kind: 'APPEARANCE',
      text: `Seen for the ${written}th time.`,
    };
    const input = { specimen: specimenIdOf(dossier), observation, reason: 'load' };
    return JSON.stringify({ query: WRITE, variables: { input } });
  };
  return { reads, write };
}

function serve(folder: string, env: NodeJS.ProcessEnv): ChildProcess {
  const profile = values.profile === undefined ? [] : ['--cpu-prof', '--cpu-prof-dir', values.profile];
  return spawn(process.execPath, [...profile, MAIN, 'serve', '--port', '0', '--audience', 'desk'], {
    cwd: folder,
    env: { ...process.env, DATABASE_URL: '', DATA_DIR: 'data', ...env },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
}

/** Address that a starting service prints once it is ready. */
async function addressOf(service: ChildProcess): Promise<string> {
  let said = '';
  for await (const chunk of service.stdout as AsyncIterable<Buffer>) {
    said += chunk;
    const address = /page +(\S+)\//u.exec(said)?.[1];
    if (address) return address;
  }
  throw new Error(`the service ended: ${said}`);
}

async function turn(url: string, { reads, write }: Asked, seconds: number): Promise<Turn> {
  const to = new URL(url);
  const request = {
    method: 'POST',
    path: to.pathname,
    headers: { 'content-type': 'application/json' },
  } as const;
  const one = (connections: number, requests: Parameters<typeof autocannon>[0]['requests']) =>
    autocannon({
      url: to.origin,
      connections,
      duration: seconds,
      requests,
      verifyBody: (body) => !body.includes('"errors"'),
    });
  const [reading, writing] = await Promise.all([
    one(
      READING,
      reads.map((body) => ({ ...request, body })),
    ),
    one(WRITING, [{ ...request, body: '', setupRequest: (before) => ({ ...before, body: write() }) }]),
  ]);
  for (const { non2xx, errors, mismatches } of [reading, writing])
    if (non2xx + errors + mismatches > 0)
      throw new Error(`${url}: ${non2xx} refused, ${errors} failed, ${mismatches} with errors`);
  return { reads: reading, writes: writing };
}

async function ask(url: string, body: string): Promise<string> {
  const response = await fetch(url, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body,
  });
  const text = await response.text();
  if (!response.ok || text.includes('"errors"')) throw new Error(text);
  return text;
}

async function teach(url: string, body: string, answer: string): Promise<void> {
  const key = body === 'write' ? body : keyOf(JSON.parse(body));
  await ask(`${url}/teach`, JSON.stringify({ key, answer: JSON.parse(answer) }));
}

/** What the bare route looks its answer up by. */
function keyOf({
  query,
  variables,
}: {
  query: string;
  variables?: { id?: string; input?: unknown };
}): string {
  return variables?.input === undefined ? `${query}${variables?.id ?? ''}` : 'write';
}

async function serveBare(): Promise<void> {
  const app = fastify();
  const answers = new Map<string, unknown>();
  app.post<{ Body: Parameters<typeof keyOf>[0] }>('/bare', (request) => answers.get(keyOf(request.body)));
  app.post<{ Body: { key: string; answer: unknown } }>('/bare/teach', async ({ body }) => {
    answers.set(body.key, body.answer);
    return {};
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  process.send?.((app.server.address() as AddressInfo).port);
  process.once('disconnect', () => process.exit());
}

function median(numbers: readonly number[]): number {
  return numbers.toSorted((a, b) => a - b)[Math.floor(numbers.length / 2)];
}
