/**
 * The engine held against brute force on one graph and one query.
 */
import type { PatternGraph } from '../../../src/gql/gql.ts';
import { type Cut, cutGraph, engineAnswer, PLANS } from './engine-answers.ts';
import { Matcher } from './matcher.ts';
import { type Query, textOf } from './query.ts';
import { answerOf, wrongWith } from './result.ts';
import type { SmallGraph } from './walks.ts';

export interface Case {
  readonly graph: SmallGraph;
  readonly query: Query;
  readonly distinctNodes: boolean;
}

/** A way in which the engine is asked. */
export interface Way {
  readonly cut: Cut;
  readonly plan: keyof typeof PLANS;
  readonly where: 'here' | 'workers';
}

export interface Disagreement {
  /** Whether the engine refused the text, broke off or answered other rows. */
  readonly kind: 'refused' | 'other rows';
  readonly way: Way;
  readonly what: string;
  readonly expected: readonly string[];
  readonly answered: readonly string[];
}

/**
 * The first way in which the engine disagrees, if any.
 * @throws TooMuchWork when brute force takes more than `work` steps
 */
export async function disagreement(
  { graph, query, distinctNodes }: Case,
  ways: readonly Way[],
  work: number,
): Promise<Disagreement | undefined> {
  const text = textOf(query);
  const unordered = new Set(
    query.result.items.flatMap((item, at) =>
      item.item === 'aggregate' && item.fn === 'COLLECT_LIST' ? [at] : [],
    ),
  );
  const cuts = new Map<Cut, Expected>();
  for (const way of ways) {
    const cut = cuts.get(way.cut) ?? expectedOf(graph, query, distinctNodes, way.cut, work);
    cuts.set(way.cut, cut);
    const { rows, all, segments } = cut;
    const expected = all.map((row) => row.text);
    const options = {
      ...PLANS[way.plan],
      where: way.where,
      distinctNodes,
      ...(segments !== undefined && { segments }),
    };
    try {
      const { answered, count } = await engineAnswer(
        cut.graph,
        text,
        options,
        unordered,
        way.plan === 'auto',
      );
      const what =
        wrongWith(query, all, answered) ??
        (count === undefined || rows === undefined || count === rows
          ? undefined
          : `countPattern counts ${count} instead of ${rows}`);
      if (what !== undefined) return { kind: 'other rows', way, what, expected, answered };
    } catch (error) {
      return { kind: 'refused', way, what: String(error), expected, answered: [] };
    }
  }
  return undefined;
}

interface Expected {
  readonly graph: PatternGraph;
  readonly segments?: readonly string[];
  /** How many rows the clauses have, in a query of one RETURN, and what becomes of them. */
  readonly rows: number | undefined;
  readonly all: ReturnType<typeof answerOf>;
}

function expectedOf(
  whole: SmallGraph,
  query: Query,
  distinctNodes: boolean,
  cut: Cut,
  work: number,
): Expected {
  const { graph, segments, seen } = cutGraph(whole, cut);
  const matcher = new Matcher(seen, { distinctNodes, work });
  const isSimple = query.before.length === 0 && query.others.length === 0;
  const rows = isSimple ? matcher.rowsOf(query.clauses).length : undefined;
  return {
    graph,
    ...(segments !== undefined && { segments }),
    rows,
    all: answerOf(query, matcher),
  };
}

/** A case and what is wrong with it, in words. */
export function report({ graph, query, distinctNodes }: Case, found: Disagreement): string {
  const { way, what, expected, answered } = found;
  const some = (rows: readonly string[]): string =>
    [...rows.toSorted().slice(0, 40), ...(rows.length > 40 ? [`… ${rows.length} rows`] : [])]
      .map((row) => `  ${row}`)
      .join('\n');
  return [
    textOf(query),
    distinctNodes ? 'with distinct nodes' : '',
    'Nodes:',
    ...graph.nodes.map((node) => `  ${JSON.stringify(node)}`),
    'Edges:',
    ...graph.edges.map((edge) => `  ${JSON.stringify(edge)}`),
    `Asked: ${way.plan}, ${way.cut}, ${way.where}. Wrong: ${what}`,
    `Brute force (${expected.length}${query.result.limit !== undefined || query.result.offset !== undefined ? ', before OFFSET and LIMIT' : ''}):`,
    some(expected),
    `The engine (${answered.length}):`,
    some(answered),
  ]
    .filter((line) => line !== '')
    .join('\n');
}
