/**
 * Goes through the steps of a plan without writing code for them: a backtracking search with its own stack, so that a
 * pattern may have thousands of steps. Ready at once, where writing code and having it compiled takes milliseconds, and
 * much longer for loops that are nested deeply; slower for each entry that it looks at. Finds what the code of
 * `generate.ts` finds.
 */
import { adjacencyCodes } from '../plan/adjacency-codes.ts';
import type { Condition, Pattern, PatternEdge, PatternNode } from '../plan/pattern.ts';
import type { Step } from '../plan/step.ts';
import { IN, OUT } from '../storage/catalog.ts';
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';
import { seekEntry } from './adjacency-search.ts';
import type { GenerateOptions } from './code-state.ts';
import { type Binding, COUNTER, type Generated } from './generate.ts';
import type { Run } from './stage.ts';
import { LIST_ROW, type ValueLists } from './value-lists.ts';

type StepOptions = Pick<
  GenerateOptions,
  | 'counting'
  | 'trace'
  | 'leaves'
  | 'entered'
  | 'nodeTable'
  | 'setTable'
  | 'edgeTable'
  | 'valueLists'
  | 'mayRoam'
  | 'isAlone'
  | 'codes'
>;

/** Lists longer than this are entered by binary search. */
const LONG = 16;

export interface Stepped {
  readonly search: Generated;
  /** Entries that it has looked at so far, in all its runs. */
  readonly looked: () => number;
}

/** Makes the search for the steps of one part of a MATCH. */
export function stepSearch(pattern: Pattern, steps: readonly Step[], options: StepOptions): Stepped {
  const plan = new StepPlan(pattern, steps, options);
  return {
    search: (binding) => {
      const search = new StepSearch(plan, binding);
      // Whoever comes again while a search is under way needs another one.
      return (from, to) => (search.isBusy ? new StepSearch(plan, binding) : search).run(from, to);
    },
    looked: () => plan.looked,
  };
}

/** Slots bound before, which an element has to differ from: the first `count` of `order`. */
interface Rivals {
  readonly order: readonly number[];
  readonly count: number;
  /** Slots that may hold the same element as this one all the same. */
  readonly kin: ReadonlySet<number> | undefined;
}

/** A step with everything that does not depend on what is bound. */
interface Move {
  readonly kind: Step['kind'];
  /** Slots: of the node bound before, of the node that the step binds or finds again, and of the edge. */
  readonly at: number;
  readonly node: number;
  readonly edge: number;
  readonly isEdgeKnown: boolean;
  readonly table: Uint8Array | undefined;
  /** Per label set, 0 when the node of a walk cannot have it. */
  readonly sets: Uint8Array | undefined;
  readonly way: Way | undefined;
  /** For an edge that no segment shares with another: the way from the other end. */
  readonly back: Way | undefined;
  readonly nodeRivals: readonly Rivals[];
  readonly edgeRivals: readonly Rivals[];
  readonly tests: readonly Condition[];
  /** Number of the list of segments that a scan goes through. */
  readonly scan: number;
  /** The nodes with a value, for a scan of these alone. */
  readonly lists: ValueLists | undefined;
  /** For a scan: whether the node may be in a segment other than that of the search, and whether others may not. */
  readonly mayRoam: boolean;
  readonly isAlone: boolean;
}

/** Which entries of a node's list an edge pattern accepts. */
interface Way {
  readonly accepts: Uint8Array;
  /** The only code, or -1. */
  readonly single: number;
  /** A directed loop is twice in its node's list; the codes of which one is skipped. */
  readonly loops: Uint8Array | undefined;
  /** Whether edges of other segments may lead here. */
  readonly isEntered: boolean;
}

class StepPlan {
  readonly moves: readonly Move[];
  /** Elements bound before, with what is asked of them. */
  readonly before: readonly {
    readonly slot: number;
    readonly table: Uint8Array | undefined;
    readonly rivals: readonly Rivals[];
  }[];
  readonly beforeTests: readonly Condition[];
  readonly counting: boolean;
  readonly trace: Float64Array | undefined;
  looked = 0;

