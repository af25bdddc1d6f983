// What every named pattern of the library costs over generated archives of several sizes, when first asked, and how
// that grows. Processor time, all threads together, which tells more than the clock when others work too:
//   count     the number of matches (which the service does not ask for)
//   search    the engine's part of an answer by device: matches up to the service's caps, with their circumstances
//   answer    the whole answer, with the probabilities over worlds, as the service gives it
// A pattern of 4 times the devices at more than 4 times the cost (growth above 1) is marked.
//
//   BENCH_DEVICES=250,1000,4000 BENCH_PATTERNS=flex BENCH_COUNT=no node src/run.mjs --script tests/bench/library.ts
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { toTable } from '../../src/export/table.ts';
import { countPattern, defaultPool, matchBySegment } from '../../src/gql/gql.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { engineQuestion, findPattern } from '../../src/patterns/find.ts';
import { generatedArchive } from './generated-archive.ts';

const SIZES = (process.env.BENCH_DEVICES ?? '250,1000,4000').split(',').map(Number);
const WANTED = new RegExp(process.env.BENCH_PATTERNS ?? '', 'u');
const COUNTS = process.env.BENCH_COUNT !== 'no';
/** Below this many milliseconds a cost says nothing about growth. */
const LITTLE = 20;
/** Growth that is marked: measured times vary. */
const MARKED = 1.25;
/** For what the service would stop: it is the whole cost that grows. Answers keep the service's own budget. */
const LONG = { time: 60_000 };

interface Costs {
  readonly count: number;
  readonly search: number;
  readonly answer: number;
  readonly devices: number;
  readonly complete: boolean;
}

const demo = await Archive.open(new MemoryJournal());
await demo.importDocuments(readFiles(['seed-data']).documents, { actor: 'bench', reason: 'benchmark' });
const patterns = [...demo.state('desk').patterns()]
  .filter(({ id }) => WANTED.test(id))
  .sort((a, b) => (a.id < b.id ? -1 : 1));

const bySize: ReadonlyMap<string, Costs>[] = [];
for (const size of SIZES) bySize.push(await costsAt(size));
const rows = patterns.map(({ id }) => {
  const costs = bySize.map((bySize) => bySize.get(id)!);
  const last = costs.at(-1)!;
  const columns = (['count', 'search', 'answer'] as const)
    .filter((what) => COUNTS || what !== 'count')
    .flatMap((what) => [
      ...costs.map((one, i) => [`${what} ${SIZES[i]}`, one[what].toFixed(0)]),
      [`growth of ${what}`, growth(costs.map((one) => one[what]))],
    ]);
  return {
    pattern: id,
    devices: String(last.devices),
    complete: String(costs.every(({ complete }) => complete)),
    ...Object.fromEntries(columns),
  };
});
process.stdout.write(toTable(rows));
const sums = bySize.map((costs, i) => {
  const sum = [...costs.values()].reduce((total, { answer }) => total + answer, 0);
  return `${SIZES[i]} devices ${sum.toFixed(0)}`;
});
process.stdout.write(`all answers, processor ms: ${sums.join(', ')}\n`);
await defaultPool().close();

/** Exponent by which the cost grows between the smallest and the largest archive: 1 for linear, 2 for quadratic. */
function growth(costs: readonly number[]): string {
  const first = Math.max(LITTLE, costs[0]!);
  const last = Math.max(LITTLE, costs.at(-1)!);
  if (SIZES.length < 2 || last === LITTLE) return '';
  const exponent = Math.log(last / first) / Math.log(SIZES.at(-1)! / SIZES[0]!);
  return `${exponent.toFixed(2)}${exponent > MARKED ? ' !' : ''}`;
}

async function costsAt(devices: number): Promise<ReadonlyMap<string, Costs>> {
  const holder = generatedArchive(devices);
  const view = holder.state('desk', new Date().toISOString());
  // Builds the index.
  await findPattern(view, { text: 'MATCH (x:Microphone) RETURN x' });
  const costs = new Map<string, Costs>();
  for (const { id, text, scope } of patterns) {
    let complete = true;
    const answer = await processorTime(async () => {
      const found = await findPattern(view, { text, scope });
      complete &&= found.complete;
      return found.devices.length;
    });
    // With a comment, so that code and plan are made again.
    const search = await processorTime(async () => {
      const { graph, pattern, options } = await engineQuestion(view, { text: `${text} // again`, scope });
      for await (const _ of matchBySegment(graph, pattern, { ...options, budgets: LONG }));
    });
    const count = COUNTS
      ? await processorTime(async () => {
          const { graph, pattern, options } = await engineQuestion(view, { text: `${text} // count`, scope });
          complete &&= (await countPattern(graph, pattern, { ...options, budgets: LONG })).complete;
        })
      : { ms: 0 };
    costs.set(id, {
      count: count.ms,
      search: search.ms,
      answer: answer.ms,
      devices: answer.result,
      complete,
    });
  }
  holder.close();
  return costs;
}

async function processorTime<T>(work: () => Promise<T>): Promise<{ ms: number; result: T }> {
  const used = process.cpuUsage();
  const result = await work();
  const { user, system } = process.cpuUsage(used);
  return { ms: (user + system) / 1000, result };
}
