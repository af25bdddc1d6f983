/**
 * Paths where parts may be empty, path modes and distinct nodes: counted by hand, and by the naive evaluation in `oracle/`,
 * from the words of ISO/IEC 39075:2024, 16.6 and 16.7 (from memory), and of A. Deutsch and others, "Graph Pattern Matching in
 * GQL and SQL/PGQ", SIGMOD 2022, section 4: what a mode asks, it asks of the path that was walked, wherever the text says so.
 */
import { describe, expect, test } from 'vitest';
import { runPattern } from '../../src/gql/engine.ts';
import { buildGraph, type PatternGraph } from '../../src/gql/graph.ts';
import type { QueryOptions } from '../../src/gql/options.ts';
import { count, edges } from './oracle/asking.ts';
import type { OracleGraph } from './oracle/graph.ts';

const WAYS: readonly QueryOptions[] = [{}, { naive: true }, { strategy: 'candidates' }];

function graphOf(labels: Readonly<Record<string, readonly string[]>>, ...texts: string[]): OracleGraph {
  return { nodes: Object.entries(labels).map(([id, own]) => ({ id, labels: own })), edges: edges(...texts) };
}

function built({ nodes, edges: list }: OracleGraph): PatternGraph {
  return buildGraph(
    nodes.map(({ id, labels }) => ({ id, labels })),
    list.map(({ id, source, target, label, directed }) => ({
      id,
      source,
      target,
      directed,
      ...(label !== undefined && { label }),
    })),
  );
}

/** The number of matches, by the engine in each way and by the naive evaluation. */
async function counted(graph: OracleGraph, pattern: string, distinctNodes = false): Promise<number[]> {
  const answers = await Promise.all(
    WAYS.map((way) =>
      runPattern(built(graph), `MATCH ${pattern} RETURN COUNT(*) AS n`, {
        where: 'here',
        distinctNodes,
        ...way,
      }),
    ),
  );
  expect(answers.every(({ complete }) => complete)).toBe(true);
  return [...answers.map(({ rows }) => rows[0]![0] as number), count(graph, pattern, { distinctNodes })];
}

const every = (n: number) => [n, n, n, n];
const plain = { a: [], b: [], c: [] };
const triangle = graphOf(plain, 'ab a->b', 'bc b->c', 'ca c->a');

describe('a name at another place of the same path is another match', () => {
  const loop = graphOf({ n: [] }, 'e n->n');
  const there = graphOf({ n: [], m: [] }, 'e n->m', 'f m->n');
  test.each([
    // Nothing walked; the loop with x at its beginning, and at its end.
    [loop, '->{0,1}(x)->{0,1}', 1 + 2],
    [loop, '->{0,1}()->{0,1}', 1 + 1],
    [loop, '->{0,1}((x)->){0,1}', 1 + 2],
    // From each node: nothing, one edge with x at either end, both edges with x at each of three places.
    [there, '->{0,2}(x)->{0,2}', 2 * (1 + 2 + 3)],
    [there, '->{0,2}->{0,2}', 2 * (1 + 1 + 1)],
  ])('%#', async (graph, pattern, n) => {
    expect(await counted(graph, pattern)).toEqual(every(n));
  });
});