  constructor(pattern: Pattern, steps: readonly Step[], options: StepOptions) {
    this.counting = options.counting ?? false;
    this.trace = options.trace;
    const { nodes, edges, held, conditions, distinct } = pattern;
    const bound = new Set<number>();
    const pending = conditions.map(({ slots }) => new Set(slots).size);
    const readers = new Map<number, number[]>();
    conditions.forEach(({ slots }, condition) => {
      for (const slot of new Set(slots)) {
        const known = readers.get(slot);
        if (known) known.push(condition);
        else readers.set(slot, [condition]);
      }
    });
    const orders: number[][] = distinct.sets.map(() => []);
    /** What the element must differ from; it counts as bound afterwards. */
    const rivalsOf = (slot: number): Rivals[] =>
      distinct.setsOf(slot).flatMap((set) => {
        const order = orders[set]!;
        const { slots, kin } = distinct.sets[set]!;
        const group = kin?.get(slot);
        const count = order.push(slot) - 1;
        if (count === 0) return [];
        const same = group === undefined ? [] : slots.filter((other) => kin!.get(other) === group);
        return [{ order, count, kin: same.length > 1 ? new Set(same) : undefined }];
      });
    /** Conditions that can be tested now that some more is bound, in the order of the pattern. */
    const bind = (...slots: readonly number[]): Condition[] => {
      const ready: number[] = [];
      for (const slot of slots) {
        if (bound.has(slot)) continue;
        bound.add(slot);
        for (const condition of readers.get(slot) ?? [])
          if (--pending[condition]! === 0) ready.push(condition);
      }
      return ready.sort((a, b) => a - b).map((condition) => conditions[condition]!);
    };

    const elements = new Map([...nodes, ...edges, ...held].map((element) => [element.slot, element]));
    const before = [...elements.values()].filter((element) => element.bound);
    this.before = before.map((element) => ({
      slot: element.slot,
      table: element.kind === 'node' ? options.nodeTable(element) : undefined,
      rivals: rivalsOf(element.slot),
    }));
    this.beforeTests = [
      ...conditions.filter(({ slots }) => slots.length === 0),
      ...bind(...before.map(({ slot }) => slot)),
    ];

    const ways = new Map<string, Way>();
    const wayOf = (edge: PatternEdge, reversed: boolean): Way => {
      const codes = adjacencyCodes(edge.directions, options.edgeTable(edge), reversed);
      const name = codes.join();
      let way = ways.get(name);
      if (!way) {
        way = wayBy(codes, options);
        ways.set(name, way);
      }
      return way;
    };
    const tables = new Map<PatternNode, Uint8Array | undefined>();
    let scans = 0;
    const bindNode = (node: PatternNode) => {
      const table = tables.get(node) ?? options.nodeTable(node);
      tables.set(node, table);
      return { node: node.slot, table, nodeRivals: rivalsOf(node.slot) };
    };
    const bindEdge = (edge: PatternEdge) => {
      const isEdgeKnown = bound.has(edge.slot);
      return { edge: edge.slot, isEdgeKnown, edgeRivals: isEdgeKnown ? [] : rivalsOf(edge.slot) };
    };
    this.moves = steps.map((step): Move => {
      switch (step.kind) {
        case 'scan': {
          const own = bindNode(nodes[step.node]!);
          const tests = bind(own.node);
          const lists = step.list && options.valueLists(step.list);
          const mayRoam = options.mayRoam(nodes[step.node]!);
          const { isAlone } = options;
          return { ...NOTHING, ...own, kind: 'scan', tests, scan: scans++, lists, mayRoam, isAlone };
        }
        case 'walk': {
          const edge = edges[step.edge]!;
          const [start, end] = step.reversed ? [edge.to, edge.from] : [edge.from, edge.to];
          const own = { ...bindNode(nodes[end]!), ...bindEdge(edge) };
          const tests = bind(own.node, own.edge);
          const way = wayOf(edge, step.reversed);
          const sets = way.isEntered ? options.setTable(nodes[end]!) : undefined;
          return {
            ...NOTHING,
            ...own,
            kind: 'walk',
            at: nodes[start]!.slot,
            way,
            sets,
            tests,
          };
        }
        case 'connect': {
          const edge = edges[step.edge]!;
          const own = bindEdge(edge);
          const tests = bind(own.edge);
          const [from, to] = [nodes[edge.from]!.slot, nodes[edge.to]!.slot];
          const [forward, backward] = [false, true].map((reversed) => wayOf(edge, reversed)) as [Way, Way];
          const stays = (way: Way) =>
            !way.isEntered && !way.accepts.some((one, c) => one === 1 && options.leaves(c));
          const isPlain = stays(forward) && stays(backward);
          // Look from the side whose list holds every such edge; when both do, from the shorter list.
          const turned = forward.isEntered && !backward.isEntered;
          return {
            ...NOTHING,
            ...own,
            kind: 'connect',
            at: turned ? to : from,
            node: turned ? from : to,
            way: turned ? backward : forward,
            back: isPlain ? backward : undefined,
            tests,
          };
        }
        default:
          return step satisfies never;
      }
    });
  }
}

