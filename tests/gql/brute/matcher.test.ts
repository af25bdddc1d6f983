import { describe, expect, it } from 'vitest';
import { Matcher } from './matcher.ts';
import type {
  Alternatives,
  Clause,
  Condition,
  Conjunction,
  Direction,
  EdgePart,
  GroupPart,
  Linear,
  Literal,
  MatchClause,
  NodePart,
  Part,
  PathPattern,
  Quantifier,
  Term,
} from './query.ts';
import { simpleQuery, textOf } from './query.ts';
import { answerOf, valueText, wrongWith } from './result.ts';
import type { SmallEdge, SmallGraph, SmallNode } from './walks.ts';

// The brute-force matcher itself, held to cases worked out by hand and to results that papers state.

const node = (name?: string, more: Partial<NodePart> = {}): NodePart => ({
  part: 'node',
  ...(name !== undefined && { name }),
  ...more,
});
const edge = (direction: Direction, name?: string, more: Partial<EdgePart> = {}): EdgePart => ({
  part: 'edge',
  direction,
  ...(name !== undefined && { name }),
  ...more,
});
const group = (
  parts: readonly Part[],
  quantifier?: Quantifier,
  more: Partial<GroupPart> = {},
): GroupPart => ({
  part: 'group',
  parts,
  ...(quantifier !== undefined && { quantifier }),
  ...more,
});
const match = (paths: MatchClause['paths'], where?: Condition, repeatable = false): MatchClause => ({
  clause: 'match',
  repeatable,
  paths,
  ...(where !== undefined && { where }),
});
const has = (of: string, key: string, value: Literal): Condition => ({
  test: 'compare',
  op: '=',
  left: { term: 'property', of, key },
  right: { term: 'literal', value },
});

function nodes(...ids: string[]): SmallNode[] {
  return ids.map((id) => ({ id, labels: [], properties: {} }));
}
/** `a>b` is directed, `a~b` is not. */
function edges(...lines: string[]): SmallEdge[] {
  return lines.map((line, at) => {
    const [source = '', target = ''] = line.split(/[>~]/u);
    return { id: `e${at + 1}`, source, target, directed: line.includes('>'), properties: {} };
  });
}

/** What a variable is bound to in all rows, sorted. */
function found(
  graph: SmallGraph,
  clauses: readonly MatchClause[],
  name: string,
  distinctNodes = false,
): string[] {
  const rows = new Matcher(graph, { distinctNodes }).rowsOf(clauses);
  return rows.map((row) => valueText(row.get(name) ?? null)).toSorted();
}

// The accounts and transfers of figure 1 of A. Deutsch and others, "Graph Pattern Matching in GQL and SQL/PGQ" (SIGMOD
// 2022), from memory: amounts in millions; of the places only that of a4, which is a city and a country.
const accounts = ['a1', 'a2', 'a3', 'a4', 'a5', 'a6'];
const transfers: readonly (readonly [string, string, string, number])[] = [
  ['t1', 'a1', 'a3', 8],
  ['t2', 'a3', 'a2', 10],
  ['t3', 'a2', 'a4', 10],
  ['t4', 'a4', 'a6', 10],
  ['t5', 'a6', 'a3', 10],
  ['t6', 'a6', 'a5', 4],
  ['t7', 'a3', 'a5', 6],
  ['t8', 'a5', 'a1', 9],
];
const bank: SmallGraph = {
  nodes: [
    ...accounts.map((id): SmallNode => ({ id, labels: ['Account'], properties: { id } })),
    { id: 'c2', labels: ['City', 'Country'], properties: {} },
  ],
  edges: [
    ...transfers.map(([id, source, target, amount]): SmallEdge => {
      return { id, source, target, directed: true, label: 'Transfer', properties: { amount } };
    }),
    { id: 'li4', source: 'a4', target: 'c2', directed: true, label: 'isLocatedIn', properties: {} },
  ],
};
const transfer = (quantifier: Quantifier): EdgePart =>
  edge('->', 't', { label: { label: 'name', name: 'Transfer' }, quantifier });

