/**
 * Planning of large patterns: how much work it is, counted and not timed, and that what must differ does.
 */
import { afterAll, describe, expect, test, vi } from 'vitest';
import { countPattern, defaultPool, runPattern } from '../../src/gql/engine.ts';
import { buildGraph, type PatternGraph } from '../../src/gql/graph.ts';
import { Distinct } from '../../src/gql/plan/distinct.ts';
import { Estimates } from '../../src/gql/plan/estimates.ts';
import { orderSteps } from '../../src/gql/plan/order.ts';
import { FORWARD, type Pattern } from '../../src/gql/plan/pattern.ts';
import { prepare } from '../../src/gql/prepared-pattern.ts';

afterAll(() => defaultPool().close());

/** A directed cycle. */
function ring(size: number): PatternGraph {
  const nodes = Array.from({ length: size }, (_, i) => ({ id: `n${i}`, labels: ['N'], properties: { i } }));
  return buildGraph(
    nodes,
    nodes.map(({ id }, i) => ({ source: id, target: `n${(i + 1) % size}` })),
  );
}

async function count(graph: PatternGraph, text: string, distinctNodes = false): Promise<number> {
  return (await countPattern(graph, text, { where: 'here', distinctNodes })).count;
}

describe('what must differ', () => {
  test('every two slots of a set, but for those that are kin', () => {
    const distinct = new Distinct([
      {
        slots: [1, 2, 3, 4],
        kin: new Map([
          [1, 0],
          [3, 0],
          [4, 1],
        ]),
      },
      { slots: [4, 5] },
      { slots: [6] },
    ]);
    const pairs: string[] = [];
    for (let a = 1; a <= 6; a++)
      for (let b = 1; b <= 6; b++) if (distinct.mustDiffer(a, b)) pairs.push(`${a}${b}`);
    expect(pairs.join(' ')).toBe('12 14 21 23 24 32 34 41 42 43 45 54');
  });

  // ISO/IEC 39075:2024, 16.6 (from memory): SIMPLE repeats no node of the path, but the last may be the first. The one
  // closed walk of a directed triangle can start at three nodes; what is empty at an end is no part of the path.
  test.each([
    'MATCH SIMPLE (a)->(b)->(c)->(d)->{0,2}(f)',
    'MATCH SIMPLE (a)->{0,1}(b)->(c)->(d)->(e)',
    'MATCH SIMPLE (a)->{0,1}(b)->{0,1}(c)->(d)->(e)->(f)->{0,1}(g)',
    'MATCH SIMPLE (a)->(b)->(c)->(a)',
  ])('%s has 3 matches on a triangle', async (text) => {
    expect(await count(ring(3), `${text} RETURN COUNT(*) AS n`)).toBe(3);
  });

  test('a SIMPLE path repeats no node but its ends', async () => {
    expect(await count(ring(3), 'MATCH SIMPLE (a)->(b)->(c)->(d)->(e) RETURN COUNT(*) AS n')).toBe(0);
    expect(await count(ring(3), 'MATCH ACYCLIC (a)->(b)->(c)->(d) RETURN COUNT(*) AS n')).toBe(0);
    expect(await count(ring(4), 'MATCH ACYCLIC (a)->(b)->(c)->(d) RETURN COUNT(*) AS n')).toBe(4);
  });

  // Between two nodes with k edges there are k (k - 1) … ways to choose m different ones in order.
  test.each([
    [3, 2, 6],
    [4, 3, 24],
    [5, 5, 120],
  ])('of %i parallel edges, %i at once: %i ways', async (edges, wanted, ways) => {
    const graph = buildGraph(
      [{ id: 'a', labels: ['A'] }, { id: 'b' }],
      Array.from({ length: edges }, () => ({ source: 'a', target: 'b' })),
    );
    const text = `MATCH ${Array.from({ length: wanted }, () => '(a:A)->(b)').join()} RETURN COUNT(*) AS n`;
    for (const strategy of ['loops', 'candidates'] as const)
      for (const distinctNodes of [true, false])
        expect((await countPattern(graph, text, { where: 'here', strategy, distinctNodes })).count).toBe(
          ways,
        );
  });

  test('nodes of later clauses differ from all before', async () => {
    const clauses = Array.from({ length: 20 }, (_, i) => `MATCH (n${i})->(n${i + 1})`).join(' ');
    // One way round from each node; on a ring of 20 the last node would be the first.
    expect(await count(ring(21), `${clauses} RETURN COUNT(*) AS n`, true)).toBe(21);
    expect(await count(ring(20), `${clauses} RETURN COUNT(*) AS n`, true)).toBe(0);
    expect(await count(ring(20), `${clauses} RETURN COUNT(*) AS n`, false)).toBe(20);
  });
});