describe('a mode is asked of the path, not of the pattern', () => {
  test.each([
    // Once around, from each corner; what may follow would pass a corner again.
    ['SIMPLE (a)->(b)->(c)->(d)->{0,2}(f)', 3],
    ['SIMPLE (a)->{0,1}(b)->(c)->(d)->(f)', 3],
    ['SIMPLE (a)->{0,2}(b)->(c)->(d)->{0,2}(f)', 3 + 3 + 3],
    ['SIMPLE (a)->?(b)->(c)->(d)->?(f)', 3 + 3 + 3],
    ['SIMPLE ->? ->(b)->(c)->?(f)', 3 + 3 + 3],
    ['SIMPLE (a)->{0,1}->{0,1}(b)->(c)->(d)->{0,1}->{0,1}(f)', 3 + 3 + 3],
    ['ACYCLIC (a)->(b)->(c)->(d)->{0,2}(f)', 0],
    ['ACYCLIC (a)->{0,1}(b)->(c)->{0,1}(d)', 3 + 3 + 3],
    ['REPEATABLE ELEMENTS TRAIL (a)->(b)->(c)->(d)->{0,2}(f)', 3],
    ['(x)(SIMPLE (a)->{0,1}(b)->(c)->(d))->?(y)', 3 + 3 + 3],
    ['REPEATABLE ELEMENTS (x)(SIMPLE (a)->{0,1}(b)->(c)->(d))->{0,2}(y)', 3 * 2 * 3],
  ])('%s', async (pattern, expected) => {
    expect(await counted(triangle, pattern)).toEqual(every(expected));
  });

  test('a loop closes a simple path of which the rest is empty', async () => {
    const loop = graphOf({ a: [] }, 'l a~a');
    expect(await counted(loop, 'SIMPLE (x)~?(y)~(x)')).toEqual(every(1));
    expect(await counted(loop, 'ACYCLIC (x)~?(y)~(x)')).toEqual(every(0));
  });

  test('of modes around one another each is kept, and bounds what has no bound', async () => {
    // From each corner 0 to 3 steps; a mode that lets everything through does not undo the one around.
    expect(await counted(triangle, 'REPEATABLE ELEMENTS TRAIL (WALK (a)->*(b))')).toEqual(every(12));
    expect(await counted(triangle, 'REPEATABLE ELEMENTS ACYCLIC (TRAIL (a)->*(b))')).toEqual(every(9));
    expect(await counted(triangle, 'REPEATABLE ELEMENTS SIMPLE (WALK (a)->*(b))')).toEqual(every(12));
  });
});

test('labels of nodes without a name do not tell matches apart', async () => {
  const graph = graphOf({ a: ['A'], b: ['A'], c: ['A'] }, 'ab a->b', 'bc b->c');
  // Three empty paths, two of one edge, one of two: however the iterations are cut.
  expect(await counted(graph, '()((:A)->()){0,2}((:A)->()){0,2}()')).toEqual(every(6));
});

describe('conditions inside a quantified path', () => {
  const line = graphOf({ a: [], b: [], c: [] }, 'ab a->b', 'bc b->c');

  test.each([
    // An iteration never arrives where the whole path ends, so that there is none.
    ['(s)((u)->(v) WHERE NOT SAME(v, t)){0,2}(t)', 3],
    ['(s)((u WHERE NOT SAME(u, v))->(v)){0,2}(t)', 6],
    ['(s)((u)->(v WHERE SAME(u, s))){1,2}(t)', 2],
    // Another quantified or questioned path is walked before, whatever stands first.
    ['(a)-[e]->?(b)-[f WHERE NOT SAME(f, e)]->{1,2}(c)', 1],
    ['(a)-[e]->{0,2}(b)-[f WHERE SIZE(e) > 0]->{1,2}(c)', 1],
    ['(a)-[e WHERE SIZE(f) > 0]->{0,2}(b)-[f]->{0,2}(c)', 3 + 2 + 1 + 1],
    ['(s) MATCH (a)((u)->(v) WHERE NOT SAME(v, s)){1,2}(t)', 5],
  ])('see everything around them: %s', async (pattern, expected) => {
    expect(await counted(line, pattern)).toEqual(every(expected));
  });
});

test('OPTIONAL leaves null only what it names, not the node that another name stands for as well', async () => {
  const graph = built(graphOf({ a: [], b: [] }, 'ab a->b'));
  for (const inner of ['(s)(t)->(u)', '(s)()->(u)', '(t)(s)->(u)']) {
    const { rows } = await runPattern(
      graph,
      `MATCH (s) OPTIONAL MATCH ${inner} RETURN ELEMENT_ID(s), u IS NULL`,
    );
    expect(rows).toEqual([
      ['a', false],
      ['b', true],
    ]);
  }
  const inside = 'MATCH (s) WHERE EXISTS { OPTIONAL MATCH (s)->()->() } RETURN ELEMENT_ID(s)';
  expect((await runPattern(graph, inside)).rows.flat()).toEqual(['a', 'b']);
  const { rows } = await runPattern(graph, 'MATCH (s) OPTIONAL MATCH (s)(t)->() RETURN ELEMENT_ID(t)');
  expect(rows.flat()).toEqual(['a', null]);
});

