import { afterAll, describe, expect, test } from 'vitest';
import { countPattern, defaultPool, runPattern, streamPattern } from '../../src/gql/engine.ts';
import { buildGraph, type PatternGraph } from '../../src/gql/graph.ts';

afterAll(() => defaultPool().close());

/** A complete graph: every pattern has a great many matches. */
function dense(size: number): PatternGraph {
  const nodes = Array.from({ length: size }, (_, i) => ({ id: `n${i}`, labels: ['N'], properties: { i } }));
  const edges = nodes.flatMap((a, i) =>
    nodes.slice(0, i).map((b) => ({ source: a.id, target: b.id, directed: false })),
  );
  return buildGraph(nodes, edges);
}

const graph = dense(60);

/** Texts that would run for longer than anybody lives. */
const HOSTILE = [
  'MATCH (a), (b), (c), (d), (e), (f), (g), (h) RETURN COUNT(*) AS n',
  'MATCH (a)~{1,1000000}(b) RETURN COUNT(*) AS n',
  'MATCH REPEATABLE ELEMENTS (a)~{20,30}(b) RETURN COUNT(*) AS n',
  'MATCH TRAIL (a)~+(b) RETURN COUNT(*) AS n',
  'MATCH p = ACYCLIC (a)~*(b) RETURN p',
  'MATCH (a)~(b)~(c)~(d)~(e)~(f)~(g)~(a) RETURN a.i, b.i, c.i ORDER BY c.i',
  'MATCH (a) WHERE NOT EXISTS { (a)~(b)~(c)~(d)~(e)~(f)~(g) WHERE g.i = -1 } RETURN a',
  'MATCH (a), (b), (c), (d), (e) RETURN COLLECT_LIST(a.i) AS l',
  'MATCH (a), (b), (c), (d), (e) RETURN DISTINCT a.i, b.i, c.i, d.i, e.i',
];

describe('a hostile pattern', () => {
  test.each(HOSTILE)('%s ends and says that it is not complete', async (text) => {
    for (const where of ['here', 'workers'] as const) {
      const answer = await runPattern(graph, text, { where, budgets: { time: 100, memory: 32 * 2 ** 20 } });
      expect(answer.complete).toBe(false);
      expect(['time', 'memory', 'rows', 'length']).toContain(answer.shortage);
      expect(answer.note).toMatch(/./);
    }
  });

  test('does not hold the event loop', async () => {
    await runPattern(graph, 'MATCH (a) RETURN a.i', { where: 'workers' });
    // What this thread computes between two turns of its loop; waiting for a busy machine does not count.
    let longest = 0;
    let last = process.threadCpuUsage();
    const watch = setInterval(() => {
      const { user, system } = process.threadCpuUsage(last);
      longest = Math.max(longest, (user + system) / 1000);
      last = process.threadCpuUsage();
    }, 1);
    const answers = await Promise.all(
      HOSTILE.slice(0, 4).map((text) => runPattern(graph, text, { budgets: { time: 400 } })),
    );
    clearInterval(watch);
    expect(answers.every(({ complete }) => !complete)).toBe(true);
    expect(answers.every(({ where }) => where === 'workers')).toBe(true);
    // The aim is 50 ms; twice that leaves room for a collection of garbage.
    expect(longest).toBeLessThan(100);
  });

  test('leaves the workers fit for the next query', async () => {
    const { count } = await countPattern(graph, 'MATCH (a)~(b) RETURN *', { where: 'workers' });
    expect(count).toBe(60 * 59);
  });
});

describe('budgets', () => {
  test('rows: as many as allowed, and word that there are more', async () => {
    const text = 'MATCH (a)~(b) RETURN a.i, b.i';
    const some = await runPattern(graph, text, { budgets: { rows: 10 } });
    expect([some.rows.length, some.complete, some.shortage]).toEqual([10, false, 'rows']);
    const all = await runPattern(graph, text, { budgets: { rows: 60 * 59 } });
    expect([all.rows.length, all.complete]).toEqual([60 * 59, true]);
  });

  test('rows, sorted: the first ones', async () => {
    const text = 'MATCH (a)~(b) RETURN a.i AS a, b.i AS b ORDER BY a DESC, b';
    const { rows } = await runPattern(graph, text, { budgets: { rows: 2 } });
    expect(rows).toEqual([
      [59, 0],
      [59, 1],
    ]);
  });

  test('steps: the same on any machine', async () => {
    const text = 'MATCH (a)~(b)~(c)~(d) RETURN COUNT(*) AS n';
    const first = await countPattern(graph, text, { where: 'here', budgets: { steps: 100_000 } });
    const second = await countPattern(graph, text, { where: 'here', budgets: { steps: 100_000 } });
    expect(first.shortage).toBe('steps');
    expect(second.count).toBe(first.count);
  });

  test('LIMIT ends the search early', async () => {
    const text = 'MATCH (a), (b), (c), (d), (e), (f) RETURN a.i LIMIT 3';
    const answer = await runPattern(graph, text, { budgets: { time: 600_000 } });
    expect([answer.rows.length, answer.complete]).toEqual([3, true]);
  });

  test.each([
    ['time', 0],
    ['rows', -1],
    ['memory', Number.NaN],
  ])('%s of %d is refused', async (name, value) => {
    const running = runPattern(graph, 'MATCH (a) RETURN a', { budgets: { [name]: value } });
    await expect(running).rejects.toThrow(`budgets.${name}`);
  });
});

describe('cancelling', () => {
  test('stops a query on workers', async () => {
    const stop = new AbortController();
    const rows = streamPattern(graph, 'MATCH (a), (b), (c), (d), (e), (f) RETURN a.i', {
      signal: stop.signal,
      budgets: { time: 600_000, rows: 1e9 },
    });
    let batch = await rows.next();
    expect(batch.done).toBe(false);
    // The search is under way, since it has found something.
    stop.abort();
    while (!batch.done) batch = await rows.next();
    expect(batch.value).toMatchObject({ shortage: 'cancelled', where: 'workers' });
  });

  test('a reader that leaves a stream stops the search', async () => {
    let seen = 0;
    for await (const rows of streamPattern(graph, 'MATCH (a), (b), (c), (d), (e) RETURN a.i', {
      budgets: { time: 600_000, rows: 1e9 },
    })) {
      seen += rows.length;
      break;
    }
    expect(seen).toBeGreaterThan(0);
    const { count } = await countPattern(graph, 'MATCH (a) RETURN a', { where: 'workers' });
    expect(count).toBe(60);
  });

  test('a signal that is aborted already gives nothing', async () => {
    const answer = await runPattern(graph, 'MATCH (a) RETURN a', { signal: AbortSignal.abort() });
    expect([answer.rows.length, answer.shortage]).toEqual([0, 'cancelled']);
  });
});

test('a path as long as the longest that is followed does not overflow the stack', async () => {
  const size = 3000;
  const line = buildGraph(
    Array.from({ length: size }, (_, i) => ({ id: `n${i}`, properties: { i } })),
    Array.from({ length: size - 1 }, (_, i) => ({ source: `n${i}`, target: `n${i + 1}` })),
  );
  const answer = await runPattern(line, 'MATCH (a WHERE a.i = 0)->{1,}(b) RETURN COUNT(*) AS n');
  expect(answer.shortage).toBe('length');
  const short = await runPattern(line, 'MATCH (a WHERE a.i = 2500)((x)->(y))+(b) RETURN COUNT(*) AS n');
  expect(short.rows).toEqual([[499]]);
});