const NOTHING = {
  at: -1,
  node: -1,
  edge: -1,
  isEdgeKnown: false,
  table: undefined,
  sets: undefined,
  way: undefined,
  back: undefined,
  nodeRivals: [],
  edgeRivals: [],
  scan: -1,
  lists: undefined,
  mayRoam: false,
  isAlone: false,
} as const;

function wayBy(codes: readonly number[], options: StepOptions): Way {
  const accepts = new Uint8Array(options.codes);
  for (const code of codes) accepts[code] = 1;
  const twice = codes.filter((code) => code % 3 === IN && accepts[code - IN + OUT] === 1);
  const loops = twice.length > 0 ? new Uint8Array(options.codes) : undefined;
  for (const code of twice) loops![code] = 1;
  return {
    accepts,
    single: codes.length === 1 ? codes[0]! : -1,
    loops,
    isEntered: codes.some((code) => options.entered(code)),
  };
}

class StepSearch {
  readonly #plan: StepPlan;
  readonly #binding: Binding;
  readonly #run: Run;
  readonly #store: Store;
  readonly #row: Int32Array;
  readonly #nodes: Int32Array;
  readonly #edges: Int32Array;
  readonly #entries: Int32Array;
  /** Per step: the next entry to look at, or node of a scan, and the end of these. */
  readonly #next: Int32Array;
  readonly #end: Int32Array;
  /** Per step: of a scan, the next run of nodes and the end of the segment's, and the place of the next segment. */
  readonly #runNext: Int32Array;
  readonly #runEnd: Int32Array;
  readonly #segment: Int32Array;
  /** Per step: ports, undefined when not looked up yet, the next of them, and the code of the one before; its crossing edges, and the next. */
  readonly #ports: (Int32Array | undefined)[];
  readonly #port: Int32Array;
  readonly #portCode: Int32Array;
  readonly #crossings: (Int32Array | undefined)[];
  readonly #crossing: Int32Array;
  /** Per step: the node that is walked from, the one that has to be found (-1 for any), and which way. */
  readonly #from: Int32Array;
  readonly #wanted: Int32Array;
  readonly #way: (Way | undefined)[];
  /** Per step: of a scan by value, the list that the places are in. */
  readonly #list: (Int32Array | undefined)[];
  #stretchEnd = 0;
  isBusy = false;

