/**
 * A path pattern as a program: a list of steps, and what a walk through them has to carry along. See `path-search.ts`.
 */
import type { Condition } from '../plan/pattern.ts';
import {
  type ChainChoice,
  type ChainEdge,
  type ChainItem,
  type ChainNode,
  type ChainRepeat,
  type Inside,
  insideOf,
} from '../plan/quantified-path.ts';
import { type EntrySource, entriesWith } from './entries.ts';
import { elementsOf, keepsMode } from './path.ts';

type Op =
  | { readonly kind: 'node'; readonly item: ChainNode }
  | { readonly kind: 'edge'; readonly item: ChainEdge; readonly walk: ReturnType<typeof entriesWith> }
  /** Begins a repeat. */
  | { readonly kind: 'enter'; readonly repeat: Repeat }
  /** Once more, or out. */
  | { readonly kind: 'decide'; readonly repeat: Repeat; body: number; exit: number }
  /** Ends an iteration. */
  | { readonly kind: 'iterated'; readonly repeat: Repeat; readonly back: number }
  | { readonly kind: 'choice'; readonly item: ChainChoice; readonly branches: number[] }
  /** Ends a branch. */
  | { readonly kind: 'jump'; readonly item: ChainChoice; to: number }
  /** All of the path is walked, but for its own conditions. */
  | { readonly kind: 'finish' }
  | { readonly kind: 'end' };

interface Repeat {
  readonly item: ChainRepeat;
  /** Place of its count among the counts of a state. */
  readonly index: number;
  /** Counts above this need not be told apart. */
  readonly cap: number;
  /** Slots that an iteration binds. */
  readonly inside: Inside;
}

/** A way into a state: over an edge, or by a step of the program that walks none (-1). */
interface From {
  readonly state: State;
  readonly edge: number;
}

export interface State {
  /** Step of the program that comes next. */
  readonly at: number;
  readonly node: number;
  /** Edges walked. */
  readonly length: number;
  readonly counts: readonly number[];
  /** Elements in the slots that are carried along. */
  readonly carried: readonly number[];
  /** All ways of this length; one only where every walk is followed. */
  readonly from: From[];
}

/** The states of one path, from the first to the last. */
export type Trace = readonly { readonly state: State; readonly edge: number }[];

export interface ElementIds {
  readonly node: (node: number) => string;
  readonly edge: (edge: number) => string;
}

export class Program {
  /** Whether conditions ask for more of a walk than a state carries, so that states of different walks are never one. */
  readonly looksBack: boolean;
  readonly #path: ChainRepeat;
  readonly #source: EntrySource;
  readonly #ops: Op[] = [];
  readonly #repeats: Repeat[] = [];
  /** Slots of elements that are asked for after they were bound. */
  readonly #carried: readonly number[];
  /** Per step, which of these are still asked for there or later. */
  readonly #live: readonly (readonly number[])[];
  readonly #all: Inside;
  readonly #startSlot: number;
  readonly #endSlot: number;
  readonly #endBound: boolean;

