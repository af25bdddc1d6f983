// Entries a second that processes append to one PostgreSQL journal, on a server of its own that waits for the disk (fsync on).
//
//   node src/run.mjs --script tests/bench/postgres-appends.ts [SECONDS]
//
// Beside them stands what the disk allows: transactions a second of one connection that inserts a row and commits, in the same run.
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { Client } from 'pg';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { verify } from '../../src/journal/verify.ts';
import { numbered } from '../journal/changes.ts';
import { emptySchema, PostgresServer } from '../postgres/server.ts';

interface Way {
  readonly name: string;
  readonly writers: number;
  /** Changes that each append has. */
  readonly batch: number;
  /** Appends that each writer has under way at once. */
  readonly atOnce: number;
}

const WAYS: readonly Way[] = [
  { name: 'singly, one writer', writers: 1, batch: 1, atOnce: 1 },
  { name: 'singly, four writers', writers: 4, batch: 1, atOnce: 1 },
  { name: 'batches of 20, one writer', writers: 1, batch: 20, atOnce: 1 },
  { name: 'batches of 20, four writers', writers: 4, batch: 20, atOnce: 1 },
  { name: 'singly, 100 at once in one writer', writers: 1, batch: 1, atOnce: 100 },
  { name: 'singly, 25 at once in each of four', writers: 4, batch: 1, atOnce: 25 },
];
/** Turns of each way, in alternation, of which the median is told. */
const TURNS = 3;

if (process.argv[2] === '--write') await write();
else await main(Number(process.argv[2] ?? 3));

async function main(seconds: number): Promise<void> {
  const server = await PostgresServer.start({ fsync: true });
  try {
    const rates = new Map<string, number[]>();
    const note = (name: string, rate: number) => rates.set(name, [...(rates.get(name) ?? []), rate]);
    for (let turn = 0; turn < TURNS; turn++) {
      note('bare', await bareCommits(server.url(), seconds));
      for (const way of WAYS) note(way.name, await appended(server.url(), way, seconds));
    }
    const bare = median(rates.get('bare') ?? []);
    console.log(`one row a transaction on one connection: ${bare.toFixed(0)} a second\n`);
    console.log('entries a second                       median       range   of bare');
    for (const { name } of WAYS) {
      const all = rates.get(name) ?? [];
      const range = `${Math.min(...all).toFixed(0)}–${Math.max(...all).toFixed(0)}`;
      console.log(
        `${name.padEnd(36)} ${median(all).toFixed(0).padStart(8)} ${range.padStart(11)} ${(median(all) / bare).toFixed(2).padStart(9)}`,
      );
    }
  } finally {
    await server.remove();
  }
}

/** Entries a second of one way, in an empty journal, whose chain is checked behind. */
async function appended(url: string, { writers, batch, atOnce }: Way, seconds: number): Promise<number> {
  const schema = await emptySchema(url);
  const children = Array.from({ length: writers }, () =>
    fork(import.meta.filename, ['--write', schema.url, String(batch), String(atOnce)]),
  );
  try {
    await Promise.all(children.map((child) => once(child, 'message')));
    const start = performance.now();
    for (const child of children) child.send(seconds * 1_000);
    const counts = await Promise.all(children.map(async (child) => (await once(child, 'message'))[0]));
    const passed = (performance.now() - start) / 1_000;
    const total = counts.reduce((sum: number, count: number) => sum + count, 0);
    const journal = new PostgresJournal(schema.url);
    const checked = await verify(journal);
    await journal.close();
    if (!checked.intact || checked.entries < total)
      throw new Error(`${total} entries were acknowledged: ${JSON.stringify(checked)}`);
    return total / passed;
  } finally {
    for (const child of children) child.kill();
    await schema.drop();
  }
}

/** A writer: says when it is connected, is told for how long to write, and says how many entries it appended. */
async function write(): Promise<void> {
  const [, , , url, batch, atOnce] = process.argv;
  const journal = new PostgresJournal(url);
  const changes = numbered(Number(batch));
  await journal.head();
  process.send?.('ready');
  const [time] = (await once(process, 'message')) as [number];
  const end = performance.now() + time;
  let entries = 0;
  const one = async () => {
    while (performance.now() < end) {
      const { length } = await journal.append(changes);
      entries += length;
    }
  };
  await Promise.all(Array.from({ length: Number(atOnce) }, one));
  process.send?.(entries);
  await once(process, 'disconnect');
}

/** Transactions a second that insert a row as large as an entry. */
async function bareCommits(url: string, seconds: number): Promise<number> {
  const schema = await emptySchema(url);
  const client = new Client({ connectionString: schema.url });
  await client.connect();
  try {
    await client.query('CREATE TABLE bare (one bigint PRIMARY KEY, text text NOT NULL)');
    const text = 'x'.repeat(400);
    const start = performance.now();
    let rows = 0;
    while (performance.now() - start < seconds * 1_000)
      await client.query('INSERT INTO bare VALUES ($1, $2)', [++rows, text]);
    return rows / ((performance.now() - start) / 1_000);
  } finally {
    await client.end();
    await schema.drop();
  }
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}
