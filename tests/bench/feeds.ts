// What feeds cost while they are asked again and again, and whether listeners miss a change.
//
//   npm run bench:feeds -- [--devices 10000] [--listeners 1000] [--entries 500]
//
// Times of an answer that is kept (200 and 304) are those of requests one after another over one connection on 127.0.0.1, by the
// clock and in processor time of this process, client included; beside them stands a route that answers a constant. Listeners are
// connections to one service in a process of their own clients' thread; each must end with the digest of the last answer, and all
// must have been told the same.
import { connect, type Socket } from 'node:net';
import { parseArgs } from 'node:util';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { COLLECTIONS, catalogueSchema } from '../../src/model/catalogue.ts';
import type { Change } from '../../src/model/entry.ts';
import { createService } from '../../src/service/create-service.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const { values } = parseArgs({
  options: {
    devices: { type: 'string', default: '10000' },
    listeners: { type: 'string', default: '1000' },
    entries: { type: 'string', default: '500' },
  },
});
const [devices, listeners, entries] = [values.devices, values.listeners, values.entries].map(Number);
const BY = { actor: 'bench', reason: 'benchmark' } as const;
const FEEDS = [
  {
    id: 'trend',
    title: 'Trend',
    question:
      '{ trend(of: { share: { category: "PressureSensor" } }) { total { periods { period n value interval { low high } } } } }',
  },
  {
    id: 'list',
    title: 'List',
    question: '{ devices(first: 100) { nodes { id name released maker { name } } } }',
  },
  { id: 'count', title: 'Count', question: '{ archive { devices } }' },
];

/** An archive of generated devices and the feeds, in memory. */
async function archive(): Promise<Archive> {
  const random = seededRandom(1);
  const catalogue = generateCatalogue(devices, random);
  const journal = new MemoryJournal();
  const { feeds } = catalogueSchema.parse({ caseback: 'catalogue/1', feeds: FEEDS });
  await journal.append(
    COLLECTIONS.flatMap((collection) =>
      [...catalogue[collection], ...(collection === 'feeds' ? feeds : [])].map(
        (record) => ({ ...BY, kind: 'record-put', payload: { collection, record } }) as Change,
      ),
    ),
  );
  const batch: Change[] = [];
  for (const dossier of generateDossiers(devices, catalogue, random)) {
    batch.push({ ...BY, kind: 'dossier-put', payload: dossier });
    if (batch.length === 500) await journal.append(batch.splice(0));
  }
  await journal.append(batch);
  return Archive.open(journal);
}

const median = (times: readonly number[]) => times.toSorted((a, b) => a - b)[times.length >> 1];

const opened = await archive();
const app = createService({
  archive: opened,
  limits: {
    connections: 2 * listeners + 100,
    connectionsEach: 2 * listeners + 100,
    // The first trend reads every dossier, which takes long on a busy machine.
    time: 3_600_000,
  },
});
app.get('/constant', () => ({ constant: true }));
const origin = await app.listen({ port: 0, host: '127.0.0.1' });
const port = Number(new URL(origin).port);

/** Times of so many requests one after another, ms: at the median by the clock, and of the processor each. */
async function times(path: string, headers: Record<string, string>, status: number) {
  const clock: number[] = [];
  const before = process.cpuUsage();
  const COUNT = 500;
  for (let i = 0; i < COUNT; i++) {
    const start = performance.now();
    const response = await fetch(`${origin}${path}`, { headers });
    await response.arrayBuffer();
    clock.push(performance.now() - start);
    if (response.status !== status) throw new Error(`${path}: ${response.status}`);
  }
  const { user, system } = process.cpuUsage(before);
  return `${median(clock).toFixed(2)} ms by the clock, ${((user + system) / 1_000 / COUNT).toFixed(2)} ms of processor time`;
}

console.log(`${devices} devices; medians of 500 requests, client included`);
for (const { id } of FEEDS) {
  const path = `/feeds/${id}.json`;
  const start = performance.now();
  const first = await fetch(`${origin}${path}`);
  const bytes = (await first.arrayBuffer()).byteLength;
  if (first.status !== 200) throw new Error(`${path}: ${first.status}`);
  console.log(`${id}, ${bytes} bytes: asked anew ${(performance.now() - start).toFixed(0)} ms`);
  console.log(`  kept: ${await times(path, {}, 200)}`);
  console.log(`  304:  ${await times(path, { 'if-none-match': String(first.headers.get('etag')) }, 304)}`);
}
console.log(`a constant: ${await times('/constant', {}, 200)}`);

/** What one connection was told, as text. */
const streams: { readonly socket: Socket; text: string }[] = [];
const heard = async () => {
  for (let i = 0; i < listeners; i++) {
    const stream = { socket: connect(port, '127.0.0.1'), text: '' };
    streams.push(stream);
    stream.socket.setEncoding('utf8').on('data', (chunk: string) => {
      stream.text += chunk;
    });
    stream.socket.write('GET /feeds/count/events HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n');
    // So many at once would wait in the queue of the system.
    if (i % 50 === 49) await new Promise((resolve) => setTimeout(resolve, 20));
  }
  while (streams.some(({ text }) => !text.includes('id: ')))
    await new Promise((resolve) => setTimeout(resolve, 50));
};
await heard();
const cpu = process.cpuUsage();
const began = performance.now();
const maker = opened.state('desk').facts.devices.values().next().value?.device.maker as string;
for (let i = 0; i < entries; i++) {
  const device = {
    id: `added-${i}`,
    name: `Added ${i}`,
    maker,
    released: '2020',
    bodySite: 'wrist',
    visibility: 'published',
  };
  const catalogue = catalogueSchema.parse({ caseback: 'catalogue/1', devices: [device] });
  const locate = () => ({ line: 1, column: 1 });
  await opened.importDocuments([{ kind: 'catalogue', file: 'added', locate, catalogue }], BY);
}
const last = String((await fetch(`${origin}/feeds/count.json`)).headers.get('etag')).replaceAll('"', '');
const deadline = performance.now() + 60_000;
while (streams.some(({ text }) => !text.includes(`id: ${last}\n`)) && performance.now() < deadline)
  await new Promise((resolve) => setTimeout(resolve, 10));
const idsOf = (text: string) => [...text.matchAll(/^id: (.*)$/gmu)].map(([, id]) => id);
const ended = streams.filter(({ text }) => idsOf(text).at(-1) === last).length;
const repeats = streams.filter(({ text }) => idsOf(text).some((id, i, all) => id === all[i - 1])).length;
const { user, system } = process.cpuUsage(cpu);
console.log(
  `${listeners} listeners, ${entries} entries: ${ended} ended with the last answer, ${repeats} were told one twice, ${Math.min(...streams.map(({ text }) => idsOf(text).length - 1))} to ${Math.max(...streams.map(({ text }) => idsOf(text).length - 1))} events each; ${((performance.now() - began) / 1_000).toFixed(1)} s by the clock, ${((user + system) / 1e6).toFixed(1)} s of processor time`,
);
for (const { socket } of streams) socket.destroy();
await app.close();
await opened.close();
if (ended < listeners || repeats > 0) process.exitCode = 1;
