/**
 * The generated archive as flat typed arrays, made from the input and not from the engine's store: the ground that
 * the hand-written loops and the SQL tables stand on.
 */
import type { LabelInput } from '../../src/gql/gql.ts';
import { device, HIERARCHY, knowledge, MAKER_COUNT, PART_COUNT } from './match-archive.ts';

export const LEAVES = Object.keys(HIERARCHY);
/** Number of a label in `LEAVES`. */
export const KIND = Object.fromEntries(LEAVES.map((label, i) => [label, i])) as Readonly<
  Record<string, number>
>;
export const MEDIA = ['trace', 'flex', 'wire', 'contact', 'rf-feed'];
/** Bus 0 is none. */
export const BUSES = ['', 'i2c', 'spi', 'uart', 'analogue', 'power'];

export interface Tables {
  /** Per component: leaf label, its parent (or itself), board, part (-1 when none), place in mm, side (1 is top). */
  readonly kind: Uint8Array;
  readonly parent: Uint8Array;
  /** Per component: 1 when its label is certain. */
  readonly certain: Uint8Array;
  readonly board: Int32Array;
  readonly part: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly top: Uint8Array;
  /** Connections, both ways round: those of component c are `from[c] .. from[c + 1]`. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly medium: Uint8Array;
  readonly bus: Uint8Array;
  /** Components of board b: `onStart[b] .. onStart[b + 1]` of `on`. */
  readonly onStart: Int32Array;
  readonly on: Int32Array;
  /** Per board its device; boards of device d: `boardStart[d] .. boardStart[d + 1]`. */
  readonly deviceOf: Int32Array;
  readonly boardStart: Int32Array;
  readonly deviceMaker: Int32Array;
  readonly partMaker: Int32Array;
  /** Components identified as part p. */
  readonly usedStart: Int32Array;
  readonly used: Int32Array;
  readonly components: number;
  readonly boards: number;
  readonly devices: number;
  readonly parts: number;
}

export function tables(devices: number): Tables {
  const kind: number[] = [];
  const certain: number[] = [];
  const board: number[] = [];
  const part: number[] = [];
  const x: number[] = [];
  const y: number[] = [];
  const top: number[] = [];
  const links: [number, number, number, number][] = [];
  const deviceOf: number[] = [];
  const boardStart: number[] = [0];
  const deviceMaker: number[] = [];
  for (let d = 0; d < devices; d++) {
    const { nodes, edges } = device(d);
    const place = new Map<string, number>();
    for (const { id, labels, properties } of nodes) {
      const [first] = labels as readonly LabelInput[];
      const label = typeof first === 'string' ? first : first!.label;
      if (label === 'Device') continue;
      if (label === 'Board') {
        place.set(id, deviceOf.length);
        deviceOf.push(d);
        continue;
      }
      place.set(id, kind.length);
      kind.push(KIND[label]!);
      certain.push(typeof first === 'string' ? 1 : 0);
      board.push(-1);
      part.push(-1);
      x.push(properties!.x as number);
      y.push(properties!.y as number);
      top.push(properties!.side === 'top' ? 1 : 0);
    }
    boardStart.push(deviceOf.length);
    for (const edge of edges!) {
      const source = place.get(edge.source)!;
      const number = Number(edge.target.slice(edge.target.indexOf('/') + 1));
      if (edge.label === 'ON') board[source] = place.get(edge.target)!;
      else if (edge.label === 'IDENTIFIED_AS') part[source] = number;
      else if (edge.label === 'MADE_BY') deviceMaker.push(number);
      else if (edge.label === 'CONNECTS') {
        const target = place.get(edge.target)!;
        const medium = MEDIA.indexOf(edge.properties!.medium as string);
        const bus = BUSES.indexOf((edge.properties!.bus as string | undefined) ?? '');
        links.push([source, target, medium, bus], [target, source, medium, bus]);
      }
    }
  }
  const components = kind.length;
  links.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const partMaker = new Int32Array(PART_COUNT);
  for (const { source, target } of knowledge().edges!)
    partMaker[Number(source.slice(5))] = Number(target.slice(6));
  const on = grouped(board, deviceOf.length);
  const used = grouped(part, PART_COUNT);
  return {
    kind: Uint8Array.from(kind),
    certain: Uint8Array.from(certain),
    parent: Uint8Array.from(kind, (k) => {
      const [above] = HIERARCHY[LEAVES[k]!]!;
      return above === 'Component' ? k : KIND[above!]!;
    }),
    board: Int32Array.from(board),
    part: Int32Array.from(part),
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    top: Uint8Array.from(top),
    from: starts(
      links.map(([a]) => a),
      components,
    ),
    to: Int32Array.from(links, ([, b]) => b),
    medium: Uint8Array.from(links, ([, , m]) => m),
    bus: Uint8Array.from(links, ([, , , b]) => b),
    onStart: on.start,
    on: on.list,
    deviceOf: Int32Array.from(deviceOf),
    boardStart: Int32Array.from(boardStart),
    deviceMaker: Int32Array.from(deviceMaker),
    partMaker,
    usedStart: used.start,
    used: used.list,
    components,
    boards: deviceOf.length,
    devices,
    parts: PART_COUNT,
  };
}

export const MAKERS = MAKER_COUNT;

function starts(sorted: readonly number[], groups: number): Int32Array {
  const start = new Int32Array(groups + 1);
  for (const g of sorted) start[g + 1]!++;
  for (let g = 0; g < groups; g++) start[g + 1]! += start[g]!;
  return start;
}

/** Indices of `group` by group; -1 belongs to none. */
function grouped(group: readonly number[], groups: number): { start: Int32Array; list: Int32Array } {
  const start = starts(
    group.filter((g) => g >= 0),
    groups,
  );
  const next = start.slice();
  const list = new Int32Array(start[groups]!);
  group.forEach((g, i) => {
    if (g >= 0) list[next[g]!++] = i;
  });
  return { start, list };
}