/** A pattern, and how often its order looked at the estimates of an edge or node. */
function looks(nodes: number, edges: readonly (readonly [number, number])[]): number {
  let reads = 0;
  const counted = <T>(list: T[]): T[] =>
    new Proxy(list, {
      get: (target, key) => {
        reads++;
        return Reflect.get(target, key);
      },
    });
  const pattern: Pattern = {
    nodes: Array.from({ length: nodes }, (_, slot) => ({
      kind: 'node',
      slot,
      name: undefined,
      label: undefined,
      bound: false,
      leastTruth: 1,
      place: undefined,
    })),
    edges: edges.map(([from, to], i) => ({
      kind: 'edge',
      slot: nodes + i,
      name: undefined,
      label: undefined,
      from,
      to,
      directions: FORWARD,
      bound: false,
      leastTruth: 1,
      place: undefined,
    })),
    held: [],
    conditions: [],
    distinct: new Distinct([]),
  };
  const graph = ring(10);
  const real = new Estimates(pattern, graph.index, graph.store.catalog, 1);
  const lists = new Map<unknown, unknown>();
  const estimates = new Proxy(real, {
    get(target, key) {
      const value: unknown = Reflect.get(target, key, target);
      if (typeof value === 'function')
        return (...given: unknown[]) => {
          reads++;
          return value.apply(target, given);
        };
      if (!Array.isArray(value)) return value;
      if (!lists.has(value)) lists.set(value, counted(value));
      return lists.get(value);
    },
  });
  const { steps } = orderSteps(pattern, estimates);
  expect(steps.length).toBeGreaterThanOrEqual(Math.max(nodes, edges.length));
  return reads;
}

describe('the order of the search', () => {
  const chain = (n: number) => Array.from({ length: n - 1 }, (_, i) => [i, i + 1] as const);
  const star = (n: number) => Array.from({ length: n - 1 }, (_, i) => [0, i + 1] as const);
  const parallel = (n: number) => Array.from({ length: n }, () => [0, 1] as const);
  test.each([
    ['a chain', chain, (n: number) => n],
    ['a star', star, (n: number) => n],
    ['nodes alone', () => [], (n: number) => n],
    ['parallel edges', parallel, () => 2],
  ] as const)('%s: four times the size is at most six times the work', (_, edges, nodes) => {
    const few = looks(nodes(500), edges(500));
    const many = looks(nodes(2000), edges(2000));
    expect(many / few).toBeLessThan(6);
  });
});

describe('code is written for a search that has looked at much', () => {
  /** How many functions are made from text while a query is asked some times. */
  async function written(graph: PatternGraph, text: string, times: number): Promise<number[]> {
    const making = vi.spyOn(globalThis, 'Function');
    try {
      const made: number[] = [];
      for (let i = 0; i < times; i++) {
        making.mockClear();
        await count(graph, text);
        made.push(making.mock.calls.length);
      }
      return made;
    } finally {
      making.mockRestore();
    }
  }

  test('a few nodes are searched without, however often', async () => {
    expect(await written(ring(20), 'MATCH (a)->(b)->(c)->(d)->(e) RETURN COUNT(*) AS n', 6)).toEqual([
      0, 0, 0, 0, 0, 0,
    ]);
  });

  test('thousands of nodes by code from the second time on', async () => {
    expect(await written(ring(3_000), 'MATCH (a)->(b) RETURN COUNT(*) AS n', 3)).toEqual([0, 1, 0]);
  });
});

