/**
 * Plans all matches of a query on the main thread, where the inverted index is.
 */
import { createHash } from 'node:crypto';
import { LRUCache } from 'lru-cache';
import type { PatternGraph } from '../graph.ts';
import { FeatureIndex } from '../index/feature-index.ts';
import type { Query, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';
import { compileQuery } from '../plan/compile.ts';
import type { Compiled, Expressions } from '../plan/compiled.ts';
import { FALSE, TRUE, UNKNOWN } from '../plan/label-test.ts';
import type { Match } from '../plan/match.ts';
import {
  type PlanInput,
  type PlannedMatch,
  type PlannedPart,
  planMatch,
  type Strategy,
  withoutCode,
} from '../plan/plan-match.ts';
import { PlanningClock } from '../plan/planning-clock.ts';
import { matchesOf } from './prepared-clauses.ts';
import type { QuerySettings } from './request.ts';

export interface QueryPlan {
  readonly compiled: Compiled;
  /**
   * Slots of the nodes that searches segment by segment have to start from, one after the other, to find everything;
   * see {@link anchorsOf}. When there is none nothing is found, and nothing is planned.
   */
  readonly anchors: readonly number[];
  /** Whether every match has the first of these in its segment, so that it is enough. */
  readonly isAnchored: boolean;
  /** Place, among these, of the one that this plan starts from. */
  readonly anchor: number;
  /** In reading order, those of EXISTS bodies last. */
  readonly matches: readonly Match[];
  readonly plan: readonly PlannedMatch[];
  readonly columns: readonly string[];
  readonly strings: Readonly<Record<string, number>>;
  readonly crossingCodes: readonly number[];
  /** Entries expected to be looked at. */
  readonly cost: number;
  /** Steps for which code is to be written before anything is found. */
  readonly written: number;
  /** Different for plans with different code. */
  readonly name: string;
  /** Whether the planning took long, and the rest of it was done without looking for the best. */
  readonly isHurried: boolean;
}

export interface PlanOptions {
  readonly naive: boolean;
  readonly strategy?: Strategy | undefined;
  readonly visible: Uint8Array;
  /** Whether estimates are of the visible segments alone, which takes a walk through all of them. @default false */
  readonly visibleAlone?: boolean | undefined;
  /**
   * Whether scans go through the segments in the order of their keys, not in that in which they were put: set for a query that may
   * see some segments alone, so that the order of its matches tells nothing of others. @default false
   */
  readonly inKeyOrder?: boolean | undefined;
  /** Set when the search goes segment by segment; see `ExecuteRequest` for what may roam. */
  readonly bySegment?: BySegmentPlan | undefined;
}

export interface BySegmentPlan {
  readonly roaming: readonly string[] | undefined;
  /** Place, among the anchors, of the one to start from. @default 0 */
  readonly anchor?: number;
}

/** Plans by what the query sees: the array that `graph.visible` answers, one for each state of the graph. */
const kept = new WeakMap<Uint8Array, LRUCache<string, QueryPlan>>();
const MAX_KEPT = 300;

/** `planQuery`, kept for the next time. */
export function planKept(
  graph: PatternGraph,
  tree: () => Query,
  settings: QuerySettings,
  expressions: () => Expressions,
  options: PlanOptions,
): QueryPlan {
  let plans = kept.get(options.visible);
  if (!plans) {
    plans = new LRUCache({ max: MAX_KEPT });
    kept.set(options.visible, plans);
  }
  const { naive, bySegment, strategy = 'auto', visibleAlone = false, inKeyOrder = false } = options;
  const name = shortened(
    JSON.stringify([settings, naive, bySegment ?? -1, strategy, visibleAlone, inKeyOrder]),
  );
  let plan = plans.get(name);
  if (!plan) {
    plan = planQuery(graph, tree(), settings, expressions(), options);
    // The next time there may be more time for it.
    if (!plan.isHurried) plans.set(name, plan);
  }
  return plan;
}

/** Longest name that is kept as it is. */
const LONGEST_NAME = 1_000;

/** A name that stands for a text of any length: large parameters would be kept with every plan. */
function shortened(text: string): string {
  return text.length <= LONGEST_NAME ? text : createHash('sha256').update(text).digest('base64');
}

export function planQuery(
  graph: PatternGraph,
  tree: Query,
  settings: QuerySettings,
  expressions: Expressions,
  options: PlanOptions,
): QueryPlan {
  const { store } = graph;
  const { rank: ranks } = graph.segmentRanks();
  const { index, segments } = options.visibleAlone
    ? visibleIndex(graph, options.visible)
    : { index: graph.index, segments: graph.segmentCount };
  const strings: Record<string, number> = {};
  const stringNumber = (text: string): number => {
    const number = store.strings.find(text);
    strings[text] = number;
    return number;
  };
  for (const text of stringsOf(tree)) stringNumber(text);
  for (const value of Object.values(settings.parameters)) if (typeof value === 'string') stringNumber(value);
  const compiled = compileQuery(tree, store, { ...settings, stringNumber }, expressions);
  const matches = [...matchesOf(compiled.clauses), ...compiled.inner.flatMap((body) => matchesOf(body))];
  const clock = new PlanningClock();
  const input = {
    clock,
    index,
    catalog: store.catalog,
    visible: options.visible,
    segments,
    store,
    naive: options.naive,
    confined: options.bySegment?.roaming && confinedSets(graph, options.bySegment.roaming),
    strategy: options.strategy ?? 'auto',
    rank: options.inKeyOrder ? ranks : undefined,
    ranks,
    setsOf: (node: Match['pattern']['nodes'][number]) => {
      const asked = compiled.setTable(node) ?? new Uint8Array(store.catalog.labelSets.length).fill(TRUE);
      // What is known from elsewhere may have been read as possible only: it must not exclude too much.
      const before = node.known && compiled.setTable({ label: node.known, leastTruth: UNKNOWN });
      return before ? asked.map((truth, set) => Math.min(truth, before[set]!)) : asked;
    },
  };
  const { anchors, isAnchored } = options.bySegment
    ? anchorsOf(graph, compiled, input)
    : { anchors: [], isAnchored: false };
  const anchor = anchors[options.bySegment?.anchor ?? 0];
  const nowhere = options.bySegment && anchor === undefined;
  const planned = (nowhere ? [] : matches).map((match, i) => {
    const first = i === 0 ? match.pattern.nodes.findIndex((node) => node.slot === anchor) : -1;
    return planMatch(match, input, first >= 0 ? first : undefined);
  });
  const plan = withoutCode(planned, options.strategy ?? 'auto', options.naive);
  // Tables of the compiled code are as long as these.
  const kinds = [
    store.catalog.nodeKinds.length,
    store.catalog.edgeKinds.length,
    store.catalog.edgeLabels.length,
  ];
  const crossingCodes = graph.index.crossings.flatMap((bySet, code) =>
    bySet && bySet.size > 0 ? [code] : [],
  );
  return {
    compiled,
    anchors,
    isAnchored,
    anchor: options.bySegment?.anchor ?? 0,
    matches,
    plan,
    columns: compiled.result.columns,
    strings,
    crossingCodes,
    cost: plan.reduce((sum, { cost }) => sum + cost, 0),
    written: plan.reduce((sum, { parts }) => sum + parts.reduce((all, part) => all + writtenFor(part), 0), 0),
    name: shortened(JSON.stringify([settings, plan.map(shapeOf), strings, crossingCodes, kinds])),
    isHurried: clock.isLate,
  };
}

interface VisibleIndex {
  readonly index: FeatureIndex;
  readonly segments: number;
}

const visibleIndexes = new WeakMap<Uint8Array, VisibleIndex>();

/** The inverted index of some segments alone. */
function visibleIndex({ store }: PatternGraph, visible: Uint8Array): VisibleIndex {
  let kept = visibleIndexes.get(visible);
  if (!kept) {
    const index = new FeatureIndex();
    let segments = 0;
    visible.forEach((flag, slot) => {
      if (flag !== 1) return;
      index.update(store, slot, 1);
      segments++;
    });
    kept = { index, segments };
    visibleIndexes.set(visible, kept);
  }
  return kept;
}

function writtenFor(part: PlannedPart): number {
  return part.kind === 'search' && part.bySteps === 'never' && !part.byCandidates ? part.steps.length : 0;
}

/** What the code of a planned match depends on. */
function shapeOf({ parts }: PlannedMatch): unknown {
  return parts.map((part) =>
    part.kind === 'repeat'
      ? [part.repeat, part.reversed, part.endBound]
      : [
          part.byCandidates,
          part.bySteps,
          part.keepFrom,
          part.nodes,
          part.edges,
          part.before,
          part.steps.map(({ step }) => Object.values(step)),
        ],
  );
}

/**
 * Slots of node patterns of which every match that belongs to a segment has one in it. A single one that is surely of the
 * segment is enough. Without one, all that can be in a grouped segment: what one of them is bound to may be what segments
 * share, and stand in another segment or in none. Where matches may reach anywhere they belong to the segment of the first
 * that is in one, so that those behind one that always is are not needed.
 */
function anchorsOf(
  graph: PatternGraph,
  compiled: Compiled,
  { confined, setsOf }: Pick<PlanInput, 'confined' | 'setsOf'>,
): Pick<QueryPlan, 'anchors' | 'isAnchored'> {
  // Values and conditions before the first MATCH take nothing from the graph.
  const first = compiled.clauses.find(({ kind }) => kind !== 'let' && kind !== 'filter' && kind !== 'for');
  if (first?.kind !== 'match') return { anchors: [], isAnchored: false };
  const ungrouped = graph.ungroupedSets();
  const found: number[] = [];
  for (const node of first.match.pattern.nodes) {
    const sets = setsOf(node);
    let stands = false;
    let isGrouped = true;
    let isConfined = confined !== undefined;
    graph.index.nodes.forEach((postings, set) => {
      if (!postings?.size || sets[set] === FALSE) return;
      stands ||= ungrouped[set] === 0 || graph.hasGrouped(postings);
      isGrouped &&= ungrouped[set] === 0;
      isConfined &&= confined?.[set] === 1;
    });
    if (!stands) continue;
    if (isConfined || (isGrouped && !confined && found.length === 0))
      return { anchors: [node.slot], isAnchored: true };
    found.push(node.slot);
    if (isGrouped && !confined) break;
  }
  return { anchors: found, isAnchored: false };
}

/** Per label set, 1 when nodes with it are in grouped segments only and have none of the labels. */
function confinedSets(graph: PatternGraph, roaming: readonly string[]): Uint8Array {
  const { labels: names, labelSets } = graph.store.catalog;
  const ungrouped = graph.ungroupedSets();
  return Uint8Array.from(labelSets, ({ labels }, set) =>
    ungrouped[set] === 1 || labels.some((label) => roaming.includes(names[label]!)) ? 0 : 1,
  );
}

const stringsKept = new WeakMap<Query, readonly string[]>();

/** Every string literal in a tree. */
function stringsOf(tree: Query): readonly string[] {
  let strings = stringsKept.get(tree);
  if (!strings) {
    const found = new Set<string>();
    const visit = (node: Syntax): void => {
      if (node.kind === 'string') found.add(node.value);
      for (const child of children(node)) visit(child);
    };
    visit(tree);
    strings = [...found];
    stringsKept.set(tree, strings);
  }
  return strings;
}
