import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import * as blocks from './boards/blocks.ts';
import { Circuit } from './boards/circuit.ts';
import { CHIPS, KINDS, MAKER, partNumber } from './boards/kinds.ts';
import { seededRandom } from './generate.ts';

export { generateBoardCatalogue } from './boards/kinds.ts';

// Devices with nets, of any size, invented throughout: the same seed gives the same device. A device is put together from
// blocks as an engineer would draw them: a chip with its decoupling capacitors, bus lines, series and pull-up resistors.
// Shares follow the three reference boards (tests/reference/boards): three in five components are passives, the longest rail
// reaches a fifth of all, two in three signal nets join two components, four in five capacitors stand between a supply and
// ground; `generate-boards.test.ts` holds it to that. It knows nothing of what is derived from nets.

export interface BoardOptions {
  readonly components: number;
  readonly seed: number;
  /** Id of the device. @default made from components and seed */
  readonly id?: string;
  readonly released?: string;
  /** Parts of this generation of a line; other numbers choose other chips for the same circuit. @default 0 */
  readonly generation?: number;
}

/** One device of so many components on one to four boards, fully inventoried, with all nets known. */
export function generateBoards(options: BoardOptions): Dossier {
  return written(options, drawn(options));
}

/** Blocks of a circuit beside supply and controller, and how often each is drawn. */
const DRAWN = [
  [blocks.sensor, 8],
  [blocks.lamp, 4],
  [blocks.stage, 5],
  [blocks.filter, 5],
  [blocks.regulator, 2],
  [blocks.memory, 1],
  [blocks.pulse, 3],
  [blocks.key, 2],
  [blocks.switched, 1],
  [blocks.shifted, 1],
  [blocks.transmitter, 1],
  [blocks.shaker, 1],
  [blocks.expanded, 1],
  [blocks.tested, 5],
] as const;
const ALL = DRAWN.flatMap(([block, weight]) => Array.from({ length: weight }, () => block));
const SMALL = [blocks.lamp, blocks.filter, blocks.key];

function drawn({ components, seed }: BoardOptions): Circuit {
  const boards = components < 90 ? 1 : components < 250 ? 2 : components < 500 ? 3 : 4;
  const circuit = new Circuit(
    ['main', 'sense', 'upper', 'side'].slice(0, boards),
    seededRandom(seed * 7_919 + components),
  );
  blocks.supply(circuit, components < 60);
  circuit.controls();
  // Room for the largest block, with another controller where lines may run out; connectors between boards come last.
  const room = components < 150 ? 14 : 30;
  const whole = components - 2 * (boards - 1);
  while (circuit.placed.length < whole - room) circuit.one(ALL)(circuit);
  while (circuit.placed.length < whole - 5 && (circuit.controller?.free ?? 0) > 1)
    circuit.one(SMALL)(circuit);
  circuit.connectors();
  while (circuit.placed.length < components) {
    const rail = circuit.one(circuit.rails);
    if (circuit.random() < 0.6) circuit.decouple(circuit.one(circuit.boards), rail, 1);
    else circuit.place('pad', 'main', { '1': rail });
  }
  return circuit;
}

