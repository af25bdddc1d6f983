// Figures of large boards with nets: two devices of 1,000 components aligned, the candidates of a chip, what-if and impact
// of the main chip in a process that keeps its indexes as a service does, structures over the three reference devices and eight generated ones, bounds of the distance of
// circuits. Nothing is written. Processor time tells more than the clock when others work too.
//
//   npm run bench:boards
import { cpus, loadavg } from 'node:os';
import { linearSumAssignment } from 'linear-sum-assignment';
import { Archive } from '../../src/archive.ts';
import { featuresOf } from '../../src/compare/align/features.ts';
import { AssignmentSolver, leastAssignment } from '../../src/compare/align/linear-assignment.ts';
import { pairCosts } from '../../src/compare/align/pair-costs.ts';
import { DEFAULT_WEIGHTS } from '../../src/compare/align/weights.ts';
import { alignColumns } from '../../src/compare/alignment.ts';
import { circuitDistance } from '../../src/compare/circuit-distance.ts';
import { type Compared, comparedOf } from '../../src/compare/representative.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { impactOf } from '../../src/evidence/impact-of.ts';
import { toTable } from '../../src/export/table.ts';
import { defaultPool } from '../../src/gql/gql.ts';
import { candidatesOf } from '../../src/identification/questions.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { type Dossier, specimenIdOf } from '../../src/model/dossier.ts';
import type { Connection } from '../../src/model/net.ts';
import { derivedNets } from '../../src/nets/nets.ts';
import { keepIndexed } from '../../src/questions/indexes.ts';
import type { State } from '../../src/state/state.ts';
import type { StructureQuestion } from '../../src/structures/answer.ts';
import { findStructures } from '../../src/structures/find-structures.ts';
import {
  REFERENCE_BOARDS,
  referenceCatalogue,
  referenceDeviceId,
  referenceDossier,
} from '../reference-boards.ts';
import { generateBoardCatalogue, generateBoards } from './generate-boards.ts';

const BY = { actor: 'bench', reason: 'large boards' };
const SIZES = [29, 48, 70, 101, 144, 190, 251, 326];
const rows: Record<string, string>[] = [];
await largeBoards();
await realAndDrawn();
process.stdout.write(
  `${toTable(rows)}\n${cpus().length} processors, ${cpus()[0]?.model}; on average ${loadavg()[0].toFixed(1)} programs wanted one over the last minute\n`,
);
await defaultPool().close();

/** The demo archive with three boards of 1,000 components, two of them with the same circuit and other parts. */
async function largeBoards(): Promise<void> {
  const dossiers = [
    generateBoards({ components: 1_000, seed: 3, id: 'large-a' }),
    generateBoards({ components: 1_000, seed: 3, id: 'large-b', generation: 1 }),
    generateBoards({ components: 1_000, seed: 4, id: 'large-c' }),
  ];
  const demo = readFiles([new URL('../../seed-data', import.meta.url).pathname]).documents;
  const archive = await opened([...demo, ...documentsOf(dossiers)]);
  const kept = keepIndexed(archive, ['desk'], (error) => {
    throw error;
  });
  await kept.first;
  kept.stop();
  const state = archive.state('desk');
  const [a, b, c] = ['large-a', 'large-b', 'large-c'].map((id) => comparedOf(state, id));
  await timed('two devices of 1,000 components aligned, other parts', 2_000, () =>
    alignColumns(state, [a, b]),
  );
  await timed('two devices of 1,000 components aligned, other circuits', 2_000, () =>
    alignColumns(state, [a, c]),
  );

  assignments(state, a, b);

  const chips = mainChips(dossiers[0]);
  await timed('candidates of a chip, the first asked for', 200, () => candidatesOf(state, chips[0].id));
  await medianOf('candidates of other chips', 200, chips.slice(1, 20), ({ id }) => candidatesOf(state, id));
  await timed('impact of the main chip, the first time', 200, () => impactOf(state, chips[0].id));
  await medianOf('impact of other chips, each the first time', 200, chips.slice(1, 20), ({ id }) =>
    impactOf(state, id),
  );
  const withdrawn = ({ observation }: Chip) => archive.whatIf(state, { withdraw: { observation } });
  await timed('what if the marking of the main chip is withdrawn, the first asked', 300, () =>
    withdrawn(chips[0]),
  );
  await medianOf('what if that of another chip', 300, chips.slice(1, 20), withdrawn);
  await archive.close();
}

