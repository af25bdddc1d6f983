/**
 * Matches segment by segment: for each grouped segment, what the pattern's variables are bound to in it.
 */
import { type BeginExtras, begin, settingsOf, settled } from './engine.ts';
import type { PatternGraph } from './graph.ts';
import type { QueryOptions } from './options.ts';
import type { Compiled } from './plan/compile.ts';
import type { Binding } from './plan/scope.ts';
import { matchesOf } from './search/clauses.ts';
import { type SegmentMatches, treeOf } from './search/execute.ts';
import { expressionsOf } from './search/functions.ts';
import { planKept, type QueryPlan } from './search/plan-query.ts';
import type { Shortage } from './search/stage.ts';
import { S } from './storage/store.ts';
import { type Uncertain, uncertainOf } from './uncertain.ts';

/** What a variable is bound to: a node or edge by its number in the graph, lists of these, or null. */
export type BoundValue =
  | { readonly kind: 'node'; readonly id: string; readonly node: number }
  | {
      readonly kind: 'edge';
      readonly id: string | undefined;
      readonly edge: number;
      readonly label: string;
      readonly source: string;
      readonly target: string;
    }
  | { readonly kind: 'path'; readonly elements: readonly BoundValue[] }
  | { readonly kind: 'list'; readonly items: readonly BoundValue[] }
  | null;

export interface SegmentMatch {
  /** By variable, those of quantified paths as lists. */
  readonly bindings: Readonly<Record<string, BoundValue>>;
  /** Every edge that the match uses, those without a variable and those of quantified paths included. */
  readonly edges: readonly Extract<BoundValue, { kind: 'edge' }>[];
  /** Label memberships below 1 that the match makes use of; empty for a match that holds for certain. */
  readonly uncertain: readonly Uncertain[];
  /** Whether the match holds whatever is true of the uncertain labels, those inside EXISTS included. */
  readonly definite: boolean;
  /**
   * Whether the match holds if exactly those uncertain memberships are true for which `isTrue` says so. Labels
   * inside EXISTS are not looked at.
   */
  readonly holdsIn: (isTrue: (node: number, label: string) => boolean) => boolean;
}

export interface SegmentAnswer {
  readonly key: string;
  /** Matches in the segment; with `exactCounts: false` possibly only those handed out. */
  readonly count: number;
  readonly matches: readonly SegmentMatch[];
}

export interface BySegmentOptions extends QueryOptions {
  /** Matches to hand out for each segment. @default 100 */
  readonly matchesPerSegment?: number;
  /** Whether to count the matches that are not handed out. @default true */
  readonly exactCounts?: boolean;
  /** Keys of the grouped segments whose matches are wanted, which may reach into others; all when not given. */
  readonly only?: ReadonlySet<string> | undefined;
  /** Key of the last segment that was seen; the answer goes on behind it. */
  readonly after?: string | undefined;
}

export interface BySegmentEnd {
  readonly complete: boolean;
  readonly shortage: Shortage | undefined;
}

/** Segments that are searched before the first answer; later stretches grow. */
const FIRST_WINDOW = 256;
const LAST_WINDOW = 16_384;

/**
 * Goes through the grouped segments in the order of their keys and answers those with a match. The pattern has to
 * begin with MATCH; a match belongs to the segment of its first node pattern that can stand in a grouped segment.
 * Nodes that no edge ties to that one are looked for in the same segment, or in one that is not grouped. What RETURN
 * says is not looked at.
 */
export async function* matchBySegment(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions = {},
  extras: BeginExtras = {},
): AsyncGenerator<SegmentAnswer, BySegmentEnd, void> {
  const start = performance.now();
  const time = options.budgets?.time;
  // An iterable may be gone after one pass; the same array each time also keeps the plan.
  const segments = options.segments && [...options.segments];
  let from = 0;
  let window = FIRST_WINDOW;
  let given = 0;
  for (;;) {
    const left = time === undefined ? undefined : Math.max(1, time - (performance.now() - start));
    const step = await segmentWindow(
      graph,
      text,
      {
        ...options,
        segments,
        budgets: { ...options.budgets, ...(left === undefined ? {} : { time: left }) },
      },
      { from, to: from + window },
      extras,
    );
    for (const answer of step.answers) {
      yield answer;
      given++;
      if (options.budgets?.rows !== undefined && given >= options.budgets.rows)
        return { complete: false, shortage: 'rows' };
    }
    if (step.shortage) return { complete: false, shortage: step.shortage };
    from += window;
    if (from >= step.total) return { complete: true, shortage: undefined };
    window = Math.min(LAST_WINDOW, window * 4);
  }
}

