/**
 * ANY, ANY SHORTEST and ALL SHORTEST (ISO/IEC 39075:2024, 22.4, from memory; Deutsch and others, "Graph pattern matching in GQL
 * and SQL/PGQ", SIGMOD 2022, section 5.1): of the paths with the same ends some are kept.
 *
 * The path pattern is a program (`path-program.ts`), and what a walk has to know to go on is a state: place in the program, node,
 * iterations so far, and the elements that conditions ahead will ask for. States are reached level by level, each only
 * once, so that the search ends on any graph. Path modes, and conditions on lists, look at all of a path: where the paths found
 * so do not keep to a mode, all walks that do are followed instead, still level by level.
 */
import type { ChainRepeat, PathMode } from '../plan/quantified-path.ts';
import type { EntrySource } from './entries.ts';
import { keepsMode } from './path.ts';
import { Program, type State, type Trace } from './path-program.ts';
import type { Stage } from './stage.ts';

export interface PathSearchPlan {
  /** The path between its ends as a repeat of one iteration, whose variables stay as they are. */
  readonly path: ChainRepeat;
  readonly startSlot: number;
  readonly endSlot: number;
  readonly endBound: boolean;
  /** All shortest paths, or the first of them. */
  readonly all: boolean;
  /** Modes of the complete path. */
  readonly modes: readonly PathMode[];
  /** Whether the path depends on nothing but where it starts. */
  readonly alone: boolean;
}

/** Bytes of a state, roughly. */
const STATE_BYTES = 160;
/** Shortest paths of one pair of ends that are looked at before modes are asked while walking. */
const MOST_TRACES = 1_000;

/** @param idOf the order of elements: those of nodes, and of edges, are compared with each other */
export function pathSearchStage(
  plan: PathSearchPlan,
  source: EntrySource,
  idOf: { readonly node: (node: number) => string; readonly edge: (edge: number) => string },
  next: Stage,
): Stage {
  const { run } = source;
  const { row } = run;
  const program = new Program(plan.path, source, plan);
  const modes = plan.modes.filter((mode) => mode !== 'walk');
  /** What was found from the last start, when it was asked for more than once. */
  let last: { start: number; found: Map<number, Trace[]> | undefined } | undefined;

  const find = (start: number, end: number | undefined): Map<number, Trace[]> => {
    const accepted = walk(start, end === undefined ? undefined : new Set([end]), program.looksBack);
    const found = new Map<number, Trace[]>();
    const left = new Set<number>();
    for (const [node, states] of accepted) {
      const traces = chosen(states);
      if (traces) found.set(node, traces);
      // No acyclic path of some length ends where it starts: following all of them would find none.
      else if (node !== start || !modes.includes('acyclic')) left.add(node);
    }
    if (left.size > 0)
      for (const [node, states] of walk(start, left, true)) {
        const traces = chosen(states);
        if (traces) found.set(node, traces);
      }
    return found;
  };

  /**
   * The states that end a path, by the node they end at; those of the shortest paths only.
   * @param each follow every walk that keeps to the modes, instead of the first to reach a state
   */
  const walk = (
    start: number,
    ends: ReadonlySet<number> | undefined,
    each: boolean,
  ): Map<number, State[]> => {
    const accepted = new Map<number, State[]>();
    const known = each ? undefined : new Map<string | number, State>();
    let made = 0;
    let level: State[] = [];
    let waiting: State[] = [];
    const add = (state: State) => {
      if (known) {
        const key = program.keyOf(state);
        const before = known.get(key);
        if (before) {
          if (before.length === state.length) before.from.push(...state.from);
          return;
        }
        known.set(key, state);
      }
      if (++made % 64 === 0) run.remember(64 * STATE_BYTES);
      if (program.isEnd(state)) {
        const others = accepted.get(state.node);
        if (ends && !ends.has(state.node)) return;
        if (!others) accepted.set(state.node, [state]);
        else if (others[0]!.length === state.length) others.push(state);
      } else if (program.isEdge(state)) waiting.push(state);
      else level.push(state);
    };
    add(program.start(start, ends?.size === 1 ? [...ends][0] : undefined));
    for (;;) {
      for (let state = level.pop(); state; state = level.pop()) program.onward(state, add);
      if (ends && accepted.size === ends.size) break;
      if (waiting.length === 0) break;
      const now = waiting;
      waiting = [];
      level = [];
      for (const state of now)
        program.edges(state, (longer) => {
          if (!each || modes.every((mode) => mayGoOn(mode, longer))) add(longer);
        });
    }
    return accepted;
  };

  /** The paths to keep of those that lead to some states with one node; undefined when none keeps to the modes, as far as was looked. */
  const chosen = (states: readonly State[]): Trace[] | undefined => {
    const keeps = (trace: Trace) => {
      const elements = program.elementsOf(trace);
      return modes.every((mode) => keepsMode(mode, elements));
    };
    if (!plan.all) {
      const trace = program.first(states, idOf);
      return keeps(trace) ? [trace] : undefined;
    }
    const traces = program.all(states, modes.length > 0 ? MOST_TRACES : Number.POSITIVE_INFINITY);
    const kept = traces?.filter(keeps);
    return kept && kept.length > 0 ? kept : undefined;
  };

  const emit = (end: number, traces: readonly Trace[] | undefined): boolean => {
    for (const trace of traces ?? []) {
      program.replay(trace);
      row[plan.endSlot] = end;
      if (!next()) return false;
    }
    return true;
  };

  return () => {
    const start = row[plan.startSlot]!;
    if (plan.endBound) {
      const end = row[plan.endSlot]!;
      if (plan.alone && last?.start === start) last.found ??= find(start, undefined);
      else last = { start, found: undefined };
      return emit(end, (last.found ?? find(start, end)).get(end));
    }
    for (const [end, traces] of find(start, undefined)) if (!emit(end, traces)) return false;
    return true;
  };
}

/** Whether a walk may still become a path of the mode, when all but its last step was. */
function mayGoOn(mode: PathMode, last: State): boolean {
  const [step] = last.from;
  const start = firstOf(last);
  switch (mode) {
    case 'walk':
      return true;
    case 'trail':
      return !earlier(last, ({ from }) => from[0]?.edge === step!.edge);
    case 'acyclic':
      return !earlier(last, ({ node }) => node === last.node);
    case 'simple': {
      const before = step!.state;
      if (before.length > 0 && before.node === start.node) return false;
      return last.node === start.node || !earlier(last, ({ node }) => node === last.node);
    }
    default:
      return mode satisfies never;
  }
}

function firstOf(state: State): State {
  let at = state;
  while (at.from.length > 0) at = at.from[0]!.state;
  return at;
}

/** Whether a state before the last one is such. */
function earlier(last: State, is: (state: State) => boolean): boolean {
  for (let at = last.from[0]?.state; at; at = at.from[0]?.state) if (is(at)) return true;
  return false;
}
