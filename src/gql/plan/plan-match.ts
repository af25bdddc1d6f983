/**
 * Plans one MATCH clause: its nodes fall into groups tied by plain edges; each group is searched as one piece, and
 * quantified paths lead from group to group.
 */
import type { FeatureIndex } from '../index/feature-index.ts';
import type { Catalog } from '../storage/catalog.ts';
import type { Store } from '../storage/store.ts';
import { Estimates, nodeTotals } from './estimates.ts';
import { bothLabels } from './label-of.ts';
import type { Match } from './match.ts';
import { type OrderOptions, orderSteps, type PlannedStep } from './order.ts';
import type { Condition, Pattern, PatternEdge } from './pattern.ts';
import type { PlanningClock } from './planning-clock.ts';
import { FEWEST, takeSample } from './sample.ts';
import { SegmentFilter, tiedTo } from './segment-filter.ts';
import type { Step } from './step.ts';

export type PlannedPart =
  | {
      readonly kind: 'search';
      readonly steps: readonly PlannedStep[];
      /** Pattern nodes and edges that the part binds (indices). */
      readonly nodes: readonly number[];
      readonly edges: readonly number[];
      /** Pattern nodes that are bound before the part. */
      readonly before: readonly number[];
      /** Segments for each scan, in order of the steps. */
      readonly scans: readonly Int32Array[];
      /**
       * The step after which everything depends on a single node, when that node is likely to repeat: what the
       * steps find for it is kept. -1 when there is none.
       */
      readonly keepFrom: number;
      /** Search with candidate sets instead of generated loops. */
      readonly byCandidates: boolean;
      /** Whether to go through the steps without writing code for them: until they have looked at much, or always. */
      readonly bySteps: BySteps;
    }
  | {
      readonly kind: 'repeat';
      readonly repeat: number;
      readonly reversed: boolean;
      readonly endBound: boolean;
    };

export interface PlannedMatch {
  readonly parts: readonly PlannedPart[];
  readonly cost: number;
}

export type BySteps = 'never' | 'first' | 'always';

/** See `QueryOptions.strategy`. */
export type Strategy = 'auto' | 'loops' | 'candidates' | 'steps';

export interface PlanInput {
  readonly clock: PlanningClock;
  readonly strategy: Strategy;
  readonly index: FeatureIndex;
  readonly catalog: Catalog;
  readonly visible: Uint8Array;
  readonly segments: number;
  readonly store: Store;
  /** Take everything in the order of the text and filter nothing. */
  readonly naive: boolean;
  /**
   * Per label set, 1 when nodes with it are in grouped segments and do not roam: the search looks for them in one
   * segment at a time. Undefined when it looks everywhere.
   */
  readonly confined: Uint8Array | undefined;
  /** Per segment row its place in the order that scans go in; undefined for the order of rows. */
  readonly rank: Int32Array | undefined;
  /** Place of each segment row in the order of keys. */
  readonly ranks: Int32Array;
  /** Per pattern node: truth by label set, when the caller reads labels in its own way. */
  readonly setsOf: (node: Pattern['nodes'][number]) => Uint8Array;
}

/**
 * Patterns with at least so many nodes, in segments with at least so many nodes, are searched by candidate sets when
 * loops cost more than a tenth of making the sets. That holds for trees: what a cycle leaves is often wrong by orders of
 * magnitude, so a pattern with one is searched by loops only when hardly anything is to be looked at.
 */
const CANDIDATES = { nodes: 6, most: 31, segment: 256, share: 0.1, cyclic: 256 };

/** Steps that code is written for; loops that are nested deeper take long to compile. */
const MOST_WRITTEN = 40;

/** Entries to look at that take less time than writing and compiling the code that would look at them faster. */
const SMALL = 20_000;

