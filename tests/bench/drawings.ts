import { Archive } from '../../src/archive.ts';
import { boardDrawing } from '../../src/drawings/boards.ts';
import { blockDiagram } from '../../src/drawings/diagram/diagram.ts';
import type { Drawing } from '../../src/drawings/shapes.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { thingId } from '../../src/model/ids.ts';
import { referenceDocuments } from '../reference-boards.ts';
import { documents } from '../seed/seed.ts';
import { documentOf } from '../service/serving.ts';
import { generateBoardCatalogue, generateBoards } from './generate-boards.ts';

// What drawings cost: boards and block diagrams of the demo archive, of three real devices and of a generated one of 400 components.
// Milliseconds by the clock, the first of a process apart, and bytes of the SVG.

const BY = { actor: 'bench', reason: 'benchmark' };
const archive = await Archive.open(new MemoryJournal());
await archive.importDocuments(
  [
    ...documents,
    ...referenceDocuments(),
    ...[generateBoardCatalogue(), generateBoards({ components: 400, seed: 1, id: 'bench-400' })].map(
      documentOf,
    ),
  ],
  BY,
);
const state = archive.state('desk');
const specimens = state.devices().flatMap(({ id }) => state.specimensOf(id).map((row) => row.id));

interface Measured {
  readonly id: string;
  readonly ms: number;
  readonly bytes: number;
}

async function measured(id: string, draw: () => Drawing | Promise<Drawing>): Promise<Measured> {
  const from = performance.now();
  const { svg } = await draw();
  return { id, ms: performance.now() - from, bytes: Buffer.byteLength(svg) };
}

function report(title: string, all: readonly Measured[]): void {
  const times = all.map(({ ms }) => ms).sort((a, b) => a - b);
  const at = (share: number) =>
    times[Math.min(times.length - 1, Math.floor(share * times.length))].toFixed(0);
  const bytes = all.map((one) => one.bytes).sort((a, b) => a - b);
  console.log(
    `${title}: ${all.length}; ms at the median ${at(0.5)}, 95th percentile ${at(0.95)}, most ${at(1)}; kB at the median ${(bytes[bytes.length >> 1] / 1000).toFixed(0)}, most ${((bytes.at(-1) ?? 0) / 1000).toFixed(0)}`,
  );
  const slowest = all.reduce((a, b) => (b.ms > a.ms ? b : a));
  console.log(`  slowest: ${slowest.id}, ${slowest.ms.toFixed(0)} ms`);
}

const isDrawable = (specimen: string, board: string) => {
  const opened = state.specimen(specimen);
  return (
    opened?.boards.get(board)?.outline !== undefined ||
    opened?.fitted.some((one) => one.board === board && one.at) === true
  );
};
const boards = specimens.flatMap((id) =>
  (state.specimen(id)?.dossier.boards ?? [])
    .filter((board) => isDrawable(id, board.id))
    .map((board) => thingId(id, board.id)),
);

const groups: readonly (readonly [string, (id: string) => boolean])[] = [
  ['400 components', (id) => id.startsWith('bench-')],
  ['real devices', (id) => id.startsWith('reference-')],
  ['demo', (id) => !/^(?:bench|reference)-/u.test(id)],
];
for (const [kind, draw, ids] of [
  ['boards', (id: string) => boardDrawing(state, id), boards],
  ['block diagrams', (id: string) => blockDiagram(state, id), specimens],
] as const) {
  const first = await measured(ids[0], () => draw(ids[0]));
  console.log(`first of ${kind} in a process: ${first.ms.toFixed(0)} ms`);
  for (const [title, isOf] of groups) {
    const all: Measured[] = [];
    for (const id of ids.filter(isOf)) all.push(await measured(id, () => draw(id)));
    report(`${kind}, ${title}`, all);
  }
}
