/**
 * Statements among MATCH and after RETURN, worked by hand from ISO/IEC 39075:2024, clause 14 (from memory; productions after the
 * published grammar, opengql/grammar, GQL.g4). Named by the ids of features in CONFORMANCE.md.
 */
import { describe, expect, test } from 'vitest';
import {
  buildGraph,
  countPattern,
  explainPattern,
  nearMatches,
  PatternGraph,
  runPattern,
} from '../../src/gql/gql.ts';
import { comparedRows } from './oracle/compared.ts';
import type { SmallGraph } from './random-query.ts';

const node = (id: string, label: string, k: number) => ({ id, labels: [label], properties: { k } });
const edge = (id: string, source: string, target: string) => ({
  id,
  source,
  target,
  label: 'ROAD',
  directed: true,
  properties: {},
});

/** ash → birch → cedar, ash → cedar, cedar → dale. */
const TOWNS: SmallGraph = {
  nodes: [
    node('ash', 'Town', 1),
    node('birch', 'Town', 2),
    node('cedar', 'City', 3),
    node('dale', 'City', 4),
  ],
  edges: [
    edge('e1', 'ash', 'birch'),
    edge('e2', 'birch', 'cedar'),
    edge('e3', 'ash', 'cedar'),
    edge('e4', 'cedar', 'dale'),
  ],
};

const graph = buildGraph(TOWNS.nodes, TOWNS.edges);

/** Rows with nodes as their ids, in their order; the naive evaluation has the same. */
async function rows(text: string): Promise<unknown[][]> {
  await comparedRows(TOWNS, text, false);
  const answer = await runPattern(graph, text);
  expect(answer.complete).toBe(true);
  return answer.rows.map((row) => row.map(plain));
}

function plain(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(plain);
  return typeof value === 'object' && value !== null && 'id' in value ? value.id : value;
}

const sorted = async (text: string) => (await rows(text)).map((row) => row.join(' ')).sort();

describe('GQ09 LET', () => {
  test('a value by name, which later definitions and clauses read', async () => {
    const text = 'MATCH (a:Town)->(b) LET sum = a.k + b.k, twice = 2 * sum RETURN a, b, sum, twice';
    expect(await sorted(text)).toEqual(['ash birch 3 6', 'ash cedar 4 8', 'birch cedar 5 10']);
    expect(await rows('LET VALUE x = [1, 2] RETURN SIZE(x) AS n')).toEqual([[2]]);
  });

  test('a node by another name is a node that patterns go on from', async () => {
    const text = 'MATCH (a:Town) LET b = a MATCH (b)->(c:City) RETURN a, c';
    expect(await sorted(text)).toEqual(['ash cedar', 'birch cedar']);
    const either =
      'MATCH (a:Town) OPTIONAL MATCH (a)->(t:Town) LET b = COALESCE(t, a) MATCH (b)->(c:City) RETURN a, c';
    expect(await sorted(either)).toEqual(['ash cedar', 'birch cedar']);
  });

  test('a name has one meaning, and there are no rows to aggregate yet', async () => {
    await expect(runPattern(graph, 'MATCH (a) LET a = 1 RETURN a')).rejects.toThrow(
      /"a" has a meaning already/u,
    );
    await expect(runPattern(graph, 'MATCH (a) LET n = COUNT(*) RETURN n')).rejects.toThrow(/counts rows/u);
    await expect(runPattern(graph, 'MATCH (a) LET n = 1 MATCH (n) RETURN n')).rejects.toThrow(
      /is a value already/u,
    );
  });

  test('a value that doubles again and again ends at a bound, and says so', async () => {
    const lists = Array.from({ length: 40 }, (_, i) => `LET l${i + 1} = [l${i}, l${i}]`).join(' ');
    const { complete, shortage } = await runPattern(graph, `LET l0 = [1, 2] ${lists} RETURN l40`);
    expect([complete, shortage]).toEqual([false, 'memory']);
    const texts = Array.from({ length: 40 }, (_, i) => `LET t${i + 1} = t${i} || t${i}`).join(' ');
    expect((await runPattern(graph, `LET t0 = 'ab' ${texts} RETURN t40`)).rows).toEqual([[null]]);
  });
});

describe('GQ08 FILTER', () => {
  test('leaves the rows of which the condition is true, not those of which it is unknown', async () => {
    expect(await sorted('MATCH (a) FILTER a.k > 1 AND a IS LABELED Town RETURN a')).toEqual(['birch']);
    expect(await sorted('MATCH (a) FILTER WHERE a.missing > 1 RETURN a')).toEqual([]);
    expect(await sorted('MATCH (a) FILTER NOT (a.missing > 1) RETURN a')).toEqual([]);
  });

  test('behind OPTIONAL MATCH it takes rows away, where WHERE inside leaves null', async () => {
    const pattern = 'MATCH (a:Town) OPTIONAL MATCH (a)->(b:Town)';
    expect(await rows(`${pattern} FILTER b.k = 2 RETURN a, b`)).toEqual([['ash', 'birch']]);
    expect(await rows(`${pattern} FILTER b IS NULL RETURN a, b`)).toEqual([['birch', null]]);
    expect(await rows(`${pattern} WHERE b.k = 9 FILTER a.k = 1 RETURN a, b`)).toEqual([['ash', null]]);
  });

  test('is tested where WHERE is: the search looks at no more', async () => {
    const nodes = Array.from({ length: 500 }, (_, i) => ({ ...node(`n${i}`, 'Town', i) }));
    const edges = nodes.slice(1).map(({ id }, i) => edge(`r${i}`, `n${i}`, id));
    const large = buildGraph(nodes, edges);
    const steps = async (text: string) =>
      (await explainPattern(large, text)).matches[0]!.steps.map(({ real }) => real);
    const where = await steps('MATCH (a)->(b)->(c) WHERE a.k < 3 MATCH (c)->(d) RETURN d');
    expect(
      await steps('MATCH (a)->(b)->(c) MATCH (c)->(d) LET n = d.k FILTER n > 0 AND a.k < 3 RETURN d'),
    ).toEqual(where);
  });

  test('near matches name the condition that stands in the way', async () => {
    const segments = new PatternGraph();
    segments.putSegment('one', { nodes: TOWNS.nodes.slice(0, 2), edges: TOWNS.edges.slice(0, 1) });
    for (const text of [
      'MATCH (a:Town)->(b:Town) FILTER b.k > 7 RETURN a',
      'MATCH (a:Town)->(b:Town) LET n = b.k FILTER n > 7 RETURN a',
    ]) {
      const { matches } = await nearMatches(segments, text);
      const [removed] = matches.flatMap(({ missing }) => missing.map((one) => one.removed));
      expect([removed?.kind, text.slice(removed!.span.start, removed!.span.end)]).toEqual([
        'condition',
        text.includes('LET') ? 'n > 7' : 'b.k > 7',
      ]);
    }
  });

  test('counts are of the rows that are left', async () => {
    expect((await countPattern(graph, 'MATCH (a)->(b) LET s = a.k + b.k FILTER s > 4 RETURN a')).count).toBe(
      2,
    );
    expect(await rows('MATCH (a)->(b) FILTER a.k + b.k > 4 RETURN COUNT(*) AS n')).toEqual([[2]]);
  });
});