/** The plans of the matches of a query; where there is little to look at, no code is written at first. */
export function withoutCode(
  plan: readonly PlannedMatch[],
  strategy: Strategy,
  naive: boolean,
): readonly PlannedMatch[] {
  // Each match may be searched for every row of those before.
  const cost = plan.reduce((product, match) => product * Math.max(1, match.cost), 1);
  if (strategy !== 'auto' || naive || !(cost <= SMALL)) return plan;
  return plan.map((match) => ({
    ...match,
    parts: match.parts.map((part) =>
      part.kind === 'search' && part.bySteps === 'never' ? { ...part, bySteps: 'first' } : part,
    ),
  }));
}

/** Nodes of a pattern for which a sample is taken. */
const SAMPLED = 32;

/** @param anchor pattern node that the search is to be grouped by: it starts among the nodes of its segment */
export function planMatch(match: Match, input: PlanInput, anchor?: number): PlannedMatch {
  const { pattern, repeats } = match;
  const groups = groupsOf(pattern);
  const bound = pattern.nodes.map((node) => node.bound);
  const doneGroups = new Set<number>();
  const doneRepeats = new Set<number>();
  const parts: PlannedPart[] = [];
  let cost = 0;
  const isBound = (slot: number) =>
    pattern.nodes.some((node, n) => node.slot === slot && bound[n]) ||
    pattern.edges.some(
      (edge) => edge.slot === slot && (edge.bound || doneGroups.has(groups.of[edge.from]!)),
    ) ||
    repeats.some(({ binds }, i) => doneRepeats.has(i) && binds.includes(slot));

  const search = (which: readonly number[]) => {
    const part = planPart(match, which, bound, input, anchor);
    parts.push(part.part);
    cost += part.cost;
    for (const g of which) {
      doneGroups.add(g);
      groups.members[g]!.forEach((n) => {
        bound[n] = true;
      });
    }
  };

  // What earlier clauses have bound comes first, then the group of the anchor, then what is rarest.
  const held = groups.members.flatMap((members, g) => (members.some((n) => bound[n]) ? [g] : []));
  if (held.length > 0) search(held);
  else if (pattern.nodes.length > 0) search([firstGroup(match, groups, bound, input, anchor)]);
  for (;;) {
    const ready = (i: number) => !doneRepeats.has(i) && repeats[i]!.needs.every((slot) => isBound(slot));
    const inside = repeats.findIndex((r, i) => ready(i) && bound[r.from] && bound[r.to]);
    if (inside >= 0) {
      doneRepeats.add(inside);
      parts.push({ kind: 'repeat', repeat: inside, reversed: false, endBound: true });
      continue;
    }
    const way = repeats.findIndex(
      (r, i) => ready(i) && bound[r.from] !== bound[r.to] && (bound[r.from] || !r.search),
    );
    if (way >= 0) {
      const { from, to } = repeats[way]!;
      const reversed = !bound[from];
      const end = reversed ? from : to;
      doneRepeats.add(way);
      parts.push({ kind: 'repeat', repeat: way, reversed, endBound: false });
      bound[end] = true;
      search([groups.of[end]!]);
      continue;
    }
    const left = groups.members.flatMap((_, g) => (doneGroups.has(g) ? [] : [g]));
    if (left.length === 0) break;
    // Several unconnected groups at once, unless they have quantified paths, so that conditions between them
    // are checked as early as can be.
    search(repeats.length === 0 ? left : [firstGroup(match, groups, bound, input, undefined)]);
  }
  return { parts, cost: cost + costOfRepeats(match, cost, input) };
}

/** Entries that quantified paths are expected to look at: as many as walks of their length from what is bound. */
function costOfRepeats({ repeats }: Match, cost: number, { index }: PlanInput): number {
  const degree = (2 * index.edgeTotal) / Math.max(1, index.nodeTotal);
  return repeats.reduce((sum, { forward }) => {
    const length =
      Math.min(forward.most, Math.max(forward.least, LONG_WALK)) * Math.max(1, forward.items.length / 2);
    return sum + Math.max(1, cost) * Math.max(1, degree) ** length;
  }, 0);
}

