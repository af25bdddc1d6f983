/**
 * A second generated archive, of another shape than `match-archive.ts`: flat tables joined by foreign keys, as an
 * inventory system exports them. Every component says which device, board and part it belongs to, and each of these
 * keys is an edge; sizes of devices and use of parts have heavy tails, so a few parts are in thousands of devices and
 * a few devices have a thousand components. Everything in it is invented; proportions are chosen, not measured.
 */
import type { EdgeInput, NodeInput, SegmentInput } from '../../src/gql/gql.ts';
import { seeded } from './match-archive.ts';

/** Categories and how often each is drawn. */
const SHARES: readonly (readonly [category: string, share: number])[] = [
  ['capacitor', 30],
  ['resistor', 24],
  ['inductor', 5],
  ['regulator', 4],
  ['connector', 4],
  ['sensor', 4],
  ['led', 2.5],
  ['amplifier', 2],
  ['crystal', 2],
  ['microcontroller', 1.6],
  ['converter', 1.5],
  ['memory', 1.5],
  ['button', 1.5],
  ['radio', 1.4],
  ['antenna', 1.4],
  ['accelerometer', 1.2],
  ['switch', 1],
  ['charger', 0.9],
  ['microphone', 0.9],
  ['gyroscope', 0.8],
  ['processor', 0.8],
  ['battery', 0.8],
  ['display', 0.7],
  ['driver', 0.7],
  ['speaker', 0.6],
  ['motor', 0.4],
];
export const CATEGORIES = SHARES.map(([category]) => category);
/** Number of a category in `CATEGORIES`. */
export const CATEGORY = Object.fromEntries(CATEGORIES.map((category, i) => [category, i])) as Readonly<
  Record<string, number>
>;
const TOTAL = SHARES.reduce((sum, [, share]) => sum + share, 0);

export interface FlatTables {
  readonly devices: number;
  readonly boards: number;
  readonly components: number;
  readonly parts: number;
  /** Boards, and components, of device d: `[d] .. [d + 1]`. */
  readonly boardStart: Int32Array;
  readonly start: Int32Array;
  /** Components of board b: `onStart[b] .. onStart[b + 1]`, since they are sorted by board. */
  readonly onStart: Int32Array;
  readonly deviceOf: Int32Array;
  readonly board: Int32Array;
  readonly part: Int32Array;
  readonly category: Uint8Array;
  readonly partCategory: Uint8Array;
  /** Bits of a word for microcontrollers and processors, else 0. */
  readonly partWidth: Uint8Array;
  /** 1 for parts made for a few customers: the far half of the tail. */
  readonly partCustom: Uint8Array;
  /** Components that are part p: `used[usedStart[p]] ..`. */
  readonly usedStart: Int32Array;
  readonly used: Int32Array;
  /** Wires, once each, and both ways round by component. */
  readonly wireA: Int32Array;
  readonly wireB: Int32Array;
  readonly from: Int32Array;
  readonly to: Int32Array;
}

/** Tables of so many devices with so many components each on average, the large ones left out. */
export function flatTables(devices: number, mean: number): FlatTables {
  const random = seeded(20_261_130);
  for (let i = 0; i < 8; i++) random();
  const gauss = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const parts = 400 + Math.floor(devices * 0.3);
  const partCategory = new Uint8Array(parts);
  const partWidth = new Uint8Array(parts);
  const partCustom = new Uint8Array(parts);
  const first: number[] = [];
  let made = 0;
  SHARES.forEach((_, c) => {
    first.push(made);
    const wanted = c === SHARES.length - 1 ? parts - made : Math.floor(parts / SHARES.length);
    for (let k = 0; k < wanted; k++, made++) {
      partCategory[made] = c;
      if (k > wanted / 2) partCustom[made] = 1;
      if (c !== CATEGORY.microcontroller && c !== CATEGORY.processor) continue;
      const u = random();
      partWidth[made] = u < 0.6 ? 32 : u < 0.75 ? 64 : u < 0.9 ? 16 : 8;
    }
  });
  first.push(parts);

  const start = new Int32Array(devices + 1);
  const boardStart = new Int32Array(devices + 1);
  for (let d = 0; d < devices; d++) {
    const size = random() < 0.002 ? 1000 : Math.round(mean * 0.72 * Math.exp(0.8 * gauss()));
    start[d + 1] = start[d]! + Math.max(4, Math.min(1200, size));
    boardStart[d + 1] = boardStart[d]! + 1 + Math.floor(random() * random() * 4);
  }
  const components = start[devices]!;
  const boards = boardStart[devices]!;
  const deviceOf = new Int32Array(components);
  const board = new Int32Array(components);
  const part = new Int32Array(components);
  const category = new Uint8Array(components);
  const wireA: number[] = [];
  const wireB: number[] = [];
  const seen = new Set<number>();
  for (let d = 0; d < devices; d++) {
    const firstWire = wireA.length;
    const size = start[d + 1]! - start[d]!;
    const boardCount = boardStart[d + 1]! - boardStart[d]!;
    seen.clear();
    for (let i = 0; i < size; i++) {
      const c = start[d]! + i;
      const kind = drawn(random());
      deviceOf[c] = d;
      // The first board has most of them.
      board[c] = boardStart[d]! + Math.floor((i / size) ** 2 * boardCount);
      category[c] = kind;
      const choice = first[kind + 1]! - first[kind]!;
      // Zipf's law: the k-th part of a category is used in proportion to 1 / k.
      part[c] =
        first[kind]! + Math.min(choice - 1, Math.floor(Math.exp(random() * Math.log(choice + 1))) - 1);
      const wires = i === 0 ? 0 : 1 + (random() < 0.35 ? 1 : 0);
      for (let w = 0; w < wires; w++) {
        const ends = wireA.length - firstWire;
        const hub = random() < 0.5 && ends > 0;
        const other = hub
          ? (random() < 0.5 ? wireA : wireB)[firstWire + Math.floor(random() * ends)]!
          : start[d]! + Math.floor(random() * i);
        const name = (other - start[d]!) * 4096 + i;
        if (other === c || seen.has(name)) continue;
        seen.add(name);
        wireA.push(other);
        wireB.push(c);
      }
    }
  }
  const both = grouped(
    [...[wireA, wireB].entries()].map(([side, ends]) => [ends, side === 0 ? wireB : wireA] as const),
    components,
  );
  const used = grouped([[part, Int32Array.from(part.keys())]], parts);
  const onStart = new Int32Array(boards + 1);
  for (const b of board) onStart[b + 1]!++;
  for (let b = 0; b < boards; b++) onStart[b + 1]! += onStart[b]!;
  return {
    devices,
    boards,
    components,
    parts,
    boardStart,
    start,
    onStart,
    deviceOf,
    board,
    part,
    category,
    partCategory,
    partWidth,
    partCustom,
    usedStart: used.start,
    used: used.list,
    wireA: Int32Array.from(wireA),
    wireB: Int32Array.from(wireB),
    from: both.start,
    to: both.list,
  };
}

