import type { Outline } from '../model/board.ts';
import { sameValue } from '../model/component-value.ts';
import type { Problem } from '../model/problems.ts';
import type { DesignBoard, DesignComponent, DesignNet, DesignPin, TradeFile } from './board-design.ts';
import { terminalsOf } from './pins.ts';

// Several files of one device to one design a board. Each field is taken from the kind of file that knows it best; where two say
// different things, both are told.

/** A file and the board that it is of; left out where its boards have names of their own, or the device has but one. */
export interface AssignedFile {
  readonly file: TradeFile;
  readonly board?: string;
}

export interface MergedComponent extends DesignComponent {
  /** Files that name it. */
  readonly files: readonly string[];
}

/** One board, of all files that are of it. */
export interface MergedBoard {
  /** Local id in the dossier. */
  readonly id: string;
  readonly name?: string;
  readonly outline?: Outline;
  readonly layers?: number;
  readonly components: readonly MergedComponent[];
  readonly nets: readonly DesignNet[];
  /** Whether a bill of materials is among its files. */
  readonly hasList: boolean;
  /** Whether a file says where components lie. */
  readonly hasPlaces: boolean;
  readonly files: readonly string[];
}

export interface Merged {
  readonly boards: readonly MergedBoard[];
  readonly cautions: readonly Problem[];
}

type Field =
  | 'value'
  | 'partNumber'
  | 'maker'
  | 'description'
  | 'footprint'
  | 'side'
  | 'fitted'
  | 'marking'
  | 'note';

/** What knows a field best, first. */
const LIST_FIRST = [
  'bill-of-materials',
  'ipc-2581',
  'kicad',
  'kicad-netlist',
  'placement',
  'ipc-d-356',
] as const;
const LAYOUT_FIRST = [
  'kicad',
  'ipc-2581',
  'placement',
  'bill-of-materials',
  'kicad-netlist',
  'ipc-d-356',
] as const;
/** Layouts, then what has names in full. */
const NETS_FIRST = ['kicad', 'ipc-2581', 'kicad-netlist', 'ipc-d-356'] as const;
const BEST: Readonly<Record<Field, readonly TradeFile['format'][]>> = {
  value: LIST_FIRST,
  partNumber: LIST_FIRST,
  maker: LIST_FIRST,
  description: LIST_FIRST,
  marking: LIST_FIRST,
  note: LIST_FIRST,
  fitted: LIST_FIRST,
  footprint: LAYOUT_FIRST,
  side: LAYOUT_FIRST,
};
const FIELDS = Object.keys(BEST) as readonly Field[];
/** Fields of which two spellings say nothing against each other. */
const FREE_WORDS: ReadonlySet<Field> = new Set(['description', 'note', 'footprint', 'maker']);

/** The design of each board, from all files that are of it, in the order in which boards first appear. */
export function mergeFiles(files: readonly AssignedFile[], onlyBoard: string): Merged {
  const cautions: Problem[] = [];
  const byBoard = new Map<string, Source[]>();
  for (const { file, board } of files) {
    for (const design of file.boards ?? []) {
      const several = (file.boards?.length ?? 0) > 1;
      const id = several && design.name !== undefined ? slugOf(design.name) : (board ?? onlyBoard);
      byBoard.set(id, [...(byBoard.get(id) ?? []), { file: file.file, format: file.format, design }]);
    }
  }
  return { boards: [...byBoard].map(([id, sources]) => mergeBoard(id, sources, cautions)), cautions };
}

/** Lower-case words joined by hyphens, as ids are; `board` for a name without letters and digits. */
export function slugOf(name: string): string {
  const words = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .match(/[a-z0-9]+/gu);
  return words?.join('-') ?? 'board';
}

interface Source {
  readonly file: string;
  readonly format: TradeFile['format'];
  readonly design: DesignBoard;
}

interface Said {
  readonly source: Source;
  readonly component: DesignComponent;
}

function mergeBoard(id: string, sources: readonly Source[], cautions: Problem[]): MergedBoard {
  const said = new Map<string, Said[]>();
  for (const source of sources)
    for (const component of source.design.components) {
      const all = said.get(component.designator);
      if (all) all.push({ source, component });
      else said.set(component.designator, [{ source, component }]);
    }
  const netlist = best(sources, NETS_FIRST, ({ design }) => design.nets.length > 0);
  for (const other of sources) if (other !== netlist && netlist) compareNetlists(netlist, other, cautions);
  const layout = best(sources, LAYOUT_FIRST, ({ design }) => design.outline !== undefined);
  const name = sources.find(({ design }) => design.name !== undefined)?.design.name;
  const layers = sources.find(({ design }) => design.layers !== undefined)?.design.layers;
  return {
    id,
    ...(name === undefined ? {} : { name }),
    ...(layout?.design.outline ? { outline: layout.design.outline } : {}),
    ...(layers === undefined ? {} : { layers }),
    components: [...said.values()].map((all) => mergeComponent(all, netlist, cautions)),
    nets: netlist?.design.nets ?? [],
    hasList: sources.some(({ design }) => design.components.some(({ listed }) => listed === true)),
    hasPlaces: sources.some(({ design }) => design.components.some(({ at }) => at !== undefined)),
    files: sources.map(({ file }) => file),
  };
}

function best(
  sources: readonly Source[],
  order: readonly TradeFile['format'][],
  has: (source: Source) => boolean,
): Source | undefined {
  return sources.filter(has).toSorted((a, b) => order.indexOf(a.format) - order.indexOf(b.format))[0];
}