/** All matching segments at once, with the number of matches of each. */
export async function countBySegment(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions = {},
  extras: BeginExtras = {},
): Promise<BySegmentEnd & { readonly counts: ReadonlyMap<string, number> }> {
  const all = { from: 0, to: Number.POSITIVE_INFINITY };
  const step = await segmentWindow(graph, text, { ...options, matchesPerSegment: 0 }, all, extras);
  return {
    counts: new Map(step.answers.map(({ key, count }) => [key, count])),
    complete: step.shortage === undefined,
    shortage: step.shortage,
  };
}

interface Window {
  readonly from: number;
  readonly to: number;
}

async function segmentWindow(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions,
  window: Window,
  extras: BeginExtras,
): Promise<{ answers: SegmentAnswer[]; total: number; shortage: Shortage | undefined }> {
  const found: SegmentMatches[] = [];
  let total = 0;
  const anchor = anchorOf(graph, text, options, extras);
  if (anchor === undefined) return { answers: [], total: 0, shortage: undefined };
  const others = graph.ungroupedSlots(options.segments);
  const make = () =>
    begin(
      graph,
      text,
      options,
      {
        kind: 'segments',
        matches: options.matchesPerSegment ?? 100,
        exact: options.exactCounts ?? true,
        others,
      },
      {
        ...extras,
        anchor,
        arrange: (planned) => {
          const arranged = inOrder(graph, planned, options);
          const [part] = arranged.plan[0]!.parts;
          total = part?.kind === 'search' ? part.scans[0]!.length : 0;
          return cut(arranged, window);
        },
      },
    );
  const { running, outcome } = await settled(
    make,
    (batch) => {
      if (batch.kind === 'segments') found.push(...batch.found);
    },
    () => {
      found.length = 0;
    },
  );
  const keys = new Map(found.map(({ segment }) => [segment, graph.segmentKey(segment)]));
  const sorted = found.sort((a, b) => (keys.get(a.segment)! < keys.get(b.segment)! ? -1 : 1));
  const { compiled } = running.planned;
  const answers = sorted.map(({ segment, count, matches }) => ({
    key: keys.get(segment)!,
    count,
    matches: matches.map((match) => new BoundMatch(graph, compiled, match)),
  }));
  return { answers, total, shortage: outcome.shortage };
}

/** Slot of the first node pattern that can stand in a grouped segment. */
function anchorOf(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions,
  extras: BeginExtras,
): number | undefined {
  const settings = settingsOf(text, options, extras.relaxation);
  const tree = treeOf(settings);
  const visible = graph.visible(options.segments);
  const { compiled } = planKept(graph, () => tree, settings, expressionsOf(graph.store, settings), {
    naive: true,
    visible,
  });
  const [first] = compiled.clauses;
  if (first?.kind !== 'match') return undefined;
  for (const node of first.match.pattern.nodes) {
    const sets = compiled.setTable(node);
    const stands = graph.index.nodes.some(
      (postings, set) =>
        postings !== undefined && (sets === undefined || sets[set] !== 0) && graph.hasGrouped(postings),
    );
    if (stands) return node.slot;
  }
  return undefined;
}

/** Grouped segments only, those wanted, in the order of their keys, behind the cursor. */
function inOrder(graph: PatternGraph, planned: QueryPlan, { after, only }: BySegmentOptions): QueryPlan {
  const [first, ...rest] = planned.plan;
  const [part, ...parts] = first!.parts;
  if (part?.kind !== 'search' || part.scans.length === 0)
    throw new Error('A pattern that is matched segment by segment has to begin with a search');
  const { rank, keys } = graph.segmentRanks();
  const slots = [...part.scans[0]!].filter(
    (slot) =>
      graph.store.segmentField(slot, S.grouped) === 1 &&
      (after === undefined || keys[rank[slot]!]! > after) &&
      (only === undefined || only.has(keys[rank[slot]!]!)),
  );
  slots.sort((a, b) => rank[a]! - rank[b]!);
  const scans = [Int32Array.from(slots), ...part.scans.slice(1)];
  return { ...planned, plan: [{ ...first!, parts: [{ ...part, scans }, ...parts] }, ...rest] };
}

