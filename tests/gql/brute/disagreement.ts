/**
 * The engine held against brute force on one graph and one query.
 */
import type { PatternGraph } from '../../../src/gql/gql.ts';
import { type Cut, cutGraph, engineAnswer, PLANS } from './engine-answers.ts';
import { Matcher } from './matcher.ts';
import { type Query, textOf } from './query.ts';
import { answerOf, wrongWith } from './result.ts';
import { type SmallGraph, TooMuchWork } from './walks.ts';

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
    const { counts, answers, segments } = cut;
    const expected = (answers[0] ?? []).map((row) => row.text);
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
      const wrong = answers.map((all) => wrongWith(query, all, answered));
      const what =
        (wrong.includes(undefined) ? undefined : wrong[0]) ??
        (count === undefined || counts === undefined || counts.includes(count)
          ? undefined
          : `countPattern counts ${count} instead of ${counts[0]}`);
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
  /** How many rows the clauses have, in a query of one RETURN. Several where the language leaves it open. */
  readonly counts: readonly number[] | undefined;
  /** What becomes of them. */
  readonly answers: readonly ReturnType<typeof answerOf>[];
}

function expectedOf(
  whole: SmallGraph,
  query: Query,
  distinctNodes: boolean,
  cut: Cut,
  work: number,
): Expected {
  const { graph, segments, seen } = cutGraph(whole, cut);
  const each = <T>(asked: (matcher: Matcher) => T): T[] =>
    withEveryChoice((choose) => asked(new Matcher(seen, { distinctNodes, work, choose })));
  const isSimple = query.before.length === 0 && query.others.length === 0;
  return {
    graph,
    ...(segments !== undefined && { segments }),
    counts: isSimple ? each((matcher) => matcher.rowsOf(query.clauses).length) : undefined,
    answers: each((matcher) => answerOf(query, matcher)),
  };
}

/** What comes out for every way to choose where the language leaves a choice. */
function withEveryChoice<T>(run: (choose: (count: number) => number) => T): T[] {
  const results: T[] = [];
  let taken: { choice: number; readonly count: number }[] = [];
  for (;;) {
    let at = 0;
    const made = taken;
    results.push(
      run((count) => {
        const one = made[at] ?? { choice: 0, count };
        made[at++] = one;
        return one.choice;
      }),
    );
    if (results.length > 40) throw new TooMuchWork('too many choices');
    const next = made.findLastIndex(({ choice, count }) => choice + 1 < count);
    const last = made[next];
    if (last === undefined) return results;
    last.choice++;
    taken = made.slice(0, next + 1);
  }
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