/** Iterations that quantified paths without a bound are thought to go on for. */
const LONG_WALK = 6;

interface Groups {
  readonly of: readonly number[];
  readonly members: readonly (readonly number[])[];
}

const groupsKept = new WeakMap<Pattern, Groups>();

/** Pattern nodes joined by plain edges. */
function groupsOf(pattern: Pattern): Groups {
  let groups = groupsKept.get(pattern);
  if (groups) return groups;
  const neighbours: number[][] = pattern.nodes.map(() => []);
  for (const { from, to } of pattern.edges) {
    neighbours[from]!.push(to);
    neighbours[to]!.push(from);
  }
  const of = pattern.nodes.map(() => -1);
  const members: number[][] = [];
  pattern.nodes.forEach((_, start) => {
    if (of[start] !== -1) return;
    const group = members.length;
    const list = [start];
    of[start] = group;
    for (let i = 0; i < list.length; i++)
      for (const next of neighbours[list[i]!]!) {
        if (of[next] !== -1) continue;
        of[next] = group;
        list.push(next);
      }
    members.push(list.sort((a, b) => a - b));
  });
  groups = { of, members };
  groupsKept.set(pattern, groups);
  return groups;
}

function firstGroup(
  match: Match,
  groups: Groups,
  bound: readonly boolean[],
  input: PlanInput,
  anchor: number | undefined,
): number {
  if (anchor !== undefined) return groups.of[anchor]!;
  const open = groups.members.flatMap((members, g) => (members.every((n) => !bound[n]) ? [g] : []));
  // A search for paths from each start finds all their ends, so that the ends need not be sought before.
  const ends = new Set(
    match.repeats.flatMap(({ search, from, to }) =>
      search && groups.of[from] !== groups.of[to] ? [groups.of[to]!] : [],
    ),
  );
  const starts = open.filter((g) => !ends.has(g));
  const free = starts.length > 0 ? starts : open;
  if (input.naive || free.length === 1 || input.clock.isLate) return free[0]!;
  let best = free[0]!;
  let least = Number.POSITIVE_INFINITY;
  for (const g of free.length > PLANNED_GROUPS ? rarest(match, free, groups, input) : free) {
    const { rows, cost } = planPart(match, [g], bound, input, undefined);
    // What is left over multiplies the work of everything behind it.
    const weight = cost + rows * 20;
    if (weight < least) {
      least = weight;
      best = g;
    }
  }
  return best;
}

/** Groups that are planned to find out which is the best to start with; of more, the rarest. */
const PLANNED_GROUPS = 8;

/** The groups whose rarest nodes are the rarest. */
function rarest(
  { pattern }: Match,
  free: readonly number[],
  { members }: Groups,
  input: PlanInput,
): number[] {
  const totals = nodeTotals(pattern.nodes, input.index, input.setsOf);
  const least = free.map((g) =>
    members[g]!.reduce((min, n) => Math.min(min, totals[n]!), Number.POSITIVE_INFINITY),
  );
  const order = [...free.keys()].sort((a, b) => least[a]! - least[b]!);
  return order.slice(0, PLANNED_GROUPS).map((i) => free[i]!);
}

/** The pattern of a part: what is bound before is bound in it, with nothing left to test. */
export function patternOfPart(
  match: Match,
  nodes: readonly number[],
  before: readonly number[],
  edges: readonly number[],
  heldEdges: readonly PatternEdge[],
  earlierConditions: ReadonlySet<Condition>,
): { pattern: Pattern; place: ReadonlyMap<number, number> } {
  const { pattern } = match;
  const inside = new Set(nodes);
  const earlier = new Set(before);
  const list = [...nodes, ...before.filter((n) => !inside.has(n))];
  const place = new Map(list.map((n, i) => [n, i]));
  const all = edges.map((e) => ({
    ...pattern.edges[e]!,
    from: place.get(pattern.edges[e]!.from)!,
    to: place.get(pattern.edges[e]!.to)!,
  }));
  return {
    place,
    pattern: {
      nodes: list.map((n) => {
        const node = pattern.nodes[n]!;
        if (!earlier.has(n)) return node;
        return inside.has(n)
          ? { ...node, bound: true }
          : { ...node, bound: true, label: undefined, known: bothLabels(node.label, node.known) };
      }),
      edges: all,
      held: heldEdges,
      conditions: pattern.conditions.filter((c) => !earlierConditions.has(c)),
      distinct: pattern.distinct,
    },
  };
}