  constructor(plan: StepPlan, binding: Binding) {
    this.#plan = plan;
    this.#binding = binding;
    this.#run = binding.run;
    this.#store = binding.store;
    this.#row = binding.run.row;
    this.#nodes = binding.store.nodeRow.view;
    this.#edges = binding.store.adjEdge.view;
    this.#entries = binding.store.adjRow.view;
    const size = plan.moves.length;
    const lists = Array.from({ length: 10 }, () => new Int32Array(size)) as Lists;
    [this.#next, this.#end, this.#runNext, this.#runEnd, this.#segment, this.#port] = lists;
    this.#crossing = lists[6];
    this.#from = lists[7];
    this.#wanted = lists[8];
    this.#portCode = lists[9];
    this.#way = plan.moves.map(({ way }) => way);
    this.#list = plan.moves.map(() => undefined);
    this.#ports = plan.moves.map(() => undefined);
    this.#crossings = plan.moves.map(() => undefined);
  }

  /** Like a `Generated`. */
  run(from: number, to: number): boolean {
    this.isBusy = true;
    try {
      return this.#search(from, to);
    } finally {
      this.isBusy = false;
    }
  }

  #search(from: number, to: number): boolean {
    const { moves, trace, counting } = this.#plan;
    if (!this.#begins()) return true;
    const last = moves.length - 1;
    let depth = 0;
    if (last >= 0) this.#open(0, from, to);
    else return this.#found(counting);
    for (;;) {
      const move = moves[depth]!;
      if (!(move.kind === 'scan' ? this.#scans(move, depth) : this.#walks(move, depth))) {
        if (--depth < 0) return true;
        continue;
      }
      if (trace) trace[depth]!++;
      if (depth < last) this.#open(++depth, 0, -1);
      else if (!this.#found(counting)) return false;
    }
  }

  #found(counting: boolean): boolean {
    if (!counting) return this.#binding.next();
    COUNTER[0]!++;
    return true;
  }

  /** Whether what is bound before is as asked. */
  #begins(): boolean {
    for (const { slot, table } of this.#plan.before) {
      const element = this.#row[slot]!;
      // A null element, left by an optional clause, matches nothing.
      if (element < 0 || table?.[this.#nodes[element * 4]!] === 0) return false;
    }
    for (const { slot, rivals } of this.#plan.before)
      if (!this.#differs(this.#row[slot]!, rivals)) return false;
    for (const { test } of this.#plan.beforeTests) if (!test(this.#run)) return false;
    return true;
  }

  #differs(element: number, rivals: readonly Rivals[]): boolean {
    for (const { order, count, kin } of rivals)
      for (let i = 0; i < count; i++)
        if (this.#row[order[i]!] === element && !kin?.has(order[i]!)) return false;
    return true;
  }

  /** Goes to the beginning of a step. A scan goes through `from .. to` of its segments; all of them for a `to` of -1. */
  #open(depth: number, from: number, to: number): void {
    const move = this.#plan.moves[depth]!;
    if (move.kind === 'scan') {
      this.#segment[depth] = from;
      this.#next[depth] = 0;
      this.#end[depth] = 0;
      this.#runNext[depth] = 0;
      this.#runEnd[depth] = 0;
      if (to >= 0) this.#stretchEnd = to;
      return;
    }
    let at = this.#row[move.at]!;
    let wanted = move.kind === 'connect' ? this.#row[move.node]! : -1;
    let way = move.way!;
    if (move.back && this.#length(wanted) < this.#length(at)) {
      [at, wanted] = [wanted, at];
      way = move.back;
    }
    let start = this.#nodes[at * 4 + 1]!;
    const end = this.#nodes[at * 4 + 5]!;
    if (way.single >= 0 && end - start > LONG)
      start = seekEntry(this.#entries, start, end, way.single, move.back ? wanted : -(2 ** 31));
    this.#next[depth] = start;
    this.#end[depth] = end;
    this.#from[depth] = at;
    this.#wanted[depth] = wanted;
    this.#way[depth] = way;
    this.#port[depth] = way.isEntered ? 0 : NO_PORTS;
    this.#ports[depth] = undefined;
    this.#crossings[depth] = undefined;
  }

  #length(node: number): number {
    return this.#nodes[node * 4 + 5]! - this.#nodes[node * 4 + 1]!;
  }

  /** The next node of a scan that fits; false when there is none. */
  #scans(move: Move, depth: number): boolean {
    const { table, lists, node: slot } = move;
    const runs = this.#store.runRow.view;
    const segments = this.#binding.scans[move.scan]!;
    for (;;) {
      const end = this.#end[depth]!;
      const list = this.#list[depth];
      for (let i = this.#next[depth]!; i < end; i++) {
        const node = list ? list[i]! : i;
        if (list && table?.[this.#nodes[node * 4]!] === 0) continue;
        if (move.isAlone && !this.#isNear(move, node)) continue;
        if (!this.#differs(node, move.nodeRivals)) continue;
        this.#row[slot] = node;
        if (!this.#passes(move)) continue;
        this.#next[depth] = i + 1;
        return true;
      }
      const run = this.#runNext[depth]!;
      if (run < this.#runEnd[depth]!) {
        this.#runNext[depth] = run + 1;
        const fits = table?.[runs[run * 2]!] !== 0;
        this.#next[depth] = fits ? runs[run * 2 + 1]! : 0;
        this.#end[depth] = fits ? runs[run * 2 + 3]! : 0;
        this.#burn(this.#end[depth]! - this.#next[depth]! + 1);
        continue;
      }
      const place = this.#segment[depth]!;
      if (place >= (depth === 0 ? this.#stretchEnd : segments.length)) return false;
      this.#segment[depth] = place + 1;
      const segment = segments[place]!;
      if (lists) {
        lists.fit(this.#binding.visible.length);
        const row = segment * LIST_ROW;
        const version = this.#store.segmentField(segment, S.version);
        if (lists.rows[row] !== version) lists.find(segment, this.#store);
        this.#list[depth] = lists.list;
        this.#next[depth] = lists.rows[row + 1]!;
        this.#end[depth] = lists.rows[row + 2]!;
        this.#burn(this.#end[depth]! - this.#next[depth]! + 1);
        continue;
      }
      this.#next[depth] = 0;
      this.#end[depth] = 0;
      this.#runNext[depth] = this.#store.segmentField(segment, S.runs);
      this.#runEnd[depth] = this.#runNext[depth]! + this.#store.segmentField(segment, S.runCount);
    }
  }

  /** Whether a scan may find a node: other segments are gone through for what is near in them alone. */
  #isNear({ mayRoam }: Move, node: number): boolean {
    const { visible, near } = this.#binding;
    return visible[this.#nodes[node * 4 + 3]!] !== 2 || (mayRoam && near.has(node));
  }

  /** The next edge from the bound node that fits; false when there is none. */
  #walks(move: Move, depth: number): boolean {
    const { accepts, single, loops } = this.#way[depth]!;
    const at = this.#from[depth]!;
    const wanted = this.#wanted[depth]!;
    const sorted = move.back !== undefined && single >= 0;
    const end = this.#end[depth]!;
    const first = this.#next[depth]!;
    for (let i = first; i < end; i++) {
      const code = this.#entries[i * 2]!;
      if (single >= 0) {
        if (code > single) break;
        if (code !== single) continue;
      } else if (accepts[code] !== 1) continue;
      const reference = this.#entries[i * 2 + 1]!;
      // Entries with one code are in the order of the nodes that they lead to.
      if (sorted && reference > wanted) break;
      const other = this.#seen(reference, at);
      if (other < 0 || (wanted >= 0 && other !== wanted)) continue;
      if (other === at && loops?.[code] === 1) continue;
      if (!this.#takes(move, other, this.#edges[i]!)) continue;
      this.#next[depth] = i + 1;
      this.#burn(i - first + 2);
      return true;
    }
    this.#next[depth] = end;
    this.#burn(end - first + 1);
    return this.#port[depth] !== NO_PORTS && this.#enters(move, depth, at, wanted);
  }

  /** The same among edges that other segments point to the node. */
  #enters(move: Move, depth: number, at: number, wanted: number): boolean {
    const store = this.#store;
    const { accepts, loops } = this.#way[depth]!;
    const { entering } = this.#binding;
    let ports = this.#ports[depth];
    if (!ports) {
      const segment = this.#nodes[at * 4 + 3]! * SEGMENT_ROW;
      const table = store.segmentTable.view;
      const exported = table[segment + S.exports]!;
      ports = entering.portsAt(exported < 0 ? -1 : exported + at - table[segment + S.nodes]!);
      this.#ports[depth] = ports;
    }
    for (;;) {
      const crossing = this.#crossings[depth]?.[this.#crossing[depth]!];
      if (crossing !== undefined) {
        this.#burn(1);
        this.#crossing[depth]!++;
        const entry = store.crossingEdge.view[crossing]!;
        const edge = entry >> 1;
        const other = this.#seen(store.edgeRow.view[edge * 4 + (entry & 1 ? 1 : 2)]!, at);
        if (other < 0 || !this.#mayBeSeen(other) || (wanted >= 0 && other !== wanted)) continue;
        if (other === at && loops?.[this.#portCode[depth]!] === 1) continue;
        if (this.#takes(move, other, edge)) return true;
        continue;
      }
      const port: number | undefined = ports[this.#port[depth]!];
      if (port === undefined) return false;
      this.#burn(1);
      this.#port[depth]!++;
      const code = store.portCode.view[port]!;
      const set = store.portSet.view[port]!;
      if (accepts[code] !== 1 || (set >= 0 && move.sets?.[set] === 0)) continue;
      this.#portCode[depth] = code;
      this.#crossings[depth] = entering.crossingsOf(port);
      this.#crossing[depth] = 0;
    }
  }

  /** Binds node and edge when they are as asked. */
  #takes(move: Move, other: number, edge: number): boolean {
    if (move.kind === 'walk') {
      if (move.table?.[this.#nodes[other * 4]!] === 0) return false;
      if (!this.#differs(other, move.nodeRivals)) return false;
      this.#row[move.node] = other;
    }
    if (move.isEdgeKnown) {
      if (this.#row[move.edge] !== edge) return false;
    } else {
      if (!this.#differs(edge, move.edgeRivals)) return false;
      this.#row[move.edge] = edge;
    }
    return this.#passes(move);
  }

  #passes({ tests }: Move): boolean {
    for (const { test, place } of tests) {
      // A long condition takes as long as many entries.
      if (place) this.#burn((place.end - place.start) >> 4);
      if (!test(this.#run)) return false;
    }
    return true;
  }

  /** The node that an entry leads to, when the query may see it, else -1. */
  #seen(reference: number, at: number): number {
    if (reference < 0) {
      const node = this.#store.handleNode.view[~reference]!;
      return node >= 0 && this.#mayBeSeen(node) ? node : -1;
    }
    // From a node that roams, what is inside its segment lies one step away.
    if (this.#binding.visible[this.#nodes[at * 4 + 3]!] !== 2) return reference;
    return this.#mayBeSeen(reference) ? reference : -1;
  }

  #mayBeSeen(node: number): boolean {
    const how = this.#binding.visible[this.#nodes[node * 4 + 3]!];
    return how === 1 || (how === 2 && this.#binding.roams[this.#nodes[node * 4]!] === 1);
  }

  #burn(steps: number): void {
    this.#plan.looked += steps;
    this.#run.fuel -= steps;
    if (this.#run.fuel < 0) this.#run.fuel = this.#run.refuel();
  }
}

/** In place of the next port: no edges of other segments are asked for. */
const NO_PORTS = -1;

type L = Int32Array;
type Lists = [L, L, L, L, L, L, L, L, L, L];