describe('distinct nodes', () => {
  const line = graphOf({ a: [], b: [], c: [], d: [] }, 'ab a->b', 'bc b->c');

  test('are told apart from nodes inside the paths of other clauses', async () => {
    expect(await counted(line, '(a)->{2}(b) MATCH (c)', true)).toEqual(every(1));
    expect(await counted(line, '(c) MATCH (a)->{2}(b)', true)).toEqual(every(1));
    expect(await counted(line, '(a)->{1,2}(b) MATCH (c)->{0,1}(d)', true)).toEqual(every(2 + 2 + 1));
  });

  test('may be one where an empty path puts them at one place, in whichever clause', async () => {
    expect(await counted(line, '(a)->{0,1}(b) MATCH (b)->{0,1}(c)', true)).toEqual(every(4 + 2 + 2 + 1));
    expect(await counted(line, '(a)->{0,1}(b) MATCH (a), (b)', true)).toEqual(every(4 + 2));
    expect(await counted(line, '(a)->{0,1}(b) OPTIONAL MATCH ()->{0,1}(a)', true)).toEqual(
      every(4 + 2 + 1 + 2),
    );
  });

  test('what OPTIONAL did not find is at no place', async () => {
    // b → c leaves nothing to go on to; the second clause may still find every other node.
    expect(await counted(line, '(a)->(b) OPTIONAL MATCH (b)->->() MATCH (c)', true)).toEqual(every(2 + 2));
  });
});

describe('path search (G005, G015 to G018)', () => {
  // a → b → c → a, c → d, and a → e → d, so that from a to d there are two ways of two or three edges.
  const graph = graphOf(
    { a: ['A'], b: [], c: [], d: ['D'], e: ['E'] },
    ...['ab a->b', 'bc b->c', 'ca c->a', 'cd c->d', 'ae a->e', 'ed e->d', 'ac a->c'],
  );
  const found = async (text: string, options: QueryOptions = {}) => {
    const { rows, complete } = await runPattern(built(graph), text, { where: 'here', ...options });
    expect(complete).toBe(true);
    return rows
      .map(([path]) => (path as { elements: { id: string }[] }).elements.map(({ id }) => id).join(' '))
      .sort();
  };

  test('G016, G018: one shortest path for each pair of ends, the first by its ids', async () => {
    // a-ac-c-cd-d and a-ae-e-ed-d are as long; "ac" comes before "ae".
    expect(await found('MATCH p = ANY SHORTEST (x:A)->+(y:D) RETURN p')).toEqual(['a ac c cd d']);
    expect(await found('MATCH p = ANY (x:A)->+(y:D) RETURN p')).toEqual(['a ac c cd d']);
    expect(await found('MATCH p = ANY PATH (x:A)->*(y:A) RETURN p')).toEqual(['a']);
    // Where the pattern asks for more, the shortest that has it.
    expect(await found('MATCH p = ANY SHORTEST (x:A)->*(:E)->*(y:D) RETURN p')).toEqual(['a ae e ed d']);
    expect(await found('MATCH p = ANY SHORTEST ((x:A)-[e]->+(y:D) WHERE COUNT(e) > 2) RETURN p')).toEqual([
      'a ab b bc c cd d',
    ]);
    expect(await found('MATCH p = ANY SHORTEST (x:A WHERE SIZE(e) > 2)-[e]->+(y:D) RETURN p')).toEqual([
      'a ab b bc c cd d',
    ]);
  });

  test('the WHERE of the MATCH is asked of the path that was taken', async () => {
    expect(await found('MATCH p = ANY SHORTEST (x:A)-[e]->+(y:D) WHERE COUNT(e) > 2 RETURN p')).toEqual([]);
  });

  test('G017: all shortest paths', async () => {
    expect(await found('MATCH p = ALL SHORTEST (x:A)->+(y:D) RETURN p')).toEqual([
      'a ac c cd d',
      'a ae e ed d',
    ]);
  });

  test('G015: ALL keeps all', async () => {
    expect(await counted(graph, 'ALL (x)->+(y)')).toEqual(await counted(graph, '(x)->+(y)'));
  });

  test('ends on cycles without a bound, with walks that use edges again', async () => {
    // Around a → c → a once more when a path of at least three edges is asked for: a ac c ca a …
    const text = (path: string) => `MATCH REPEATABLE ELEMENTS p = ANY SHORTEST WALK ${path} RETURN p`;
    expect(await found(text('(x:A)->{5,}(y:A)'))).toEqual(['a ab b bc c ca a ac c ca a']);
    expect(await found(text('(x:A)->*(y:A)'))).toEqual(['a']);
    // No path at all: every state is reached once, and that is that.
    expect(await found(text('(x:D)->+(y:A)'))).toEqual([]);
  });

  test('modes hold of the path that is taken: a longer one where the shortest walk breaks them', async () => {
    const eight = graphOf({ a: ['A'], b: [], c: ['C'] }, 'ab a->b', 'ba b->a', 'bc b->c', 'cb c->b');
    const ask = async (mode: string) => {
      const text = `MATCH REPEATABLE ELEMENTS p = ANY SHORTEST ${mode} (x:A)->(y)->(z)->(u)->(w:A) RETURN p`;
      return (await runPattern(built(eight), text)).rows.length;
    };
    // a b a b a uses edges twice, a b c b a does not, and both pass b twice.
    expect([await ask('WALK'), await ask('TRAIL'), await ask('SIMPLE')]).toEqual([1, 1, 0]);
  });
});