/** The assignment alone, by the library that was used before and by what is used now: equal totals. */
function assignments(state: State, a: Compared, b: Compared): void {
  const [one, other] = [a, b].map(({ specimen }) => featuresOf(specimen, (part) => state.part(part)));
  const { unmatched } = DEFAULT_WEIGHTS;
  const gains = pairCosts(one, other, DEFAULT_WEIGHTS).costs.map((row) =>
    row.map((cost) => Math.min(0, cost - 2 * unmatched)),
  );
  const width = other.components.length;
  const before = cpuTime(() => linearSumAssignment([...gains], { maximaze: false }));
  const flat = Float64Array.from(gains.flatMap((row) => [...row]));
  const now = cpuTime(() => leastAssignment(flat, gains.length, width));
  const ties = Float64Array.from(flat, (_, at) => -((at * 7) % 5) / 5);
  const tiesBefore = cpuTime(() =>
    linearSumAssignment(
      gains.map((_, row) => ties.slice(row * width, (row + 1) * width)),
      { maximaze: false },
    ),
  );
  const solver = new AssignmentSolver(gains.length, width, { soonest: true });
  const tiesNow = cpuTime(() => solver.solve(ties, gains.length, width));
  compared('assignment of two such devices: the library before, now', before, now);
  compared('the same where most costs are equal, as in circuit distance', tiesBefore, tiesNow);
}

function cpuTime(work: () => unknown): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1_000;
}

function compared(figure: string, before: number, now: number): void {
  rows.push({
    figure,
    'clock ms': '',
    'processor ms': now.toFixed(1),
    'aim ms': '',
    answer: `before ${before.toFixed(1)} ms, ${(before / now).toFixed(1)} times as long`,
  });
}

interface Chip {
  readonly id: string;
  /** Id of the observation of its marking. */
  readonly observation: string;
}

/** Chips with a marking, those with most pins first. */
function mainChips(dossier: Dossier): readonly Chip[] {
  const specimen = specimenIdOf(dossier);
  const marked = new Map(dossier.observations.map(({ id, about }) => [about[0], id]));
  return [...dossier.components]
    .sort((a, b) => (b.pinout?.length ?? 0) - (a.pinout?.length ?? 0))
    .flatMap(({ id }) => {
      const observation = marked.get(id);
      return observation === undefined
        ? []
        : [{ id: `${specimen}/${id}`, observation: `${specimen}/${observation}` }];
    });
}

/** The three reference devices and eight generated ones. */
async function realAndDrawn(): Promise<void> {
  const real = REFERENCE_BOARDS.map(referenceDossier);
  const drawn = SIZES.map((components, at) => generateBoards({ components, seed: at + 1 }));
  const locate = () => ({ line: 1, column: 1 });
  const catalogue = {
    kind: 'catalogue',
    file: 'reference',
    locate,
    catalogue: referenceCatalogue(),
  } as const;
  const patterns = readFiles([new URL('../../seed-data/patterns', import.meta.url).pathname]).documents;
  const archive = await opened([...patterns, catalogue, ...documentsOf([...real, ...drawn])]);
  const state = archive.state('desk');
  await structures(state, 'structures of eleven devices', {});
  await structures(state, 'the same, passives too', { without: [] });
  await structures(state, 'the same, of up to five components', { maxSize: 5 });
  // As before there were nets: every net but ground as connections between each two of its members.
  const paired = await opened([
    ...patterns,
    catalogue,
    ...documentsOf([...real, ...drawn].map((dossier) => asPairs(dossier, state))),
  ]);
  await structures(paired.state('desk'), 'before nets: each net as pairs of its members', {
    relations: ['connects'],
  });
  await structures(paired.state('desk'), 'the same, passives too', { relations: ['connects'], without: [] });
  await paired.close();
  const ids = REFERENCE_BOARDS.map(referenceDeviceId);
  for (const [one, other] of [
    [0, 1],
    [0, 2],
    [1, 2],
  ] as const) {
    await timed(`distance of ${REFERENCE_BOARDS[one]} and ${REFERENCE_BOARDS[other]}`, 5_000, async () => {
      const { atLeast, atMost } = await circuitDistance(state, [ids[one], ids[other]]);
      return atLeast === atMost ? `${atMost}` : `${atLeast} to ${atMost}`;
    });
  }
  const [largest, next] = [7, 6].map((at) => `bench-${SIZES[at]}-${at + 1}`);
  await timed(`distance of drawn devices of 326 and 251 components`, 5_000, async () => {
    const { atLeast, atMost } = await circuitDistance(state, [largest, next]);
    return `${atLeast} to ${atMost}`;
  });
  await archive.close();
}

