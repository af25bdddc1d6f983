/**
 * Plans all matches of a query on the main thread, where the inverted index is.
 */
import type { PatternGraph } from '../graph.ts';
import type { Query } from '../language/ast.ts';
import { type Compiled, compileClauses, type Expressions } from '../plan/compile.ts';
import { TRUE, UNKNOWN } from '../plan/label-test.ts';
import type { Match } from '../plan/match.ts';
import { type PlannedMatch, planMatch, type Strategy } from '../plan/plan-match.ts';
import { matchesOf } from './clauses.ts';
import type { QuerySettings } from './execute.ts';
import { resultPlan } from './result-plan.ts';

export interface QueryPlan {
  readonly compiled: Compiled;
  /** In reading order, those of EXISTS bodies last. */
  readonly matches: readonly Match[];
  readonly plan: readonly PlannedMatch[];
  readonly columns: readonly string[];
  readonly strings: Readonly<Record<string, number>>;
  readonly crossingCodes: readonly number[];
  /** Entries expected to be looked at. */
  readonly cost: number;
  /** Tells plans apart whose code differs. */
  readonly name: string;
}

export interface PlanOptions {
  readonly naive: boolean;
  readonly strategy?: Strategy | undefined;
  readonly visible: Uint8Array;
  /** Slot of the node that the search starts from, segment by segment. */
  readonly anchor?: number | undefined;
}

/** Plans by what the query sees: the array that `graph.visible` answers, one for each state of the graph. */
const kept = new WeakMap<Uint8Array, Map<string, QueryPlan>>();
const MOST_KEPT = 300;

/** `planQuery`, kept for the next time. */
export function planKept(
  graph: PatternGraph,
  tree: () => Query,
  settings: QuerySettings,
  expressions: Expressions,
  options: PlanOptions,
): QueryPlan {
  let plans = kept.get(options.visible);
  if (!plans) {
    plans = new Map();
    kept.set(options.visible, plans);
  }
  const name = JSON.stringify([settings, options.naive, options.anchor ?? -1, options.strategy ?? 'auto']);
  let plan = plans.get(name);
  if (!plan) {
    plan = planQuery(graph, tree(), settings, expressions, options);
    plans.set(name, plan);
    if (plans.size > MOST_KEPT) plans.delete(plans.keys().next().value!);
  }
  return plan;
}

export function planQuery(
  graph: PatternGraph,
  tree: Query,
  settings: QuerySettings,
  expressions: Expressions,
  options: PlanOptions,
): QueryPlan {
  const { store, index } = graph;
  const strings: Record<string, number> = {};
  const stringNumber = (text: string): number => {
    const number = store.strings.find(text);
    strings[text] = number;
    return number;
  };
  collectStrings([tree, settings.parameters], stringNumber);
  const compiled = compileClauses(tree.clauses, store, { ...settings, stringNumber }, expressions);
  const result = resultPlan(tree, compiled, expressions);
  const matches = [...matchesOf(compiled.clauses), ...compiled.inner.flatMap((body) => matchesOf(body))];
  const input = {
    index,
    catalog: store.catalog,
    visible: options.visible,
    segments: graph.segmentCount,
    stringNumber,
    naive: options.naive,
    strategy: options.strategy ?? 'auto',
    setsOf: (node: Match['pattern']['nodes'][number]) => {
      const asked = compiled.setTable(node) ?? new Uint8Array(store.catalog.labelSets.length).fill(TRUE);
      // What is known from elsewhere may have been read as possible only: it must not exclude too much.
      const before = node.known && compiled.setTable({ label: node.known, leastTruth: UNKNOWN });
      return before ? asked.map((truth, set) => Math.min(truth, before[set]!)) : asked;
    },
  };
  const plan = matches.map((match, i) => {
    const anchor =
      i === 0 && options.anchor !== undefined
        ? match.pattern.nodes.findIndex((node) => node.slot === options.anchor)
        : -1;
    return planMatch(match, input, anchor >= 0 ? anchor : undefined);
  });
  const crossingCodes = index.crossings.flatMap((bySet, code) => (bySet && bySet.size > 0 ? [code] : []));
  return {
    compiled,
    matches,
    plan,
    columns: result.columns,
    strings,
    crossingCodes,
    cost: plan.reduce((sum, { cost }) => sum + cost, 0),
    name: JSON.stringify([settings, plan.map(shapeOf), strings, crossingCodes]),
  };
}

/** What the code of a planned match hangs on. */
function shapeOf({ parts }: PlannedMatch): unknown {
  return parts.map((part) =>
    part.kind === 'repeat'
      ? [part.repeat, part.reversed, part.endBound]
      : [
          part.dense,
          part.keepFrom,
          part.nodes,
          part.edges,
          part.before,
          part.steps.map(({ step }) => Object.values(step)),
        ],
  );
}

/** Calls back with every string value in the tree and the parameters. */
function collectStrings(value: unknown, visit: (text: string) => void): void {
  if (typeof value === 'string') visit(value);
  else if (Array.isArray(value)) for (const item of value) collectStrings(item, visit);
  else if (typeof value === 'object' && value !== null)
    for (const [field, child] of Object.entries(value)) if (field !== 'kind') collectStrings(child, visit);
}
