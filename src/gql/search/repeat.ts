/**
 * Quantified paths: `( … ){m,n}` and quantified edges. Iterations are walked depth first; what a variable inside is
 * bound to, iteration by iteration, becomes a list outside (a group variable, ISO/IEC 39075:2024, 16.4 and 22.4;
 * Deutsch and others, "Graph pattern matching in GQL and SQL/PGQ", SIGMOD 2022, section 4).
 */

import type { Condition } from '../plan/pattern.ts';
import {
  type ChainChoice,
  type ChainEdge,
  type ChainItem,
  type ChainNode,
  type ChainRepeat,
  insideOf,
} from '../plan/quantified-path.ts';
import { type EntrySource, entriesWith } from './entries.ts';
import { elementsOf, keepsMode } from './path.ts';
import { OutOfBudget, type Run, type Stage } from './stage.ts';

export interface RepeatPlan {
  readonly repeat: ChainRepeat;
  /** Slot of the node where the walk starts; it is bound. */
  readonly startSlot: number;
  readonly endSlot: number;
  /** Whether the node at the end is bound when the stage runs; its tests are made by the stage after. */
  readonly endBound: boolean;
  /** True when the chain is reversed, because the walk starts at the end of the path. */
  readonly reversed: boolean;
  /** Slots that are bound before, whatever the branches of the path do. */
  readonly known: readonly number[];
  /** Edges of the walk must differ from each other (TRAIL, or DIFFERENT EDGES for the whole match). */
  readonly edgesDiffer: boolean;
  /** Nodes of the walk must differ from each other; for SIMPLE the last may equal the first. */
  readonly nodesDiffer: 'no' | 'yes' | 'but ends';
}

/** Elements of the longest path that is walked; a longer one ends the query with what it found. */
export const LONGEST_PATH = 1200;

/** Walked elements as kept in a row: node and edge numbers in turn, starting and ending with an edge. */
export type Walked = readonly number[];