function planPart(
  match: Match,
  which: readonly number[],
  bound: readonly boolean[],
  input: PlanInput,
  anchor: number | undefined,
): { part: PlannedPart; cost: number; rows: number } {
  const groups = groupsOf(match.pattern);
  const nodes = which.flatMap((g) => groups.members[g]!);
  const inside = new Set(nodes);
  const edges = match.pattern.edges.flatMap(({ from }, e) => (inside.has(from) ? [e] : []));
  const before = match.pattern.nodes.flatMap((_, n) => (bound[n] ? [n] : []));
  const { pattern, place } = patternOfPart(match, nodes, before, edges, [], new Set());
  let filter: SegmentFilter | undefined;
  const filterFor = (estimates: Pick<Estimates, 'sets' | 'crossing'>): SegmentFilter => {
    filter ??= new SegmentFilter({ pattern, estimates, ...input });
    return filter;
  };
  const { index, catalog, segments, setsOf } = input;
  const samples =
    !input.naive && !input.clock.isLate && segments >= FEWEST && pattern.nodes.length <= SAMPLED;
  const estimates = new Estimates(pattern, index, catalog, segments, setsOf, (rough) =>
    samples
      ? takeSample(pattern, {
          ...input,
          ...rough,
          segmentsFor: (node) => inOrderOf(input.ranks, filterFor(rough).segmentsFor(node)),
        })
      : undefined,
  );
  const options: OrderOptions = {
    naive: input.naive,
    hurried: input.clock.isLate,
    roots:
      anchor !== undefined && place.has(anchor)
        ? [...tiedTo(place.get(anchor)!, pattern, estimates)].filter((n) => !pattern.nodes[n]!.bound)
        : undefined,
    confined: input.confined && estimates.sets.map((truths) => isConfined(truths, input)),
    within: anchor === undefined || !place.has(anchor) || bound[anchor] === true,
  };
  const order = orderSteps(pattern, estimates, options);
  const everywhere = input.naive ? allSegments(input.visible) : undefined;
  const scans = order.steps.flatMap(({ step }) =>
    step.kind === 'scan'
      ? [inOrderOf(input.rank, everywhere ?? filterFor(estimates).segmentsFor(step.node))]
      : [],
  );
  const [root] = scans;
  // What is kept of a node shared by segments would be kept for all of them.
  const keepFrom =
    input.naive || input.confined || order.steps.length > MOST_WRITTEN
      ? -1
      : keepingFrom(pattern, order.steps, estimates);
  const possible =
    !input.naive &&
    before.length === 0 &&
    which.length === 1 &&
    nodes.length <= CANDIDATES.most &&
    !pattern.edges.some((edge) => edge.bound) &&
    !estimates.crossing.some((crossing) => crossing) &&
    root !== undefined;
  const pays =
    nodes.length >= CANDIDATES.nodes &&
    input.index.nodeTotal / Math.max(1, input.segments) >= CANDIDATES.segment &&
    order.cost > mostOfLoops(pattern, estimates);
  const byCandidates = possible && (input.strategy === 'auto' ? pays : input.strategy === 'candidates');
  return {
    part: {
      kind: 'search',
      steps: order.steps,
      nodes,
      edges,
      before,
      scans,
      keepFrom,
      byCandidates,
      bySteps: order.steps.length > MOST_WRITTEN || input.strategy === 'steps' ? 'always' : 'never',
    },
    cost: order.cost,
    rows: order.steps.at(-1)?.rows ?? 1,
  };
}