  constructor(
    path: ChainRepeat,
    source: EntrySource,
    ends: { readonly startSlot: number; readonly endSlot: number; readonly endBound: boolean },
  ) {
    this.#path = path;
    this.#source = source;
    this.#startSlot = ends.startSlot;
    this.#endSlot = ends.endSlot;
    this.#endBound = ends.endBound;
    this.#write(path.items);
    this.#ops.push({ kind: 'finish' }, { kind: 'end' });
    this.#all = insideOf(path.items, path.paths);
    const own = new Set(this.#all.elements);
    const asked = new Set<number>();
    let looksBack = path.paths.some(({ check }) => check);
    const ask = (conditions: readonly Condition[]) => {
      for (const { slots } of conditions)
        for (const slot of slots) {
          if (own.has(slot)) asked.add(slot);
          else if (slot !== ends.startSlot && slot !== ends.endSlot) looksBack = true;
        }
    };
    for (const op of this.#ops) {
      if (op.kind === 'node' || op.kind === 'edge') {
        ask(op.item.conditions);
        if (op.item.again) asked.add(op.item.slot);
      } else if (op.kind === 'iterated') {
        ask(op.repeat.item.conditions);
        if (op.repeat.item.paths.some(({ check }) => check)) looksBack = true;
      } else if (op.kind === 'finish') ask(path.conditions);
    }
    // What `?` hands out is what was bound inside.
    for (const { item } of this.#repeats)
      for (const { inner, outer } of item.optional ? item.groups : []) if (asked.has(outer)) asked.add(inner);
    this.looksBack = looksBack;
    this.#carried = [...asked];
    this.#live = this.#liveness();
  }

  /** @param end the node at the other end, where only paths to one are wanted */
  start(node: number, end: number | undefined): State {
    const carried = this.#carried.map((slot) => {
      if (slot === this.#startSlot) return node;
      return slot === this.#endSlot ? (end ?? -2) : -2;
    });
    return { at: 0, node, length: 0, counts: this.#repeats.map(() => 0), carried, from: [] };
  }

  isEdge({ at }: State): boolean {
    return this.#ops[at]!.kind === 'edge';
  }

  isEnd({ at }: State): boolean {
    return this.#ops[at]!.kind === 'end';
  }

  /** The same for two states that go on alike. */
  keyOf({ at, node, counts, carried }: State): string | number {
    const live = this.#live[at]!;
    if (live.length === 0 && counts.every((count) => count === 0)) return node * this.#ops.length + at;
    return `${at} ${node} ${counts} ${live.map((i) => carried[i])}`;
  }

  /** The states after a step that walks no edge. */
  onward(state: State, visit: (next: State) => void): void {
    const op = this.#ops[state.at]!;
    const to = (at: number, change: Partial<Pick<State, 'counts' | 'carried'>> = {}) =>
      visit({ ...state, ...change, at, from: [{ state, edge: -1 }] });
    switch (op.kind) {
      case 'node': {
        const { item } = op;
        const { nodeRow } = this.#source.store;
        if (item.table && item.table[nodeRow.view[state.node * 4]!] === 0) return;
        const carried = this.#bound(state, item, state.node);
        if (carried) to(state.at + 1, { carried });
        return;
      }
      case 'enter':
        to(state.at + 1, { carried: this.#without(state.carried, op.repeat.inside) });
        return;
      case 'decide': {
        const { item, index } = op.repeat;
        const count = state.counts[index]!;
        if (count >= item.least) {
          let { carried } = state;
          if (item.optional)
            for (const { inner, outer } of item.groups) {
              const [from, into] = [this.#carried.indexOf(inner), this.#carried.indexOf(outer)];
              if (into >= 0)
                carried = carried.with(into, count > 0 && carried[from]! >= 0 ? carried[from]! : -2);
            }
          carried = this.#without(carried, op.repeat.inside);
          to(op.exit, { counts: state.counts.with(index, 0), carried });
        }
        if (count < item.most) to(op.body, { carried: this.#without(state.carried, op.repeat.inside) });
        return;
      }
      case 'iterated': {
        const { item, index, cap } = op.repeat;
        if (!this.#passes(state, item, item.paths.length > 0)) return;
        const count = Math.min(cap, state.counts[index]! + 1);
        to(op.back, { counts: state.counts.with(index, count) });
        return;
      }
      case 'choice':
        for (const branch of op.branches) to(branch);
        return;
      case 'jump':
        to(op.to);
        return;
      case 'finish':
        // The variable of the last node may have been met before.
        if (![-2, undefined, state.node].includes(state.carried[this.#carried.indexOf(this.#endSlot)]))
          return;
        if (this.#passes(state, this.#path, this.#path.paths.length > 0)) to(state.at + 1);
        return;
      case 'edge':
      case 'end':
        return;
      default:
        op satisfies never;
    }
  }

  /** The states over the edges at a state. */
  edges(state: State, visit: (next: State) => void): void {
    const op = this.#ops[state.at]!;
    if (op.kind !== 'edge') return;
    op.walk(state.node, (node, edge) => {
      const carried = this.#bound(state, op.item, edge);
      if (carried)
        visit({
          ...state,
          at: state.at + 1,
          node,
          length: state.length + 1,
          carried,
          from: [{ state, edge }],
        });
      return true;
    });
  }

  /** The path whose elements come first by their ids, of those that lead to the states; they have one length. */
  first(states: readonly State[], ids: ElementIds): Trace {
    const useful = new Set<State>();
    const open = [...states];
    for (let state = open.pop(); state; state = open.pop()) {
      if (useful.has(state)) continue;
      useful.add(state);
      for (const { state: before } of state.from) open.push(before);
    }
    const onward = new Map<State, { state: State; edge: number }[]>();
    let at: State | undefined;
    for (const state of useful) {
      if (state.from.length === 0) at = state;
      for (const { state: before, edge } of state.from) {
        const ways = onward.get(before);
        if (ways) ways.push({ state, edge });
        else onward.set(before, [{ state, edge }]);
      }
    }
    // Several states may share the elements so far; each remembers one way to it, by the order of the program.
    const rank = (a: State, b: State) =>
      a.at - b.at || compare(a.counts, b.counts) || compare(a.carried, b.carried);
    let front = new Map<State, { readonly before: State | undefined; readonly edge: number }>([
      [at!, { before: undefined, edge: -1 }],
    ]);
    const ways = new Map(front);
    const wanted = new Set(states);
    for (;;) {
      // Steps without edges first.
      const list = [...front.keys()];
      for (const state of list)
        for (const way of onward.get(state) ?? [])
          if (way.edge < 0 && !ways.has(way.state)) {
            ways.set(way.state, { before: state, edge: -1 });
            list.push(way.state);
          }
      const over = list.flatMap((state) =>
        (onward.get(state) ?? []).filter(({ edge }) => edge >= 0).map((way) => ({ ...way, before: state })),
      );
      const [best] = over.sort(
        (a, b) =>
          order(ids.edge(a.edge), ids.edge(b.edge)) ||
          order(ids.node(a.state.node), ids.node(b.state.node)) ||
          a.edge - b.edge,
      );
      if (!best) {
        let state: State | undefined = list.filter((one) => wanted.has(one)).sort(rank)[0]!;
        const trace: { state: State; edge: number }[] = [];
        while (state) {
          const way: { readonly before: State | undefined; readonly edge: number } = ways.get(state)!;
          trace.push({ state, edge: way.edge });
          state = way.before;
        }
        return trace.reverse();
      }
      front = new Map();
      const same = over.filter(({ state, edge }) => edge === best.edge && state.node === best.state.node);
      for (const { state, edge, before } of same.sort((a, b) => rank(a.before, b.before)))
        if (!ways.has(state)) {
          ways.set(state, { before, edge });
          front.set(state, { before, edge });
        }
    }
  }

  /** All paths to the states; undefined when they are more than `most`. */
  all(states: readonly State[], most: number): Trace[] | undefined {
    const traces: Trace[] = [];
    const tail: { state: State; edge: number }[] = [];
    const back = (state: State): boolean => {
      if (state.from.length === 0) {
        if (traces.length >= most) return false;
        this.#source.run.remember(tail.length * 16);
        traces.push([{ state, edge: -1 }, ...tail.toReversed()]);
        return true;
      }
      for (const { state: before, edge } of state.from) {
        tail.push({ state, edge });
        const goes = back(before);
        tail.pop();
        if (!goes) return false;
      }
      return true;
    };
    return states.every(back) ? traces : undefined;
  }

  /** Nodes and edges of a path in turn. */
  elementsOf(trace: Trace): number[] {
    const elements = [trace[0]!.state.node];
    for (const { state, edge } of trace) if (edge >= 0) elements.push(edge, state.node);
    return elements;
  }

  /** Binds the row to what the path binds; answers whether the conditions on its parts hold, where they are asked. */
  replay(trace: Trace): void {
    const { row, values } = this.#source.run;
    const clear = ({ elements, values: slots }: Inside) => {
      for (const slot of elements)
        if (slot !== this.#startSlot && !(this.#endBound && slot === this.#endSlot)) row[slot] = -2;
      for (const slot of slots) values[slot] = null;
    };
    clear(this.#all);
    const path = [trace[0]!.state.node];
    const choices: number[] = [];
    const open: { repeat: Repeat; lists: unknown[][][]; entered: number; count: number }[] = [];
    for (let i = 0; i < trace.length; i++) {
      const { state } = trace[i]!;
      const next = trace[i + 1];
      const op = this.#ops[state.at]!;
      const inner = open.at(-1);
      switch (op.kind) {
        case 'node':
          row[op.item.slot] = state.node;
          break;
        case 'edge':
          if (next) {
            row[op.item.slot] = next.edge;
            path.push(next.edge, next.state.node);
          }
          break;
        case 'enter':
          open.push({
            repeat: op.repeat,
            lists: op.repeat.item.groups.map(() => []),
            entered: path.length,
            count: 0,
          });
          break;
        case 'decide':
          if (next?.state.at === op.body) clear(op.repeat.inside);
          else if (next) {
            leave(op.repeat.item, inner!.lists, inner!.count, row, values);
            values[op.repeat.item.elementsSlot] = path.slice(inner!.entered, -1);
            open.pop();
          }
          break;
        case 'iterated':
          for (const { parts, slot } of op.repeat.item.paths)
            if (slot >= 0) values[slot] = elementsOf(parts, this.#source.run);
          op.repeat.item.groups.forEach(({ inner: from, holds }, g) => {
            const list = inner!.lists[g]!;
            if (holds === 'element') list.push(row[from]! >= 0 ? [row[from]] : []);
            else if (holds === 'path') list.push(values[from] === null ? [] : [values[from]]);
            else list.push((values[from] as unknown[] | null) ?? []);
          });
          inner!.count++;
          break;
        case 'choice':
          if (next) values[op.item.tagSlot] = op.branches.indexOf(next.state.at);
          choices.push(path.length);
          break;
        case 'jump':
          values[op.item.elementsSlot] = path.slice(choices.pop(), -1);
          break;
        default:
          break;
      }
    }
    values[this.#path.elementsSlot] = path.slice(1, -1);
    const { kind } = this.#ops[trace.at(-1)!.state.at]!;
    if (kind !== 'finish' && kind !== 'end') return;
    for (const { parts, slot } of this.#path.paths)
      if (slot >= 0) values[slot] = elementsOf(parts, this.#source.run);
  }

  #write(items: readonly ChainItem[]): void {
    const ops = this.#ops;
    for (const item of items)
      switch (item.kind) {
        case 'node':
          ops.push({ kind: 'node', item });
          break;
        case 'edge':
          ops.push({ kind: 'edge', item, walk: entriesWith(this.#source, item.codes) });
          break;
        case 'choice': {
          const choice = { kind: 'choice' as const, item, branches: [] as number[] };
          const jumps: Extract<Op, { kind: 'jump' }>[] = [];
          ops.push(choice);
          for (const branch of item.branches) {
            choice.branches.push(ops.length);
            this.#write(branch);
            const jump = { kind: 'jump' as const, item, to: 0 };
            jumps.push(jump);
            ops.push(jump);
          }
          for (const jump of jumps) jump.to = ops.length;
          break;
        }
        case 'repeat': {
          const cap = item.most === Number.POSITIVE_INFINITY ? item.least : item.most;
          const repeat = { item, index: this.#repeats.length, cap, inside: insideOf(item.items, item.paths) };
          this.#repeats.push(repeat);
          const decide = { kind: 'decide' as const, repeat, body: ops.length + 2, exit: 0 };
          ops.push({ kind: 'enter', repeat }, decide);
          this.#write(item.items);
          ops.push({ kind: 'iterated', repeat, back: decide.body - 1 });
          decide.exit = ops.length;
          break;
        }
        default:
          item satisfies never;
      }
  }

  /** What is carried along once an element is bound; undefined when it may not be. */
  #bound(state: State, item: ChainNode | ChainEdge, element: number): readonly number[] | undefined {
    const place = this.#carried.indexOf(item.slot);
    let { carried } = state;
    if (place >= 0) {
      if (carried[place]! >= 0 && carried[place] !== element) return undefined;
      carried = carried.with(place, element);
    }
    if (item.conditions.length === 0) return carried;
    if (this.looksBack) this.#look(state);
    const { row } = this.#source.run;
    this.#carried.forEach((slot, i) => {
      row[slot] = carried[i]!;
    });
    row[item.slot] = element;
    return item.conditions.every(({ test }) => test(this.#source.run)) ? carried : undefined;
  }

  /** Whether the conditions on an iteration, or on all of the path, hold. */
  #passes(state: State, { conditions, paths }: ChainRepeat, hasPaths: boolean): boolean {
    const { run } = this.#source;
    if (conditions.length === 0 && !hasPaths) return true;
    if (this.looksBack || hasPaths) this.#look(state);
    this.#carried.forEach((slot, i) => {
      run.row[slot] = state.carried[i]!;
    });
    if (this.#ops[state.at]!.kind === 'finish') run.row[this.#endSlot] = state.node;
    for (const { parts, mode, check, slot } of paths) {
      const elements = elementsOf(parts, run);
      if (check && !keepsMode(mode, elements)) return false;
      if (slot >= 0) run.values[slot] = elements;
    }
    return conditions.every(({ test }) => test(run));
  }

  /** Binds all that the walk to a state has bound, by the first way to it. */
  #look(state: State): void {
    const trace: { state: State; edge: number }[] = [];
    for (let at: State | undefined = state; at; ) {
      const way: From | undefined = at.from[0];
      trace.push({ state: at, edge: way?.edge ?? -1 });
      at = way?.state;
    }
    this.replay(trace.reverse());
  }

  #without(carried: readonly number[], { elements }: Inside): readonly number[] {
    let left = carried;
    this.#carried.forEach((slot, i) => {
      if (elements.includes(slot) && left[i] !== -2) left = left.with(i, -2);
    });
    return left;
  }

  #liveness(): number[][] {
    const reads = this.#ops.map((op) => {
      const slots = new Set<number>();
      const add = (conditions: readonly Condition[]) => {
        for (const condition of conditions) for (const slot of condition.slots) slots.add(slot);
      };
      if (op.kind === 'node' || op.kind === 'edge') add(op.item.conditions);
      if (op.kind === 'node' || op.kind === 'edge') slots.add(op.item.slot);
      if (op.kind === 'iterated') add(op.repeat.item.conditions);
      if (op.kind === 'decide' && op.repeat.item.optional)
        for (const { inner } of op.repeat.item.groups) slots.add(inner);
      if (op.kind === 'finish') {
        add(this.#path.conditions);
        slots.add(this.#endSlot);
      }
      return new Set(this.#carried.flatMap((slot, i) => (slots.has(slot) ? [i] : [])));
    });
    const after = this.#ops.map((op, at): readonly number[] => {
      if (op.kind === 'decide') return [op.body, op.exit];
      if (op.kind === 'iterated') return [op.back];
      if (op.kind === 'choice') return op.branches;
      if (op.kind === 'jump') return [op.to];
      return op.kind === 'end' ? [] : [at + 1];
    });
    for (let changed = true; changed; ) {
      changed = false;
      for (let at = this.#ops.length - 1; at >= 0; at--)
        for (const next of after[at]!)
          for (const i of reads[next]!)
            if (!reads[at]!.has(i)) {
              reads[at]!.add(i);
              changed = true;
            }
    }
    return reads.map((live) => [...live]);
  }
}

/** What a repeat hands out: see `ChainRepeat.groups`. */
function leave(
  item: ChainRepeat,
  lists: readonly unknown[][][],
  count: number,
  row: Int32Array,
  values: unknown[],
): void {
  item.groups.forEach(({ outer, holds }, g) => {
    const [chunk] = lists[g]!;
    if (!item.optional) values[outer] = lists[g]!.flat(1);
    else if (holds === 'element') row[outer] = count > 0 && chunk!.length > 0 ? (chunk![0] as number) : -2;
    else values[outer] = count === 0 ? null : holds === 'path' ? (chunk![0] ?? null) : chunk;
  });
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return a[i]! - b[i]!;
  return 0;
}