function written(options: BoardOptions, circuit: Circuit): Dossier {
  const { components, seed, id = `bench-${components}-${seed}`, released = '2024', generation = 0 } = options;
  const parts = seededRandom(seed * 31 + generation * 1_009 + 5);
  const counts = new Map<string, number>();
  for (const { id: own } of circuit.placed) counts.set(own, (counts.get(own) ?? 0) + 1);
  /** As a record has it: with the board where several boards have the designator. */
  const recorded = (board: string, own: string) =>
    (counts.get(own) as number) > 1 ? `${board}:${own}` : own;
  const cells = cellsOf(circuit);
  const chosen = circuit.placed.map(({ kind }) => Math.floor(parts() * KINDS[kind].chips));
  const chips = [...circuit.placed.keys()].filter((at) => KINDS[circuit.placed[at].kind].chips > 0);
  const markings = new Map(
    chips
      .filter((at) => KINDS[circuit.placed[at].kind].pins > 3)
      .map((at) => [at, `${partNumber(circuit.placed[at].kind, chosen[at])}${10 + (at % 90)}`]),
  );
  return dossierSchema.parse({
    caseback: 'dossier/1',
    device: {
      id,
      name: `Bench ${components} of seed ${seed}`,
      maker: MAKER,
      released,
      bodySite: 'wrist',
      invented: true,
    },
    specimen: { id: 'a' },
    teardown: { on: '2026-01', by: 'generator' },
    boards: circuit.boards.map((board) => ({
      id: board,
      kind: 'rigid',
      outline: cells.size(board),
      fullyInventoried: true,
    })),
    components: circuit.placed.map((one, at) => {
      const { body, package: pack, terms, chips: numbers } = KINDS[one.kind];
      return {
        id: recorded(one.board, one.id),
        printed: true,
        board: one.board,
        side: 'top',
        at: cells.next(one.board),
        rotation: 90 * Math.floor(parts() * 4),
        body: { length: Math.max(...body), width: Math.min(...body) },
        package: pack,
        pins: Math.max(KINDS[one.kind].pins, one.pinout.length),
        pinout: one.pinout.map(({ number, name }) => (number === name ? { number } : { number, name })),
        value: one.value,
        marking: markings.get(at),
        reading: markings.has(at) ? 0.95 : undefined,
        appears: numbers === 0 ? terms[0] : undefined,
      };
    }),
    connections: circuit.mates.map(({ between, lines, pins }) => ({
      between: between.map((end) => recorded(...(end.split(':') as [string, string]))),
      medium: 'contact',
      lines,
      pins,
    })),
    nets: [...circuit.nets.values()].map(({ board, label, kind, voltage, bus, pins }) => ({
      id: `${board}-${label.toLowerCase().replaceAll(/[^a-z0-9]+/gu, '-')}`,
      label,
      kind,
      ...(voltage === undefined ? {} : { voltage: `${voltage} V` }),
      ...(bus === undefined ? {} : { bus }),
      pins: pins.map((pin) => {
        const [own, number] = pin.slice(board.length + 1).split('.');
        return `${recorded(board, own)}.${number}`;
      }),
      complete: true,
    })),
    observations: [...markings].map(([at, marking]) => ({
      id: `o${at + 1}`,
      about: [recorded(circuit.placed[at].board, circuit.placed[at].id)],
      kind: 'marking',
      marking,
    })),
    identifications: chips.map((at) => ({
      component: recorded(circuit.placed[at].board, circuit.placed[at].id),
      candidates: [
        {
          part: `${CHIPS}/${partNumber(circuit.placed[at].kind, chosen[at])}`,
          probability: parts() < 0.9 ? 0.97 : 0.8,
        },
      ],
      state: 'favoured',
      basis: markings.has(at) ? [`o${at + 1}`] : [],
    })),
  });
}

/** Places on a grid, in an order drawn for each board. */
function cellsOf({ boards, placed, random }: Circuit) {
  const pitch = 2.5;
  const grids = new Map(
    boards.map((board) => {
      const count = placed.filter((one) => one.board === board).length;
      const across = Math.max(1, Math.ceil(Math.sqrt(count)));
      const order = Array.from({ length: across * across }, (_, at) => at);
      for (let at = order.length - 1; at > 0; at--) {
        const other = Math.floor(random() * (at + 1));
        [order[at], order[other]] = [order[other], order[at]];
      }
      return [board, { across, order, next: 0 }] as const;
    }),
  );
  return {
    size: (board: string) => {
      const side = Math.round((grids.get(board)?.across ?? 1) * pitch + 2);
      return { length: side, width: side };
    },
    next: (board: string) => {
      const grid = grids.get(board) as { across: number; order: number[]; next: number };
      const cell = grid.order[grid.next++];
      return {
        x: 1 + pitch * ((cell % grid.across) + 0.5),
        y: 1 + pitch * (Math.floor(cell / grid.across) + 0.5),
      };
    },
  };
}