function drawn(u: number): number {
  let left = u * TOTAL;
  for (let c = 0; c < SHARES.length; c++) {
    left -= SHARES[c]![1];
    if (left < 0) return c;
  }
  return 0;
}

/** Values by group, of pairs of columns [group, value]. */
function grouped(
  pairs: readonly (readonly [ArrayLike<number>, ArrayLike<number>])[],
  groups: number,
): { start: Int32Array; list: Int32Array } {
  const start = new Int32Array(groups + 1);
  for (const [group] of pairs) for (let i = 0; i < group.length; i++) start[group[i]! + 1]!++;
  for (let g = 0; g < groups; g++) start[g + 1]! += start[g]!;
  const next = start.slice();
  const list = new Int32Array(start[groups]!);
  for (const [group, value] of pairs)
    for (let i = 0; i < group.length; i++) list[next[group[i]!]!++] = value[i]!;
  return { start, list };
}

export type Style = 'label' | 'property';

/** The label of a category: Amplifier for amplifier. */
export function labelOf(category: string): string {
  return category[0]!.toUpperCase() + category.slice(1);
}

function partInput(t: FlatTables, p: number): NodeInput {
  const width = t.partWidth[p]!;
  return {
    id: `p${p}`,
    labels: ['Part'],
    properties: {
      number: `PN${100_000 + p}`,
      category: CATEGORIES[t.partCategory[p]!]!,
      custom: t.partCustom[p] === 1,
      ...(width > 0 ? { width } : {}),
    },
  };
}

/** The segment that all devices share. */
export function partsSegment(t: FlatTables): SegmentInput {
  return { nodes: Array.from({ length: t.parts }, (_, p) => partInput(t, p)), edges: [], grouped: false };
}

/** The segment of a device, with the category of a component as its label or as a property. */
export function deviceSegment(t: FlatTables, d: number, style: Style): SegmentInput {
  const nodes: NodeInput[] = [{ id: `d${d}`, labels: ['Device'], properties: { year: 2000 + (d % 26) } }];
  const edges: EdgeInput[] = [];
  for (let b = t.boardStart[d]!; b < t.boardStart[d + 1]!; b++) {
    nodes.push({ id: `b${b}`, labels: ['Board'], properties: {} });
    edges.push({ source: `b${b}`, target: `d${d}`, label: 'BOARD_OF' });
  }
  for (let c = t.start[d]!; c < t.start[d + 1]!; c++) {
    const category = CATEGORIES[t.category[c]!]!;
    const width = t.partWidth[t.part[c]!]!;
    nodes.push({
      id: `c${c}`,
      labels: style === 'label' ? [labelOf(category)] : ['Component'],
      properties: {
        ref: `X${c - t.start[d]!}`,
        ...(style === 'property' ? { category } : {}),
        ...(width > 0 ? { width } : {}),
      },
    });
    edges.push(
      { source: `c${c}`, target: `d${d}`, label: 'IN' },
      { source: `c${c}`, target: `b${t.board[c]!}`, label: 'ON' },
      { source: `c${c}`, target: `p${t.part[c]!}`, label: 'IS' },
    );
    // A wire is listed where its later end is.
    for (let i = t.from[c]!; i < t.from[c + 1]!; i++)
      if (t.to[i]! < c)
        edges.push({ source: `c${t.to[i]!}`, target: `c${c}`, label: 'WIRED', directed: false });
  }
  return { nodes, edges };
}
