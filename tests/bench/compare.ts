// Figures of comparison: aligning two devices of 60 components, similarity and clusters over an archive, the exact edit
// distance of small circuits. Nothing is written.
//
//   npm run bench:compare [-- DEVICES]        (default: 1000)
//
// Archives are invented; times are those of this process on the processor (user and system) and on the clock, medians
// where a figure says so.
import { Archive } from '../../src/archive.ts';
import { featuresOf } from '../../src/compare/align/features.ts';
import { alignColumns } from '../../src/compare/alignment.ts';
import { clusterDevices } from '../../src/compare/clusters.ts';
import { tableOf } from '../../src/compare/comparison-table.ts';
import { comparedOf } from '../../src/compare/representative.ts';
import { editDistance } from '../../src/compare/similar/edit-distance.ts';
import { labelledGraph } from '../../src/compare/similar/labelled-graph.ts';
import { similarDevices } from '../../src/compare/similarity.ts';
import { toTable } from '../../src/export/table.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { State } from '../../src/state/state.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const ROUNDS = 60;
const COMPONENTS = 60;
const DEVICES = Number(process.argv[2] ?? 1_000);
const rows: Record<string, string>[] = [];
const view = await generated(DEVICES);
await alignments(view);
await likeness(view);
await distances();
process.stdout.write(toTable(rows));

async function generated(devices: number): Promise<State> {
  const random = seededRandom(7);
  const archive = await Archive.open(new MemoryJournal());
  const catalogue = generateCatalogue(devices, random);
  const read = { file: 'generated', locate: () => ({ line: 1, column: 1 }) };
  const dossiers = [...generateDossiers(devices, catalogue, random)];
  await archive.importDocuments(
    [
      { ...read, kind: 'catalogue', catalogue },
      ...dossiers.map((dossier) => ({ ...read, kind: 'dossier' as const, dossier })),
    ],
    { actor: 'bench', reason: 'figures' },
  );
  return archive.state('desk');
}

async function alignments(all: State): Promise<void> {
  const large: string[] = [];
  for (const { id } of all.devices()) {
    if (all.specimen(`${id}/a`)?.components.size === COMPONENTS) large.push(id);
    if (large.length === 2) break;
  }
  const pair = large.map((id) => comparedOf(all, id));
  if (pair.length < 2) throw new Error(`no two devices of ${COMPONENTS} components were generated`);
  await medianOf(`two devices of ${COMPONENTS} components aligned, median of ${ROUNDS}`, '5', () =>
    alignColumns(all, pair),
  );
  // As when the specimens were unpacked a moment ago: what is known of each component is worked out again.
  await medianOf('the same, features worked out anew', '', () => {
    const fresh = pair.map((one) => ({ ...one, specimen: { ...one.specimen } }));
    for (const { specimen } of fresh) featuresOf(specimen, () => undefined);
    return alignColumns(all, fresh);
  });
  const counted = {
    sections: ['device', 'sensors', 'processors', 'power', 'battery', 'boards', 'makers', 'reuse'],
  };
  await medianOf('their figures, decisions left out', '', () => tableOf(all, pair, counted));
  const ten = [...all.devices()].slice(0, 10).map(({ id }) => comparedOf(all, id));
  await once('ten devices in one table', '', () => alignColumns(all, ten));
}

async function likeness(all: State): Promise<void> {
  const [first] = all.devices();
  const size = [...all.devices()].length;
  await once(`nearest of ${size} devices, first time`, '', () => similarDevices(all, first.id));
  await medianOf(`nearest of ${size} devices, again`, '', () => similarDevices(all, first.id));
  await once(`clusters of ${size} devices`, '', () => clusterDevices(all));
}

/** Random graphs of 8, 10 and 12 nodes, three kinds of label, half as many edges again as nodes. */
async function distances(): Promise<void> {
  const random = seededRandom(11);
  const below = (limit: number) => Math.floor(random() * limit);
  for (const size of [8, 10, 12]) {
    const graph = () =>
      labelledGraph(
        Array.from({ length: size }, () => 'abc'[below(3)]),
        Array.from({ length: (3 * size) / 2 }, () => [below(size), below(size)] as const),
      );
    const pairs = Array.from({ length: 10 }, () => [graph(), graph()] as const);
    let at = 0;
    await medianOf(
      `exact edit distance, ${size} nodes each, median of 10`,
      '',
      () => editDistance(...pairs[at++]),
      10,
      0,
    );
  }
}

async function medianOf(
  figure: string,
  aim: string,
  work: () => unknown,
  rounds = ROUNDS,
  warm = 10,
): Promise<void> {
  for (let round = 0; round < warm; round++) await work();
  const times: { clock: number; cpu: number }[] = [];
  for (let round = 0; round < rounds; round++) times.push(await timed(work));
  const median = (of: (one: (typeof times)[number]) => number) =>
    times.map(of).sort((a, b) => a - b)[Math.floor(rounds / 2)];
  row(figure, { cpu: median(({ cpu }) => cpu), clock: median(({ clock }) => clock) }, aim);
}

async function once(figure: string, aim: string, work: () => unknown): Promise<void> {
  row(figure, await timed(work), aim);
}

async function timed(work: () => unknown): Promise<{ clock: number; cpu: number }> {
  const cpu = process.cpuUsage();
  const clock = performance.now();
  await work();
  const { user, system } = process.cpuUsage(cpu);
  return { clock: performance.now() - clock, cpu: (user + system) / 1_000 };
}

function row(figure: string, { cpu, clock }: { clock: number; cpu: number }, aim: string): void {
  rows.push({ figure, 'processor ms': cpu.toFixed(2), 'clock ms': clock.toFixed(2), aim });
}