describe('alternatives of paths (G030 to G033)', () => {
  const graph = graphOf({ a: ['A'], b: ['B'], c: ['C'] }, 'ab a->b', 'bc b->c', 'ac a->c');

  test.each([
    // G032: what two find alike is one.
    ['(x)(->|->)(y)', 3],
    ['(x)(->|-)(y)', 6],
    ['(x)->(y) | (x)<-(y)', 6],
    // G030: each counts.
    ['(x)(->|+|->)(y)', 6],
    ['(x)(->|+|-|+|->)(y)', 12],
    // G031, G033: of any length, and several times.
    ['(x:A)(->|->->)(y)', 3],
    ['(x:A)(->{1,2}|+|->->)(y)', 4],
    ['(x:A)(->|<-){2}(y)', 2],
    ['(x)((:A)->(:B)|(:B)->(:C)){1,2}(y)', 3],
    // All of them declare m, which joins.
    ['((x:A)->(m) | (x:C)<-(m:B)), (m)->(z)', 1],
  ])('%s', async (pattern, expected) => {
    expect(await counted(graph, pattern)).toEqual(every(expected));
  });

  test('what the taken one does not declare is null', async () => {
    const { rows } = await runPattern(
      built(graph),
      'MATCH (x:A)(-[e]->(:B) | ->(y:C)) RETURN e IS NULL, y IS NULL',
    );
    expect(rows.map(String).sort()).toEqual(['false,true', 'true,false']);
  });
});

/** Every two of some nodes joined, but the first with the second alone; it is both ends of a search, the last is one of them. */
function clique(size: number): OracleGraph {
  const ids = Array.from({ length: size }, (_, i) => `n${i}`);
  const links = ids.flatMap((a, i) =>
    ids.slice(i + 1, i === 0 ? 2 : undefined).map((b) => `${a}${b} ${a}~${b}`),
  );
  const labels = Object.fromEntries(
    ids.map((id, i) => [id, i === 0 ? ['A', 'B'] : i === size - 1 ? ['B'] : []] as const),
  );
  return graphOf(labels, ...links);
}

// By hand: from n0 the last node is two steps away; no acyclic path leads back to n0, and the others are a great many.
test('a node that can be both ends of a shortest path is not looked for along every path back', async () => {
  const pattern = 'ANY SHORTEST (x:A)~[]~+(y:B)';
  expect(await counted(clique(4), pattern, true)).toEqual([1, 1, 1, 1]);
  const { rows, complete } = await runPattern(built(clique(16)), `MATCH ${pattern} RETURN y`, {
    where: 'here',
    distinctNodes: true,
    budgets: { steps: 100_000 },
  });
  expect([rows.length, complete]).toEqual([1, true]);
});