describe('what stops early, or is too large', () => {
  const dense = (size: number): PatternGraph => {
    const nodes = Array.from({ length: size }, (_, i) => ({ id: `n${i}` }));
    return buildGraph(
      nodes,
      nodes.flatMap((a, i) => nodes.slice(0, i).map((b) => ({ source: a.id, target: b.id }))),
    );
  };

  test.each([
    [
      'nodes',
      `MATCH ${Array.from({ length: 1_001 }, () => '()').join()}`,
      '1001 node and edge patterns; at most 1000',
    ],
    [
      'quantified paths',
      `MATCH ${Array.from({ length: 101 }, () => '()-*()').join()}`,
      '101 quantified paths; at most 100',
    ],
    [
      'clauses',
      Array.from({ length: 251 }, () => 'MATCH ()').join(' '),
      '251 MATCH clauses and subqueries; at most 250',
    ],
  ])('too many %s are refused, with the bound', (_, text, message) => {
    expect(() => prepare(`${text} RETURN COUNT(*) AS n`)).toThrow(message);
  });

  test.each([
    ['short', (i: number) => `a.i + b.i <> ${1000 + i}`],
    [
      'with text that cannot be written into code',
      (i: number) => `CHAR_LENGTH(CAST(a.i + b.i AS STRING)) <> ${1000 + i}`,
    ],
  ])('conditions count as steps, also in written code: many that are %s', async (_, condition) => {
    const conditions = Array.from({ length: 100 }, (_, i) => condition(i)).join(' AND ');
    const run = (where: string) =>
      countPattern(ring(60), `MATCH (a), (b) ${where} RETURN a, b`, {
        where: 'here',
        strategy: 'loops',
        budgets: { steps: 20_000 },
      });
    expect(await run('')).toMatchObject({ complete: true, count: 60 * 60 });
    expect(await run(`WHERE ${conditions}`)).toMatchObject({ complete: false, shortage: 'steps' });
  });

  test('sort keys count as steps, since a row has as many values calculated for it', async () => {
    const keys = Array.from({ length: 100 }, (_, i) => `a.i + ${i}`).join();
    const run = (order: string) =>
      runPattern(ring(60), `MATCH (a), (b) RETURN a.i ${order}`, {
        where: 'here',
        budgets: { steps: 50_000 },
      });
    expect(await run('ORDER BY a.i')).toMatchObject({ complete: true });
    expect(await run(`ORDER BY ${keys}`)).toMatchObject({ complete: false, shortage: 'steps' });
  });

  test('a chain of as many elements as there may be is searched', async () => {
    const text = `MATCH REPEATABLE ELEMENTS ()${'->()'.repeat(499)} RETURN COUNT(*) AS n`;
    expect(await count(ring(3), text)).toBe(3);
  });

  test('the note says how many segments were searched, and where it stopped', async () => {
    const text = 'MATCH (a)-(b)-(c)-(d)-(e)-(f)-(g) RETURN COUNT(*) AS n';
    const answer = await countPattern(dense(40), text, { where: 'here', budgets: { steps: 50_000 } });
    expect(answer.note).toContain('0 of 1 segments that could have a match were searched to the end');
    expect(answer.note).toContain('It stopped in MATCH (a)-(b)-(c)');
    // What has been counted by then.
    expect(answer.count).toBeGreaterThan(0);
  });

  test('a query with a signal is cancelled although it was to run here', async () => {
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 60);
    const text = 'MATCH (a)-(b)-(c)-(d)-(e)-(f)-(g)-(h)-(i) RETURN COUNT(*) AS n';
    const budgets = { time: 600_000 };
    const { shortage } = await countPattern(dense(60), text, { where: 'here', signal: stop.signal, budgets });
    expect(shortage).toBe('cancelled');
  });
});