export function repeatStage(plan: RepeatPlan, source: EntrySource, next: Stage): Stage {
  const { run } = source;
  const { row, values } = run;
  /** Nodes and edges in turn, from the node where the walk starts. */
  const path: number[] = [];
  const usedEdges = new Set<number>();
  const usedNodes = new Map<number, number>();

  const closesCycle = (node: number): boolean => plan.nodesDiffer === 'but ends' && node === path[0];

  const arrive = (at: number): boolean => {
    if (!plan.endBound) row[plan.endSlot] = at;
    else if (at !== row[plan.endSlot]) return true;
    return next();
  };

  const compile = (
    items: readonly ChainItem[],
    i: number,
    done: (at: number) => boolean,
  ): ((at: number) => boolean) => {
    const item = items[i];
    if (!item) return done;
    const rest = compile(items, i + 1, done);
    switch (item.kind) {
      case 'node':
        return nodeStep(item, rest);
      case 'edge':
        return edgeStep(item, rest);
      case 'repeat':
        return repeatStep(item, rest);
      case 'choice':
        return choiceStep(item, rest);
      default:
        return item satisfies never;
    }
  };

  const nodeStep = (item: ChainNode, rest: (at: number) => boolean) => {
    const rows = source.store.nodeRow.view;
    return (at: number): boolean => {
      if (item.table && item.table[rows[at * 4]!] === 0) return true;
      const before = row[item.slot]!;
      if (item.again && before !== at) return true;
      row[item.slot] = at;
      let go = true;
      const doubts = run.doubts.length;
      if (holds(item.conditions, run)) go = rest(at);
      run.doubts.length = doubts;
      row[item.slot] = before;
      return go;
    };
  };

  const edgeStep = (item: ChainEdge, rest: (at: number) => boolean) => {
    const walk = entriesWith(source, item.codes);
    return (at: number): boolean => {
      if (path.length > LONGEST_PATH) throw new OutOfBudget('length');
      return walk(at, (other, edge) => {
        if (plan.edgesDiffer && usedEdges.has(edge)) return true;
        // A cycle may only close at the very end; whether it is the end shows when more is walked.
        if (plan.nodesDiffer !== 'no') {
          if (usedNodes.has(other) && !closesCycle(other)) return true;
          if (path.length > 1 && closesCycle(at)) return true;
        }
        const before = row[item.slot]!;
        if (item.again && before !== edge) return true;
        row[item.slot] = edge;
        let go = true;
        const doubts = run.doubts.length;
        if (holds(item.conditions, run)) {
          path.push(edge, other);
          if (plan.edgesDiffer) usedEdges.add(edge);
          const entered = plan.nodesDiffer !== 'no' && !usedNodes.has(other);
          if (entered) usedNodes.set(other, 1);
          go = rest(other);
          if (entered) usedNodes.delete(other);
          if (plan.edgesDiffer) usedEdges.delete(edge);
          path.length -= 2;
        }
        run.doubts.length = doubts;
        row[item.slot] = before;
        return go;
      });
    };
  };

  const choiceStep = (item: ChainChoice, rest: (at: number) => boolean) => {
    const inside = insideOf(item.branches.flat());
    let entered = 0;
    let taken = 0;
    const leave = (at: number): boolean => {
      const walked = path.slice(entered, -1);
      values[item.elementsSlot] = plan.reversed ? walked.reverse() : walked;
      values[item.tagSlot] = taken;
      const kept = [entered, taken] as const;
      const go = rest(at);
      [entered, taken] = kept;
      return go;
    };
    const branches = item.branches.map((branch) => compile(branch, 0, leave));
    // A variable that other branches have as well is asked for again behind them.
    return (at: number): boolean => {
      const before = [entered, taken] as const;
      const elements = inside.elements.map((slot) => row[slot]!);
      const lists = inside.values.map((slot) => values[slot]);
      let go = true;
      for (let b = 0; b < branches.length && go; b++) {
        for (const slot of inside.elements) if (!plan.known.includes(slot)) row[slot] = -2;
        for (const slot of inside.values) values[slot] = null;
        taken = b;
        entered = path.length;
        go = branches[b]!(at);
      }
      inside.elements.forEach((slot, i) => {
        row[slot] = elements[i]!;
      });
      inside.values.forEach((slot, i) => {
        values[slot] = lists[i];
      });
      [entered, taken] = before;
      return go;
    };
  };

  const repeatStep = (item: ChainRepeat, exit: (at: number) => boolean) => {
    let count = 0;
    /** Per variable, per iteration: what the iteration adds to its list. */
    let lists: unknown[][][] = [];
    /** Where the walk of this repeat began. */
    let entered = 0;
    const leave = (at: number): boolean => {
      item.groups.forEach(({ outer, holds }, g) => {
        const chunks = lists[g]!;
        if (!item.optional) {
          const ordered = plan.reversed ? chunks.slice().reverse() : chunks;
          values[outer] = ordered.flat(1);
        } else if (holds === 'element') row[outer] = chunks.length > 0 ? (chunks[0]![0] as number) : -2;
        else values[outer] = chunks.length > 0 ? (holds === 'path' ? chunks[0]![0] : chunks[0]) : null;
      });
      if (item.elementsSlot >= 0) {
        const walked = path.slice(entered, -1);
        values[item.elementsSlot] = plan.reversed ? walked.reverse() : walked;
      }
      const [keptLists, keptCount, keptEntered] = [lists, count, entered];
      const go = exit(at);
      lists = keptLists;
      count = keptCount;
      entered = keptEntered;
      return go;
    };
    const step = (at: number): boolean => {
      if (count >= item.least && !leave(at)) return false;
      return count < item.most ? body(at) : true;
    };
    let startLength = 0;
    const body = compile(item.items, 0, (at) => {
      // An iteration that walks no edge would repeat for ever.
      if (path.length === startLength && count >= item.least) return true;
      for (const { parts, mode, check, slot } of item.paths) {
        const elements = elementsOf(parts, run);
        if (check && !keepsMode(mode, elements)) return true;
        if (slot >= 0) values[slot] = elements;
      }
      const doubts = run.doubts.length;
      if (!holds(item.conditions, run)) {
        run.doubts.length = doubts;
        return true;
      }
      const length = startLength;
      item.groups.forEach(({ inner, holds }, g) => {
        // What an inner `?` has left out adds nothing.
        if (holds === 'element') lists[g]!.push(row[inner]! >= 0 ? [row[inner]] : []);
        else if (holds === 'path') lists[g]!.push(values[inner] === null ? [] : [values[inner]]);
        else lists[g]!.push((values[inner] as unknown[] | null) ?? []);
      });
      count++;
      startLength = path.length;
      const go = step(at);
      startLength = length;
      run.doubts.length = doubts;
      count--;
      for (const list of lists) list.pop();
      return go;
    });
    return (at: number): boolean => {
      const [keptCount, keptLists, keptLength, keptEntered] = [count, lists, startLength, entered];
      count = 0;
      startLength = path.length;
      entered = path.length;
      lists = item.groups.map(() => []);
      const go = step(at);
      count = keptCount;
      lists = keptLists;
      startLength = keptLength;
      entered = keptEntered;
      return go;
    };
  };

  const whole = repeatStep(plan.repeat, arrive);
  return () => {
    const start = row[plan.startSlot]!;
    path.length = 0;
    path.push(start);
    usedEdges.clear();
    usedNodes.clear();
    usedNodes.set(start, 1);
    return whole(start);
  };
}

/** Whether conditions on what is bound now hold; notes under which circumstances, where that is kept. */
function holds(conditions: readonly Condition[], run: Run): boolean {
  for (const { test, lineage } of conditions) {
    if (!test(run)) return false;
    if (!lineage || !run.keepsDoubts) continue;
    const doubt = lineage(run);
    if (doubt === false) return false;
    if (doubt !== true) run.doubts.push(doubt);
  }
  return true;
}
