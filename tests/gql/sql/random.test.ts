/**
 * Random texts on random graphs: the rows of compiled SQL, on two real engines, against those of the pattern engine, which
 * `../oracle.test.ts` and `../brute/` hold to the meaning of the language on texts of the same writer.
 *
 * `CASEBACK_SQL_TEXTS=5000` asks so many texts in each part.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildGraph, type GraphCounts, PatternError, prepare, runPattern } from '../../../src/gql/gql.ts';
import { seeded } from '../../bench/match-archive.ts';
import { testSeed } from '../../random.ts';
import { QueryWriter, smallGraph } from '../random-query.ts';
import { ask, lines, load, type Opened, openEngines } from './engines.ts';

const PARAMETERS = { t: 'y' };
const TEXTS = Number(process.env.CASEBACK_SQL_TEXTS ?? 105);
/** Texts asked of one graph. */
const TEXTS_A_GRAPH = 5;

/** A graph with labels and edges that may not be there. */
function inDoubt({ nodes, edges }: ReturnType<typeof smallGraph>, random: () => number) {
  return {
    nodes: nodes.map((node) => ({
      ...node,
      labels: [...((node.labels ?? []) as readonly string[])].map((label) => ({
        label,
        weight: random() < 0.4 ? 0.5 : 1,
      })),
    })),
    edges: edges.map((edge) => ({ ...edge, uncertain: random() < 0.3 })),
  };
}

/** Counts that need not be true of a graph: they decide in which order tables are joined, and never which rows come. */
function anyCounts({ nodes, edges }: ReturnType<typeof smallGraph>, random: () => number): GraphCounts {
  const some = () => Math.ceil(1000 ** random());
  const labels = nodes.flatMap(({ labels: own = [] }) => [...(own as readonly string[])]);
  return {
    nodes: some(),
    labels: Object.fromEntries(labels.map((label) => [label, some()])),
    edges: Object.fromEntries(
      edges.map(({ label = '' }) => [label, { rows: some(), sources: some(), targets: some() }]),
    ),
  };
}

let opened: Opened;
beforeAll(async () => {
  opened = await openEngines();
});
afterAll(() => opened.close());

describe.each([
  { name: 'one statement, short repetitions written out', steps: false, unrolled: 2, distinctNodes: false },
  {
    name: 'one statement, every repetition a recursive query',
    steps: false,
    unrolled: 0,
    distinctNodes: false,
  },
  { name: 'several statements', steps: true, unrolled: 1, distinctNodes: false },
  { name: 'all nodes different', steps: false, unrolled: 1, distinctNodes: true },
  {
    name: 'labels and edges that are only possible',
    steps: false,
    unrolled: 1,
    distinctNodes: false,
    uncertain: true,
  },
])('$name', ({ steps, unrolled, distinctNodes, uncertain = false }) => {
  test('compiled texts have the rows of the pattern engine', async () => {
    const random = seeded(testSeed());
    const writer = new QueryWriter(random);
    let asked = 0;
    let refused = 0;
    let withRows = 0;
    while (asked + refused < TEXTS) {
      const drawn = smallGraph(random, 5);
      const small = uncertain ? inDoubt(drawn, random) : drawn;
      const loaded = await load(opened.engines, new Map([['all', small]]));
      const graph = buildGraph(small.nodes, small.edges);
      const counts = random() < 0.7 ? anyCounts(drawn, random) : undefined;
      for (let i = 0; i < TEXTS_A_GRAPH; i++) {
        const text = steps ? writer.steps() : writer.query();
        let pattern: ReturnType<typeof prepare>;
        try {
          pattern = prepare(text, { parameters: Object.keys(PARAMETERS) });
        } catch {
          // The writer also writes what the checks refuse.
          continue;
        }
        const expected = await runPattern(graph, pattern, {
          parameters: PARAMETERS,
          distinctNodes,
          where: 'here',
          budgets: { rows: 1e6, time: 60_000 },
        });
        expect(expected.complete, text).toBe(true);
        try {
          for (const engine of opened.engines) {
            const answer = await ask(engine, pattern, loaded, {
              parameters: PARAMETERS,
              distinctNodes,
              unrolled,
              counts,
            });
            const context = `${engine.dialect}: ${text}\n${JSON.stringify(small)}\n${answer.sql}`;
            expect(answer.columns, context).toEqual(expected.columns);
            // Of rows that sort alike LIMIT takes any, and of paths over the same things that bind names otherwise ANY does.
            if (uncertain && /\bANY\b/u.test(text)) continue;
            if (text.includes('LIMIT')) expect(answer.rows.length, context).toBe(expected.rows.length);
            else expect(lines(answer.rows), context).toEqual(lines(expected.rows));
          }
        } catch (error) {
          if (!(error instanceof PatternError)) throw error;
          expect(error.problems.map(({ code }) => code)).toEqual(['not-in-sql']);
          refused++;
          continue;
        }
        asked++;
        if (expected.rows.length > 0) withRows++;
      }
    }
    expect(refused / (asked + refused)).toBeLessThan(0.1);
    expect(withRows / asked).toBeGreaterThan(0.2);
  });
});