function mergeComponent(
  all: readonly Said[],
  netlist: Source | undefined,
  cautions: Problem[],
): MergedComponent {
  const [{ component: first }] = all;
  const merged: { -readonly [K in keyof MergedComponent]?: MergedComponent[K] } = {};
  for (const field of FIELDS) {
    const saying = all
      .filter(({ component }) => component[field] !== undefined)
      .toSorted((a, b) => BEST[field].indexOf(a.source.format) - BEST[field].indexOf(b.source.format));
    const [taken, ...others] = saying;
    if (!taken) continue;
    Object.assign(merged, { [field]: taken.component[field] });
    for (const other of others) tellDifference(field, taken, other, cautions);
  }
  const placed = best(
    all.map(({ source }) => source),
    LAYOUT_FIRST,
    (source) => of(all, source)?.at !== undefined,
  );
  const place = placed && of(all, placed);
  const bodied = best(
    all.map(({ source }) => source),
    LAYOUT_FIRST,
    (source) => of(all, source)?.body !== undefined,
  );
  const body = bodied && of(all, bodied)?.body;
  const pinned =
    (netlist && of(all, netlist)) ??
    all.map(({ component }) => component).find(({ pins }) => pins.length > 0);
  const counted = terminalsSaid(all);
  const listed = all.some(({ component }) => component.listed === true);
  return {
    designator: first.designator,
    line: first.line,
    ...merged,
    ...(place?.at ? { at: place.at, ...(place.atIs ? { atIs: place.atIs } : {}) } : {}),
    ...(place?.rotation === undefined ? {} : { rotation: place.rotation }),
    ...(body ? { body } : {}),
    pins: withNames(pinned?.pins ?? [], all),
    ...(counted === undefined ? {} : { pinCount: counted }),
    listed,
    files: [...new Set(all.map(({ source }) => source.file))],
  };
}

/**
 * Terminals that a list counts, or that the footprint of a layout has. The pins of a netlist are those that are joined: at least so
 * many it has, and nobody counted them.
 */
function terminalsSaid(all: readonly Said[]): number | undefined {
  const listed = all.find(({ component }) => component.pinCount !== undefined)?.component.pinCount;
  if (listed !== undefined) return listed;
  const layout = all.find(({ source, component }) => hasFootprint(source.format, component));
  const count = layout ? terminalsOf(layout.component.pins) : 0;
  return count > 0 ? count : undefined;
}

/** Whether the pins of a component are those of its footprint; in IPC-2581 they have places there, and those of its nets have none. */
function hasFootprint(format: TradeFile['format'], { pins }: DesignComponent): boolean {
  return format === 'kicad' || (format === 'ipc-2581' && pins.some(({ at }) => at !== undefined));
}

function of(all: readonly Said[], source: Source): DesignComponent | undefined {
  return all.find((one) => one.source === source)?.component;
}

/** Pins with names and directions that another file knows. */
function withNames(pins: readonly DesignPin[], all: readonly Said[]): readonly DesignPin[] {
  const known = new Map<string, DesignPin>();
  for (const { component } of all)
    for (const pin of component.pins)
      if (pin.number !== undefined && (pin.name !== undefined || pin.direction !== undefined))
        known.set(pin.number, pin);
  return pins.map((pin) => {
    const more = pin.number === undefined ? undefined : known.get(pin.number);
    return {
      ...pin,
      ...(pin.name === undefined && more?.name !== undefined ? { name: more.name } : {}),
      ...(pin.direction === undefined && more?.direction !== undefined ? { direction: more.direction } : {}),
    };
  });
}

function tellDifference(field: Field, taken: Said, other: Said, cautions: Problem[]): void {
  const [one, two] = [taken.component[field], other.component[field]];
  if (
    FREE_WORDS.has(field) ||
    one === two ||
    (field === 'value' && sameValue(String(one), String(two)) === true)
  )
    return;
  const word = { partNumber: 'part number', fitted: 'whether it is fitted' }[field as string] ?? field;
  cautions.push({
    file: other.source.file,
    line: other.component.line,
    what: `${other.component.designator}: ${word} is ${spoken(two)} here and ${spoken(one)} in ${taken.source.file}, which is taken`,
    fix: 'look which is right',
  });
}

function spoken(value: unknown): string {
  return typeof value === 'boolean' ? (value ? 'fitted' : 'not fitted') : JSON.stringify(value);
}

/** Where a second netlist joins or parts pins otherwise than the first. */
function compareNetlists(netlist: Source, other: Source, cautions: Problem[]): void {
  if (other.design.nets.length === 0) return;
  const first = netsByPin(netlist.design);
  for (const [key, pins] of pinsByNet(other.design)) {
    const met = new Map<string, string>();
    for (const pin of pins) {
      const net = first.get(pin);
      if (net !== undefined && !met.has(net)) met.set(net, pin);
    }
    if (met.size < 2) continue;
    const [[one, pin], [two, pinOfTwo]] = [...met];
    cautions.push({
      file: other.file,
      what: `net ${JSON.stringify(key)} joins ${pin} and ${pinOfTwo}, which lie on ${JSON.stringify(one)} and ${JSON.stringify(two)} in ${netlist.file}, which is taken`,
      fix: 'look whether both files are of one revision',
    });
  }
}

function netsByPin({ components }: DesignBoard): ReadonlyMap<string, string> {
  return new Map(
    components.flatMap(({ designator, pins }) =>
      pins.flatMap(({ number, name, net }) =>
        net === undefined ? [] : [[`${designator}.${number ?? name}`, net] as const],
      ),
    ),
  );
}

function pinsByNet(board: DesignBoard): ReadonlyMap<string, readonly string[]> {
  const nets = new Map<string, string[]>();
  for (const [pin, net] of netsByPin(board)) {
    const pins = nets.get(net);
    if (pins) pins.push(pin);
    else nets.set(net, [pin]);
  }
  return nets;
}