describe('the brute-force matcher on the paper’s figure 1', () => {
  const between = (mode: 'TRAIL' | 'ACYCLIC'): MatchClause =>
    match(
      [
        {
          name: 'p',
          mode,
          parts: [
            node('a', { where: has('a', 'id', 'a6') }),
            transfer({ least: 0, most: 6 }),
            node('b', { where: has('b', 'id', 'a2') }),
          ],
        },
      ],
      undefined,
      true,
    );

  it('finds the three trails from a6 to a2 of section 5.1, two of which repeat no node', () => {
    const straight = ['<a6 t5 a3 t2 a2>', '<a6 t6 a5 t8 a1 t1 a3 t2 a2>'];
    const twice = '<a6 t5 a3 t7 a5 t8 a1 t1 a3 t2 a2>';
    expect(found(bank, [between('TRAIL')], 'p')).toEqual([straight[0], twice, straight[1]]);
    expect(found(bank, [between('ACYCLIC')], 'p')).toEqual(straight);
  });

  it('finds the shortest of those three, and the two that are shortest by way of a2 to a3 of section 5.1', () => {
    const start = node('a', { where: has('a', 'id', 'a6') });
    const middle = node('b', { where: has('b', 'id', 'a2') });
    const one: PathPattern = {
      name: 'p',
      parts: [start, transfer({ least: 0, most: 4 }), middle],
    };
    for (const search of ['ANY', 'ANY SHORTEST', 'ALL SHORTEST'] as const) {
      expect(found(bank, [match([{ ...one, search, mode: 'TRAIL' }])], 'p')).toEqual(['<a6 t5 a3 t2 a2>']);
      expect(found(bank, [match([{ ...one, search }], undefined, true)], 'p')).toEqual(['<a6 t5 a3 t2 a2>']);
    }
    // Without t7, which is on neither, and li4, so that there are not too many walks.
    const needed = { ...bank, edges: bank.edges.filter(({ id }) => id !== 't7' && id !== 'li4') };
    const rest = edge('->', 'r', {
      label: { label: 'name', name: 'Transfer' },
      quantifier: { least: 0, most: 5 },
    });
    const end = node('c', { where: has('c', 'id', 'a3') });
    const long: PathPattern = { ...one, mode: 'TRAIL', parts: [...one.parts, rest, end] };
    const both = [
      '<a6 t5 a3 t2 a2 t3 a4 t4 a6 t6 a5 t8 a1 t1 a3>',
      '<a6 t6 a5 t8 a1 t1 a3 t2 a2 t3 a4 t4 a6 t5 a3>',
    ];
    expect(found(needed, [match([{ ...long, search: 'ALL SHORTEST' }])], 'p')).toEqual(both);
    expect(found(needed, [match([{ ...long, search: 'ANY SHORTEST' }])], 'p')).toEqual(both.slice(0, 1));
  });

  it('finds the two circles of the running example of section 6, and keeps the elements of the group in order', () => {
    const large: Condition = {
      test: 'compare',
      op: '>',
      left: { term: 'property', of: 'b', key: 'amount' },
      right: { term: 'literal', value: 5 },
    };
    const transferred = edge('->', 'b', { label: { label: 'name', name: 'Transfer' }, where: large });
    const located = edge('->', undefined, { label: { label: 'name', name: 'isLocatedIn' } });
    const to = (name: string): Part[] => [located, node('c', { label: { label: 'name', name } })];
    const clause = (by: Alternatives['by']): MatchClause => {
      const ends = group(to('City'), undefined, { or: { by, of: [to('Country')] } });
      const start = node('a', { where: has('a', 'id', 'a4') });
      const parts = [start, group([transferred], { least: 1, most: 7 }), node('a'), ends];
      return match([{ mode: 'TRAIL', parts }]);
    };
    const circles = ['[t4, t5, t2, t3]', '[t4, t5, t7, t8, t1, t2, t3]'];
    expect(found(bank, [clause('|')], 'b')).toEqual(circles);
    expect(found(bank, [clause('|')], 'c')).toEqual(['c2', 'c2']);
    // A place that is a city and a country is found twice when the alternatives stay apart.
    expect(found(bank, [clause('|+|')], 'b')).toEqual(circles.flatMap((circle) => [circle, circle]));
  });
});