/** Cost of loops beyond which candidate sets are used. */
function mostOfLoops(pattern: Pattern, estimates: Estimates): number {
  const hasCycle = pattern.edges.length >= pattern.nodes.length;
  return hasCycle ? CANDIDATES.cyclic : candidateCost(pattern, estimates) * CANDIDATES.share;
}

/** Entries at all candidates, which a search by candidate sets looks at before it begins. */
function candidateCost({ nodes, edges }: Pattern, estimates: Estimates): number {
  const all = nodes.reduce((sum, _, n) => sum + estimates.visited[n]! + estimates.nodes[n]!, 0);
  return edges.reduce(
    (sum, { from, to }, e) =>
      sum +
      estimates.nodes[from]! * estimates.entries(e, 0, false) +
      estimates.nodes[to]! * estimates.entries(e, 1, false),
    all,
  );
}

/** Whether every node with a matching label set is searched in one segment at a time. */
function isConfined(truths: Uint8Array, { confined, index }: PlanInput): boolean {
  return truths.every((truth, set) => truth === 0 || !index.nodes[set]?.size || confined?.[set] === 1);
}

/** Steps worth keeping, and the number of bindings for a node. */
const KEEP = { steps: 2, fan: 2 };

/**
 * The first step of a tail that starts at one node bound well before it (the caching of Kalinsky, Etsion and Kimelfeld,
 * "Flexible caching in trie joins", EDBT 2017, for the last branch of the search tree).
 */
function keepingFrom(pattern: Pattern, steps: readonly PlannedStep[], estimates: Estimates): number {
  for (let at = 2; at <= steps.length - KEEP.steps; at++) {
    const { step } = steps[at]!;
    if (step.kind !== 'walk') continue;
    const start = startOf(pattern, step);
    // The node before last is bound anew for every binding anyway.
    const last = steps[at - 1]!.step;
    if (last.kind === 'walk' && endOf(pattern, last) === start) continue;
    const tail = new Set([start]);
    const hangsTogether = steps.slice(at).every(({ step: next }) => {
      if (next.kind === 'scan') return false;
      if (next.kind === 'connect') {
        const { from, to } = pattern.edges[next.edge]!;
        return tail.has(from) && tail.has(to);
      }
      if (!tail.has(startOf(pattern, next)) || pattern.edges[next.edge]!.bound) return false;
      tail.add(endOf(pattern, next));
      return true;
    });
    if (!hangsTogether) continue;
    const before = steps[at - 1]!.rows;
    const comesAgain = before * 4 >= estimates.nodes[start]!;
    const fan = estimates.fan(step.edge, step.reversed ? 1 : 0, true);
    if (comesAgain && (fan >= KEEP.fan || steps.length - at > KEEP.steps)) return at;
  }
  return -1;
}

type Walk = Extract<Step, { kind: 'walk' }>;

function startOf(pattern: Pattern, { edge, reversed }: Walk): number {
  const { from, to } = pattern.edges[edge]!;
  return reversed ? to : from;
}

function endOf(pattern: Pattern, { edge, reversed }: Walk): number {
  const { from, to } = pattern.edges[edge]!;
  return reversed ? from : to;
}

/** Segment rows in the order of their ranks. */
function inOrderOf(rank: Int32Array | undefined, rows: Int32Array): Int32Array {
  if (!rank) return rows;
  const rowAt = new Int32Array(rank.length);
  const places = rows.map((row) => rank[row]!).sort();
  for (const row of rows) rowAt[rank[row]!] = row;
  return places.map((place) => rowAt[place]!);
}

function allSegments(visible: Uint8Array): Int32Array {
  return Int32Array.from([...visible.keys()].filter((slot) => visible[slot] === 1));
}