/** A dossier with connections in place of nets. */
function asPairs(dossier: Dossier, state: State): Dossier {
  const specimen = state.specimen(specimenIdOf(dossier));
  if (!specimen) return dossier;
  const { wiring } = derivedNets(specimen, (part) => state.part(part));
  const connections = wiring.conductors.flatMap(({ net, kind, bus, members }) => {
    if (!net || kind === 'ground') return [];
    const ids = [...new Set(members.map(({ role }) => role.id))];
    const carried = kind === 'power' ? 'power' : bus;
    return ids.flatMap((one, at) =>
      ids.slice(at + 1).map((other) => ({
        between: [one, other] as [string, string],
        medium: 'trace' as const,
        ...(carried ? { bus: carried as NonNullable<Connection['bus']> } : {}),
        basis: [],
      })),
    );
  });
  const { nets: _, ...rest } = dossier;
  return {
    ...rest,
    connections: [...dossier.connections.map(({ pins: __, ...one }) => one), ...connections],
  };
}

async function structures(state: State, figure: string, question: StructureQuestion): Promise<void> {
  let mined = 0;
  await timed(figure, 2_000, async () => {
    const before = performance.now();
    const { found, complete } = await findStructures(state, question, {
      budget: 60_000,
      onProgress: (_, doing) => {
        if (doing === 'searching') mined = performance.now() - before;
      },
    });
    return `${found} found, mined by ${mined.toFixed(0)} ms${complete ? '' : ', ended early'}`;
  });
}

async function opened(documents: readonly ReadDocument[]): Promise<Archive> {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(documents, BY);
  return archive;
}

function documentsOf(dossiers: readonly Dossier[]): readonly ReadDocument[] {
  const locate = () => ({ line: 1, column: 1 });
  return [
    { kind: 'catalogue', file: 'drawn', locate, catalogue: generateBoardCatalogue() },
    ...dossiers.map((dossier) => ({
      kind: 'dossier' as const,
      file: specimenIdOf(dossier),
      locate,
      dossier,
    })),
  ];
}

async function timed(figure: string, aim: number, work: () => unknown): Promise<void> {
  const cpu = process.cpuUsage();
  const clock = performance.now();
  let note: unknown;
  try {
    note = await work();
  } catch (thrown) {
    note = thrown instanceof Error ? thrown.message : thrown;
  }
  row(figure, aim, performance.now() - clock, cpu, note);
}

async function medianOf<T>(
  figure: string,
  aim: number,
  items: readonly T[],
  work: (item: T) => unknown,
): Promise<void> {
  const cpu = process.cpuUsage();
  const times: number[] = [];
  for (const item of items) {
    const clock = performance.now();
    await work(item);
    times.push(performance.now() - clock);
  }
  const { user, system } = process.cpuUsage(cpu);
  const median = times.sort((x, y) => x - y)[Math.floor(times.length / 2)];
  rows.push({
    figure: `${figure}, median of ${items.length}`,
    'clock ms': median.toFixed(1),
    'processor ms': ((user + system) / 1_000 / items.length).toFixed(1),
    'aim ms': String(aim),
    answer: '',
  });
}

function row(figure: string, aim: number, clock: number, before: NodeJS.CpuUsage, note: unknown): void {
  const { user, system } = process.cpuUsage(before);
  rows.push({
    figure,
    'clock ms': clock.toFixed(1),
    'processor ms': ((user + system) / 1_000).toFixed(1),
    'aim ms': String(aim),
    answer: typeof note === 'string' ? note : '',
  });
}