describe('the brute-force matcher by hand', () => {
  const loop: SmallGraph = { nodes: nodes('a'), edges: edges('a>a') };

  it('walks every direction the standard has', () => {
    const graph: SmallGraph = { nodes: nodes('a', 'b'), edges: edges('a>b', 'a~b') };
    const ends = (direction: Direction): string[] =>
      found(graph, [match([{ name: 'p', parts: [node(), edge(direction), node()] }])], 'p');
    const [right, left] = ['<a e1 b>', '<b e1 a>'];
    const undirected = ['<a e2 b>', '<b e2 a>'];
    expect(ends('->')).toEqual([right]);
    expect(ends('<-')).toEqual([left]);
    expect(ends('~')).toEqual(undirected);
    expect(ends('~>')).toEqual([right, ...undirected].toSorted());
    expect(ends('<~')).toEqual([left, ...undirected].toSorted());
    expect(ends('<->')).toEqual([right, left]);
    expect(ends('-')).toEqual([right, left, ...undirected].toSorted());
  });

  it('counts a loop once in either direction, and a place once however nameless parts divide the way to it', () => {
    expect(found(loop, [match([{ name: 'p', parts: [edge('-')] }])], 'p')).toEqual(['<a e1 a>']);
    const line: SmallGraph = { nodes: nodes('a', 'b'), edges: edges('a>b') };
    const upToOne: Quantifier = { least: 0, most: 1 };
    const nameless = [
      edge('->', undefined, { quantifier: upToOne }),
      edge('->', undefined, { quantifier: upToOne }),
    ];
    expect(found(line, [match([{ name: 'p', parts: [node('a'), ...nameless, node('b')] }])], 'p')).toEqual([
      '<a e1 b>',
      '<a>',
      '<b>',
    ]);
    const named = [edge('->', 'x', { quantifier: upToOne }), edge('->', 'y', { quantifier: upToOne })];
    expect(found(line, [match([{ name: 'p', parts: [node('a'), ...named, node('b')] }])], 'p')).toEqual([
      '<a e1 b>',
      '<a e1 b>',
      '<a>',
      '<b>',
    ]);
  });

  it('tells the modes apart on a triangle with a loop', () => {
    const graph: SmallGraph = { nodes: nodes('a', 'b', 'c'), edges: edges('a>b', 'b>c', 'c>a', 'a>a') };
    const count = (mode: 'WALK' | 'TRAIL' | 'SIMPLE' | 'ACYCLIC', least: number): number =>
      found(
        graph,
        [
          match(
            [
              {
                name: 'p',
                mode,
                parts: [
                  node('x', { where: has('x', 'k', 1) }),
                  edge('->', undefined, { quantifier: { least, most: least } }),
                  node(),
                ],
              },
            ],
            undefined,
            true,
          ),
        ],
        'p',
      ).length;
    const marked = {
      ...graph,
      nodes: graph.nodes.map((one) => (one.id === 'a' ? { ...one, properties: { k: 1 } } : one)),
    };
    const from = (mode: 'WALK' | 'TRAIL' | 'SIMPLE' | 'ACYCLIC', length: number): string[] =>
      found(
        marked,
        [
          match(
            [
              {
                name: 'p',
                mode,
                parts: [
                  node('x', { where: has('x', 'k', 1) }),
                  edge('->', undefined, { quantifier: { least: length, most: length } }),
                  node(),
                ],
              },
            ],
            undefined,
            true,
          ),
        ],
        'p',
      );
    expect(count('WALK', 1)).toBe(0);
    expect(from('WALK', 2)).toEqual(['<a e1 b e2 c>', '<a e4 a e1 b>', '<a e4 a e4 a>']);
    expect(from('TRAIL', 2)).toEqual(['<a e1 b e2 c>', '<a e4 a e1 b>']);
    expect(from('SIMPLE', 2)).toEqual(['<a e1 b e2 c>']);
    expect(from('SIMPLE', 3)).toEqual(['<a e1 b e2 c e3 a>']);
    expect(from('SIMPLE', 1)).toEqual(['<a e1 b>', '<a e4 a>']);
    expect(from('ACYCLIC', 3)).toEqual([]);
    expect(from('ACYCLIC', 1)).toEqual(['<a e1 b>']);
    expect(from('ACYCLIC', 0)).toEqual(['<a>']);
  });

  it('counts SIMPLE from the first place of the path to the last, with parts that may be empty', () => {
    const graph: SmallGraph = { nodes: nodes('a', 'b', 'c'), edges: edges('a>b', 'b>c', 'c>a') };
    const parts = [node('a'), edge('->'), node('b'), edge('->'), node('c'), edge('->'), node('d')];
    const tail = [edge('->', undefined, { quantifier: { least: 0, most: 2 } }), node('f')];
    expect(found(graph, [match([{ mode: 'SIMPLE', parts: [...parts, ...tail] }])], 'f')).toEqual([
      'a',
      'b',
      'c',
    ]);
  });

  it('keeps edges different within a MATCH, across its paths, unless elements may repeat', () => {
    const parts = [node('x'), edge('-'), node('y')];
    const line: SmallGraph = { nodes: nodes('a', 'b'), edges: edges('a>b') };
    const both = [{ parts }, { name: 'p', parts: [node('y'), edge('-'), node('z')] }];
    expect(found(line, [match(both)], 'p')).toEqual([]);
    expect(found(line, [match(both, undefined, true)], 'p')).toEqual(['<a e1 b>', '<b e1 a>']);
    expect(found(line, [match([{ parts }]), match(both.slice(1))], 'p')).toEqual(['<a e1 b>', '<b e1 a>']);
  });

  it('knows lists, what `?` leaves out, and what OPTIONAL leaves out', () => {
    const line: SmallGraph = { nodes: nodes('a', 'b', 'c'), edges: edges('a>b', 'b>c') };
    const list = edge('->', 'y', { quantifier: { least: 0, most: 2 } });
    expect(found(line, [match([{ parts: [node('a'), list, node('b')] }])], 'y')).toEqual([
      '[]',
      '[]',
      '[]',
      '[e1, e2]',
      '[e1]',
      '[e2]',
    ]);
    const maybe = edge('->', 'y', { quantifier: { least: 0, most: 1, questioned: true } });
    expect(found(line, [match([{ parts: [node('a'), maybe, node('b')] }])], 'y')).toEqual([
      'e1',
      'e2',
      'null',
      'null',
      'null',
    ]);
    const rows = new Matcher(line).rowsOf([
      match([{ parts: [node('a')] }]),
      { clause: 'optional', of: [match([{ parts: [node('a'), edge('->', 'e'), node('b')] }])] },
    ]);
    expect(
      rows.map((row) => [row.get('a'), row.get('b')].map((value) => valueText(value ?? null)).join()),
    ).toEqual(['a,b', 'b,c', 'c,null']);
    const after = new Matcher(line).rowsOf([match([{ parts: [node('b'), edge('->'), node('c')] }])], rows);
    expect(after.map((row) => valueText(row.get('c') ?? null))).toEqual(['c']);
  });

  it('looks names up in the iteration first, and follows three-valued logic', () => {
    const graph: SmallGraph = {
      nodes: nodes('a', 'b', 'c').map((one, at) => ({ ...one, properties: { k: at === 2 ? null : at } })),
      edges: edges('a>b', 'b>c'),
    };
    const rising: Condition = {
      test: 'compare',
      op: '<',
      left: { term: 'property', of: 'x', key: 'k' },
      right: { term: 'property', of: 'y', key: 'k' },
    };
    const steps = (where: Condition): string[] =>
      found(
        graph,
        [match([{ parts: [group([node('x'), edge('->'), node('y')], { least: 1, most: 2 }, { where })] }])],
        'y',
      );
    expect(steps(rising)).toEqual(['[b]']);
    expect(steps({ test: 'not', of: rising })).toEqual([]);
    expect(steps({ test: 'truth', of: rising, value: null, negated: false })).toEqual(['[c]']);
    expect(steps({ test: 'truth', of: rising, value: false, negated: true })).toEqual([
      '[b, c]',
      '[b]',
      '[c]',
    ]);
    const known: Condition = {
      test: 'in',
      of: { term: 'property', of: 'y', key: 'k' },
      list: [1, null],
      negated: false,
    };
    expect(steps(known)).toEqual(['[b]']);
    expect(steps({ ...known, negated: true })).toEqual([]);
  });

  it('tells distinct nodes by their places in the match', () => {
    const line: SmallGraph = { nodes: nodes('a', 'b'), edges: edges('a>b', 'b>a') };
    const back = match([{ name: 'p', parts: [node('x'), edge('->'), node(), edge('->'), node('y')] }]);
    expect(found(line, [back], 'p', true)).toEqual([]);
    const ring = match([{ name: 'p', parts: [node('x'), edge('->'), node(), edge('->'), node('x')] }]);
    expect(found(line, [ring], 'p', true)).toEqual(['<a e1 b e2 a>', '<b e2 a e1 b>']);
    const two = match([{ parts: [node('x')] }, { name: 'p', parts: [node('y')] }]);
    expect(found(line, [two], 'p', true)).toEqual(['<a>', '<b>']);
  });

  it('groups, sorts with null last, and takes any rows of equal keys under a limit', () => {
    const graph: SmallGraph = {
      nodes: [1, 1, 0, null].map((k, at) => ({ id: `n${at}`, labels: [], properties: { k } })),
      edges: [],
    };
    const clauses = [match([{ parts: [node('x')] }])];
    const matcher = new Matcher(graph);
    const key = { item: 'term', of: { term: 'property', of: 'x', key: 'k' }, alias: 'k' } as const;
    const result = { distinct: false, order: [{ by: 'k', descending: false }], limit: 2 } as const;
    const grouped = answerOf(
      simpleQuery(clauses, { ...result, items: [key, { item: 'count', alias: 'c' }] }),
      matcher,
    );
    expect(grouped.map(({ text }) => text)).toEqual(['0 | 1', '1 | 2', 'null | 1']);
    const items = [key, { item: 'term', of: { term: 'variable', name: 'x' } }] as const;
    const query = simpleQuery(clauses, { ...result, items });
    const all = answerOf(query, matcher);
    expect(wrongWith(query, all, ['0 | n2', '1 | n0'])).toBeUndefined();
    expect(wrongWith(query, all, ['0 | n2', '1 | n1'])).toBeUndefined();
    expect(wrongWith(query, all, ['1 | n1', '0 | n2'])).toContain('a row that is not there');
    expect(wrongWith(query, all, ['0 | n2'])).toContain('1 rows instead of 2');
  });

  it('compares records field by field, whatever their order, and groups by what is written', () => {
    const graph: SmallGraph = {
      nodes: [1, 1, null].map((k, at) => ({ id: `n${at}`, labels: [], properties: { k } })),
      edges: [],
    };
    const k: Term = { term: 'property', of: 'x', key: 'k' };
    const literal = (value: Literal): Term => ({ term: 'literal', value });
    const record = (...fields: readonly (readonly [string, Term])[]): Term => ({
      term: 'record',
      fields,
      long: false,
    });
    const clauses: Clause[] = [
      match([{ parts: [node('x')] }]),
      { clause: 'let', names: [{ name: 'r', of: record(['a', k], ['b', literal(2)]) }] },
    ];
    const matcher = new Matcher(graph);
    const equal = (other: Term): string[] => {
      const condition: Condition = {
        test: 'compare',
        op: '=',
        left: { term: 'variable', name: 'r' },
        right: other,
      };
      const defined: Clause = {
        clause: 'let',
        names: [{ name: 'same', of: { term: 'truth', of: condition } }],
      };
      return matcher.rowsOf([...clauses, defined]).map((row) => valueText(row.get('same') ?? null));
    };
    expect(equal(record(['b', literal(2)], ['a', literal(1)]))).toEqual(['true', 'true', 'null']);
    expect(equal(record(['a', literal(1)], ['b', literal(3)]))).toEqual(['false', 'false', 'false']);
    const count = { item: 'count', alias: 'c' } as const;
    const grouped = (groupBy: readonly string[], from: readonly Clause[] = clauses): string[] => {
      const query = simpleQuery(from, { distinct: false, order: [], items: [count], groupBy });
      return answerOf(query, matcher).map(({ text }) => text);
    };
    expect(grouped(['r'])).toEqual(['2', '1']);
    expect(grouped(['x'])).toEqual(['1', '1', '1']);
    expect(grouped([])).toEqual(['3']);
    const none: Clause = { clause: 'filter', long: false, where: has('x', 'k', 7) };
    expect(grouped(['x'], [...clauses, none])).toEqual([]);
    expect(grouped([], [...clauses, none])).toEqual(['0']);
    expect(
      textOf(simpleQuery(clauses, { distinct: true, order: [], items: [count], groupBy: ['r', 'x'] })),
    ).toBe('MATCH (x) LET r = {a: x.k, b: 2} RETURN DISTINCT COUNT(*) AS c GROUP BY r, x');
  });

  it('joins results as multisets and hands rows on', () => {
    const graph: SmallGraph = { nodes: nodes('a', 'b'), edges: [] };
    const items = [{ item: 'term', of: { term: 'variable', name: 'x' } }] as const;
    const result = { distinct: false, order: [], items };
    const forEach = (...of: Literal[]): Linear => ({
      clauses: [{ clause: 'for', name: 'x', list: { term: 'list', of } }],
      result,
    });
    const rows = (by: Conjunction): string => {
      const query = { ...forEach(1, 1, 2, null), others: [{ by, part: forEach(1, 3, null) }], before: [] };
      const texts = answerOf(query, new Matcher(graph)).map(({ text }) => text);
      return texts.toSorted().join(' ');
    };
    expect(rows('UNION ALL')).toBe('1 1 1 2 3 null null');
    expect(rows('UNION')).toBe('1 2 3 null');
    expect(rows('EXCEPT ALL')).toBe('1 2');
    expect(rows('EXCEPT')).toBe('2');
    expect(rows('INTERSECT ALL')).toBe('1 null');
    expect(rows('INTERSECT')).toBe('1 null');
    expect(rows('OTHERWISE')).toBe('1 1 2 null');
    const pairs = {
      ...simpleQuery([match([{ parts: [node('y')] }])], {
        ...result,
        items: [...items, { item: 'term', of: { term: 'variable', name: 'y' } }],
      }),
      before: [{ ...forEach(1, 1), others: [] }],
    };
    expect(answerOf(pairs, new Matcher(graph)).map(({ text }) => text)).toEqual([
      '1 | a',
      '1 | b',
      '1 | a',
      '1 | b',
    ]);
  });

  it('searches for paths by ends, after conditions inside and before those of the MATCH', () => {
    const graph: SmallGraph = {
      nodes: nodes('a', 'b', 'c').map((one, k) => ({ ...one, properties: { k } })),
      edges: edges('a>b', 'b>c', 'a>c', 'a>c'),
    };
    const steps = edge('->', 'e', { quantifier: { least: 1, most: 2 } });
    const path: PathPattern = { name: 'p', parts: [node('x'), steps, node('y')] };
    const paths = (more: Partial<PathPattern>, where?: Condition): string[] =>
      found(graph, [match([{ ...path, ...more }], where)], 'p');
    expect(paths({ search: 'ALL' })).toEqual(paths({}));
    expect(paths({ search: 'ALL SHORTEST' })).toEqual(['<a e1 b>', '<a e3 c>', '<a e4 c>', '<b e2 c>']);
    expect(paths({ search: 'ANY SHORTEST' })).toEqual(['<a e1 b>', '<a e3 c>', '<b e2 c>']);
    const two: Condition = {
      test: 'compare',
      op: '=',
      left: { term: 'size', of: 'e' },
      right: { term: 'literal', value: 2 },
    };
    expect(paths({ search: 'ANY' }, two)).toEqual([]);
    const inside = [group([...path.parts], undefined, { where: two })];
    expect(paths({ search: 'ANY', parts: inside })).toEqual(['<a e1 b e2 c>']);
  });

  it('leaves open which of the bindings along one path is taken', () => {
    const graph: SmallGraph = { nodes: nodes('a', 'b'), edges: edges('a>b') };
    const maybe = (name: string): EdgePart =>
      edge('->', name, { quantifier: { least: 0, most: 1, questioned: true } });
    const path: PathPattern = { search: 'ANY', parts: [node(), maybe('x'), maybe('y'), edge('->'), node()] };
    const all: PathPattern = { search: 'ANY', parts: [node(), maybe('x'), maybe('y'), node('z')] };
    expect(found(graph, [match([path])], 'x')).toEqual(['null']);
    const chosen = [0, 1].map((choice) =>
      new Matcher(graph, { choose: (count) => (count === 2 ? choice : 9) })
        .rowsOf([match([all])])
        .filter((row) => valueText(row.get('z') ?? null) === 'b')
        .map((row) => [row.get('x'), row.get('y')].map((value) => valueText(value ?? null)).join())
        .toSorted(),
    );
    expect(chosen.map((rows) => rows.length)).toEqual([2, 2]);
    expect(new Set(chosen.flat())).toEqual(new Set(['null,null', 'null,e1', 'e1,null']));
  });

  it('writes texts by the grammar', () => {
    const quantified = group(
      [
        node('x', {
          label: { label: 'not', of: { label: 'and', of: [{ label: 'name', name: 'A' }, { label: 'any' }] } },
        }),
        edge('<~', 'e'),
        edge('-'),
      ],
      { least: 1, most: 2 },
      {
        mode: 'TRAIL',
        where: { test: 'not', of: { test: 'or', of: [has('x', 'k', 1), has('e', 't', 'x')] } },
      },
    );
    const clause = match(
      [{ name: 'p', parts: [node('a', { properties: [['k', null]] }), quantified] }],
      undefined,
      true,
    );
    const exists: Condition = { test: 'exists', of: [match([{ parts: [node('a')] }])], bare: true };
    expect(
      textOf(
        simpleQuery([clause, { clause: 'optional', of: [match([{ parts: [node('b')] }], exists)] }], {
          distinct: true,
          items: [{ item: 'count', alias: 'c' }],
          order: [{ by: 'c', descending: true, nulls: 'FIRST' }],
          offset: 1,
          limit: 2,
        }),
      ),
    ).toBe(
      "MATCH REPEATABLE ELEMENTS p = (a {k: NULL})(TRAIL (x:!(A&%))<~[e]~ - WHERE NOT (x.k = 1 OR e.t = 'x')){1,2} OPTIONAL MATCH (b) WHERE EXISTS { (a) } RETURN DISTINCT COUNT(*) AS c ORDER BY c DESC NULLS FIRST OFFSET 1 LIMIT 2",
    );
  });
});
