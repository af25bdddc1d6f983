// Requests a second of one-device queries beside a bare Fastify route that answers the same JSON, in one run.
//
//   node src/run.mjs --script tests/bench/service.ts [DEVICES] [SECONDS]
//
// The server runs in a process of its own; both routes are asked by the same client, one after the other.
import { fork } from 'node:child_process';
import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import autocannon from 'autocannon';
import fastify from 'fastify';
import { createService } from '../../src/service/create-service.ts';
import { importedArchive, send } from './asking.ts';

const QUERIES = {
  'names and boards': `query ($id: ID!) {
    device(id: $id) { id name released bodySite maker { name } productLine { name } boards { id kind } }
  }`,
  'with counts': `query ($id: ID!) {
    device(id: $id) { id name released maker { name } kindCounts { kind certain expected } subsystemCounts { kind components } }
  }`,
  'with all components': `query ($id: ID!) {
    device(id: $id) {
      id name released maker { name } boards { id kind }
      components(first: 100) {
        totalCount
        nodes {
          id designator side marking category { term probability }
          identification { state candidates { partId probability } }
        }
      }
    }
  }`,
} as const;
/** Devices asked for in turn; more than this stay warm. */
const ASKED = 50;
const CONNECTIONS = 20;
const WARM_UP = 2;
const TURNS = 9;

if (process.argv[2] === '--serve') await serve(Number(process.argv[3]));
else await main(Number(process.argv[2] ?? 1_000), Number(process.argv[3] ?? 1));

interface Started {
  readonly service: string;
  readonly bare: string;
  readonly ids: readonly string[];
}

/** Requests a second, and processor time of the server a request, µs. */
interface Measure {
  readonly rate: number;
  readonly cpu: number;
}

interface Turn {
  readonly bare: Measure;
  readonly ours: Measure;
}

async function main(devices: number, seconds: number): Promise<void> {
  const child = fork(import.meta.filename, ['--serve', String(devices)]);
  const [{ service, bare, ids }] = (await once(child, 'message')) as [Started];
  const cpu = async () => {
    child.send('cpu');
    return (await once(child, 'message'))[0] as number;
  };
  const measured = async (work: () => ReturnType<typeof load>): Promise<Measure> => {
    const before = await cpu();
    const { requests } = await work();
    return { rate: requests.average, cpu: ((await cpu()) - before) / requests.total };
  };
  console.log(
    `${devices} devices; ${CONNECTIONS} connections, ${TURNS} turns of ${seconds} s each, ${ASKED} devices in turn\n`,
  );
  console.log(
    'query                 bytes   bare/s  service/s  ratio      range  bare µs  ours µs  ratio   (µs: processor time; aim: ratio 0.5 or more)',
  );
  for (const [name, query] of Object.entries(QUERIES)) {
    const bodies = ids.map((id) => JSON.stringify({ query, variables: { id } }));
    const bytes = (await ask(`${service}/graphql`, bodies[0])).length;
    // The bare route is taught the same answers first; it looks each up by its device and serialises it.
    for (const body of bodies) await ask(`${bare}/teach`, body);
    await load(service, '/graphql', bodies, WARM_UP);
    await load(bare, '/bare', bodies, WARM_UP);
    // In short turns, so that whatever else the machine does meets both alike.
    const turns: Turn[] = [];
    for (let i = 0; i < TURNS; i++) {
      const theirs = await measured(() => load(bare, '/bare', bodies, seconds));
      const ours = await measured(() => load(service, '/graphql', bodies, seconds));
      turns.push({ bare: theirs, ours });
    }
    const ratios = turns.map((turn) => turn.ours.rate / turn.bare.rate);
    const work = turns.map((turn) => turn.bare.cpu / turn.ours.cpu);
    console.log(
      [
        name.padEnd(20),
        String(bytes).padStart(6),
        median(turns.map((turn) => turn.bare.rate))
          .toFixed(0)
          .padStart(8),
        median(turns.map((turn) => turn.ours.rate))
          .toFixed(0)
          .padStart(10),
        median(ratios).toFixed(2).padStart(6),
        `${Math.min(...ratios).toFixed(2)}–${Math.max(...ratios).toFixed(2)}`.padStart(10),
        median(turns.map((turn) => turn.bare.cpu))
          .toFixed(0)
          .padStart(8),
        median(turns.map((turn) => turn.ours.cpu))
          .toFixed(0)
          .padStart(8),
        median(work).toFixed(2).padStart(6),
      ].join(' '),
    );
  }
  child.kill();
}

function median(values: readonly number[]): number {
  return values.toSorted((x, y) => x - y)[Math.floor(values.length / 2)];
}

async function load(url: string, path: string, bodies: readonly string[], seconds: number) {
  const result = await autocannon({
    url,
    connections: CONNECTIONS,
    duration: seconds,
    requests: bodies.map((body) => ({
      method: 'POST',
      path,
      headers: { 'content-type': 'application/json' },
      body,
    })),
  });
  if (result.non2xx + result.errors > 0)
    throw new Error(`${path}: ${result.non2xx + result.errors} failures`);
  return result;
}

async function ask(address: string, body: string): Promise<string> {
  const { port, pathname } = new URL(address);
  const headers = { 'content-type': 'application/json' };
  const { status, text } = await send(Number(port), {
    name: '',
    method: 'POST',
    url: pathname,
    headers,
    body,
  });
  if (status !== '200' || text.includes('"errors"')) throw new Error(`${status} ${text}`);
  return text;
}

async function serve(devices: number): Promise<void> {
  const archive = await importedArchive(devices);
  const service = createService({ archive });
  const bare = fastify();
  const answers = new Map<string, unknown>();
  bare.post<{ Body: { variables: { id: string } } }>('/bare', (request) =>
    answers.get(request.body.variables.id),
  );
  bare.post<{ Body: { variables: { id: string } } }>('/teach', async (request) => {
    const answer = await service.inject({ method: 'POST', url: '/graphql', payload: request.body });
    answers.set(request.body.variables.id, answer.json());
    return {};
  });
  await service.listen({ host: '127.0.0.1', port: 0 });
  await bare.listen({ host: '127.0.0.1', port: 0 });
  const at = (app: typeof bare) => `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;
  const ids = [...archive.state('reader').devices()].slice(0, ASKED).map(({ id }) => id);
  process.send?.({ service: at(service as typeof bare), bare: at(bare), ids } satisfies Started);
  process.on('message', () => {
    const { user, system } = process.cpuUsage();
    process.send?.(user + system);
  });
}