function cut(planned: QueryPlan, { from, to }: Window): QueryPlan {
  const [first, ...rest] = planned.plan;
  const [part, ...parts] = first!.parts;
  if (part?.kind !== 'search') return planned;
  const whole = part.scans[0]!;
  const scans = [whole.slice(from, Math.min(to, whole.length)), ...part.scans.slice(1)];
  const share = scans[0]!.length / Math.max(1, whole.length);
  return {
    ...planned,
    cost: planned.cost * share,
    plan: [{ ...first!, parts: [{ ...part, scans }, ...parts] }, ...rest],
  };
}

/** A match whose names are only looked up when somebody asks. */
class BoundMatch implements SegmentMatch {
  readonly #graph: PatternGraph;
  readonly #compiled: Compiled;
  readonly #row: Int32Array;
  readonly #values: readonly unknown[];
  readonly #certain: boolean;
  #bindings: Record<string, BoundValue> | undefined;
  #uncertain: ReturnType<typeof uncertainOf> | undefined;

  constructor(
    graph: PatternGraph,
    compiled: Compiled,
    { row, values, certain }: SegmentMatches['matches'][number],
  ) {
    this.#certain = certain;
    this.#graph = graph;
    this.#compiled = compiled;
    this.#row = row;
    this.#values = values;
  }

  get bindings(): Readonly<Record<string, BoundValue>> {
    if (!this.#bindings) {
      this.#bindings = {};
      for (const [name, binding] of this.#compiled.scope.own()) {
        if (name.charCodeAt(0) < 32) continue;
        this.#bindings[name] = boundValue(
          this.#graph,
          binding,
          this.#row[binding.slot]!,
          this.#values[binding.slot],
        );
      }
    }
    return this.#bindings;
  }

  get edges(): SegmentMatch['edges'] {
    const edges = new Set<number>();
    for (const { pattern, repeats } of matchesOf(this.#compiled.clauses)) {
      for (const { slot } of pattern.edges) if (this.#row[slot]! >= 0) edges.add(this.#row[slot]!);
      for (const { forward } of repeats) {
        const walked = this.#values[forward.elementsSlot];
        if (Array.isArray(walked))
          walked.forEach((element, i) => i % 2 === 0 && edges.add(element as number));
      }
    }
    return [...edges].map((edge) => edgeValue(this.#graph, edge));
  }

  get uncertain(): readonly Uncertain[] {
    return this.#labels().uncertain;
  }

  get definite(): boolean {
    return this.#certain && this.#labels().definite;
  }

  get holdsIn(): SegmentMatch['holdsIn'] {
    return this.#labels().holdsIn;
  }

  #labels(): ReturnType<typeof uncertainOf> {
    this.#uncertain ??= uncertainOf(this.#graph.store, this.#compiled.clauses, this.#row, this.#values);
    return this.#uncertain;
  }
}

function boundValue(graph: PatternGraph, binding: Binding, element: number, value: unknown): BoundValue {
  switch (binding.kind) {
    case 'node':
      return element < 0 ? null : nodeValue(graph, element);
    case 'edge':
      return element < 0 ? null : edgeValue(graph, element);
    case 'path': {
      if (!Array.isArray(value)) return null;
      const elements = (value as number[]).map((e, i) =>
        i % 2 === 0 ? nodeValue(graph, e) : edgeValue(graph, e),
      );
      return { kind: 'path', elements };
    }
    case 'group': {
      if (!Array.isArray(value)) return null;
      const items = value.map((item) =>
        boundValue(graph, binding.of, typeof item === 'number' ? item : -2, item),
      );
      return { kind: 'list', items };
    }
    case 'value':
      return null;
    default:
      return binding satisfies never;
  }
}

export function nodeValue({ store }: PatternGraph, node: number): BoundValue {
  return { kind: 'node', id: store.nodeId(node), node };
}

export function edgeValue({ store }: PatternGraph, edge: number): Extract<BoundValue, { kind: 'edge' }> {
  const end = (reference: number): string => {
    const node = store.end(reference);
    return node < 0 ? '' : store.nodeId(node);
  };
  return {
    kind: 'edge',
    id: store.edgeId(edge),
    edge,
    label: store.edgeLabel(edge),
    source: end(store.edgeRow.view[edge * 4 + 1]!),
    target: end(store.edgeRow.view[edge * 4 + 2]!),
  };
}
