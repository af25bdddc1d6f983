import { describe, expect, test } from 'vitest';
import type { MatchClause } from '../../../src/gql/language/ast.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { printQuery } from '../../../src/gql/language/print.ts';
import { factors, labels, query } from './parsing.ts';
import { withoutSpans } from './without-spans.ts';

describe('edges (16.7)', () => {
  test.each([
    ['-[e]->', '->', 'right'],
    ['<-[e]-', '<-', 'left'],
    ['~[e]~', '~', 'undirected'],
    ['<~[e]~', '<~', 'left-or-undirected'],
    ['~[e]~>', '~>', 'undirected-or-right'],
    ['<-[e]->', '<->', 'left-or-right'],
    ['-[e]-', '-', 'any'],
  ])('%s and %s', (full, short, direction) => {
    expect(factors(`(a)${full}(b)`)[1]).toMatchObject({
      kind: 'edge-pattern',
      direction,
      variable: { text: 'e' },
    });
    expect(factors(`(a)${short}(b)`)[1]).toMatchObject({
      kind: 'edge-pattern',
      direction,
      variable: undefined,
    });
    expect(withoutSpans(factors(`(a)${full.replace('e', '')}(b)`))).toEqual(
      withoutSpans(factors(`(a)${short}(b)`)),
    );
  });

  test('two edges may follow each other', () => {
    expect(factors('(a)->->(b)').map(({ kind }) => kind)).toEqual([
      'node-pattern',
      'edge-pattern',
      'edge-pattern',
      'node-pattern',
    ]);
  });
});

describe('elements', () => {
  test('variable, labels, property list or condition', () => {
    expect(factors("(a:B {x: 1, `y z`: 'c'})")[0]).toMatchObject({
      variable: { text: 'a' },
      labels: { kind: 'label-name', name: 'B' },
      properties: [{ key: { text: 'x' } }, { key: { text: 'y z' } }],
    });
    expect(factors('(WHERE TRUE)')[0]).toMatchObject({ kind: 'node-pattern', where: { kind: 'boolean' } });
    expect(factors('(a IS B)')[0]).toMatchObject({ labels: { name: 'B' } });
    expect(factors('()')[0]).toMatchObject({ kind: 'node-pattern', variable: undefined, labels: undefined });
  });

  test('words with a meaning elsewhere may be names', () => {
    expect(factors('(trail)-[walk:first]->(source {order: 1})')[0]).toMatchObject({
      variable: { text: 'trail' },
    });
  });
});

describe('label expressions (16.8): ! binds tighter than &, & tighter than |', () => {
  test.each([
    ['A', 'A'],
    ['A&B|C', '((A&B)|C)'],
    ['A|B&C', '(A|(B&C))'],
    ['(A|B)&C', '((A|B)&C)'],
    ['!A&B', '(!A&B)'],
    ['!(A&B)', '!(A&B)'],
    ['A|B|C', '(A|B|C)'],
    ['%&!A', '(%&!A)'],
    ['`odd name`', 'odd name'],
  ])('%s', (text, expected) => {
    const show = (node: ReturnType<typeof labels>): string => {
      switch (node.kind) {
        case 'label-name':
          return node.name;
        case 'label-wildcard':
          return '%';
        case 'label-negation':
          return `!${show(node.operand)}`;
        case 'label-conjunction':
          return `(${node.operands.map(show).join('&')})`;
        case 'label-disjunction':
          return `(${node.operands.map(show).join('|')})`;
        default:
          return node satisfies never;
      }
    };
    expect(show(labels(text))).toBe(expected);
  });
});

describe('quantifiers (16.11)', () => {
  test.each([
    ['{2}', 2, 2],
    ['{1,3}', 1, 3],
    ['{1,}', 1, undefined],
    ['{,3}', 0, 3],
    ['{,}', 0, undefined],
    ['*', 0, undefined],
    ['+', 1, undefined],
  ])('%s on an edge and on a path', (text, min, max) => {
    expect(factors(`(a)-[e]->${text}(b)`)[1]).toMatchObject({
      kind: 'quantified-path',
      min,
      max,
      path: { kind: 'edge-pattern' },
    });
    expect(factors(`(a)->${text}(b)`)[1]).toMatchObject({ kind: 'quantified-path', min, max });
    expect(factors(`(a)((b)->(c))${text}(d)`)[1]).toMatchObject({
      kind: 'quantified-path',
      min,
      max,
      path: { kind: 'parenthesized-path' },
    });
  });

  test('? is a form of its own', () => {
    expect(factors('(a)->?(b)')[1]).toMatchObject({ kind: 'questioned-path' });
  });
});

describe('parentheses: node or path', () => {
  test.each([
    ['((a))', 'parenthesized-path'],
    ['(a)', 'node-pattern'],
    ['(-[e]->(b))', 'parenthesized-path'],
    ['(<-[e]-(b))', 'parenthesized-path'],
    ['(~(b))', 'parenthesized-path'],
    ['(p = (a)->(b))', 'parenthesized-path'],
    ['(TRAIL (a)->(b))', 'parenthesized-path'],
    ['(SIMPLE PATH (a)->(b))', 'parenthesized-path'],
    ['(trail = (a))', 'parenthesized-path'],
    ['(walk:B)', 'node-pattern'],
    ['((a)->(b) WHERE a.x = 1)', 'parenthesized-path'],
  ])('%s', (text, kind) => {
    expect(factors(text)[0]?.kind).toBe(kind);
  });
});

describe('clauses', () => {
  const first = (text: string): MatchClause => query(text).clauses[0] as MatchClause;

  test('match modes', () => {
    expect(first('MATCH (a) RETURN a').mode).toBeUndefined();
    expect(first('MATCH DIFFERENT EDGES (a) RETURN a').mode).toBe('DIFFERENT EDGES');
    expect(first('MATCH DIFFERENT EDGE BINDINGS (a) RETURN a').mode).toBe('DIFFERENT EDGES');
    expect(first('MATCH DIFFERENT RELATIONSHIPS (a) RETURN a').mode).toBe('DIFFERENT EDGES');
    expect(first('MATCH repeatable elements (a) RETURN a').mode).toBe('REPEATABLE ELEMENTS');
    expect(first('MATCH REPEATABLE ELEMENT BINDINGS (a) RETURN a').mode).toBe('REPEATABLE ELEMENTS');
    expect(first('MATCH different = (a) RETURN a')).toMatchObject({
      mode: undefined,
      paths: [{ variable: { text: 'different' } }],
    });
  });

  test('path variables and path modes', () => {
    const { paths } = first('MATCH p = ACYCLIC PATHS (a)->(b), SIMPLE (c), trail = (d) RETURN a');
    expect(paths.map(({ variable, mode }) => [variable?.text, mode])).toEqual([
      ['p', 'ACYCLIC'],
      [undefined, 'SIMPLE'],
      ['trail', undefined],
    ]);
  });

  test('OPTIONAL MATCH is an optional block of one', () => {
    const optional = withoutSpans(query('MATCH (a) OPTIONAL MATCH (b) RETURN a').clauses[1]);
    expect(withoutSpans(query('MATCH (a) OPTIONAL { MATCH (b) } RETURN a').clauses[1])).toEqual(optional);
    expect(query('OPTIONAL (MATCH (a) MATCH (b)) RETURN a').clauses[0]).toMatchObject({
      kind: 'optional',
      clauses: [{}, {}],
    });
  });

  test('RETURN, GROUP BY, ORDER BY, OFFSET, LIMIT', () => {
    const tree = query(
      'MATCH (a) RETURN DISTINCT a.x AS k, COUNT(*) AS "how many" GROUP BY k ORDER BY k DESC NULLS LAST, a ASC OFFSET 2 LIMIT $n;',
    );
    expect(tree).toMatchObject({
      result: {
        distinct: true,
        items: [{ alias: { text: 'k' } }, { alias: { text: 'how many' } }],
        groupBy: [{ name: 'k' }],
      },
      orderBy: [
        { descending: true, nulls: 'LAST' },
        { descending: false, nulls: undefined },
      ],
      offset: { value: 2 },
      limit: { kind: 'parameter', name: 'n' },
    });
    expect(query('MATCH (a) RETURN * SKIP 1')).toMatchObject({
      result: { items: undefined },
      offset: { value: 1 },
    });
    expect(query('MATCH (a) RETURN COUNT(*) AS n GROUP BY ()').result.groupBy).toEqual([]);
  });

  test('comments and line breaks may come anywhere between tokens', () => {
    query('MATCH /* nodes */ (a) // all\n-- of them\nRETURN a');
  });

  test('every node of the tree has its place in the text', () => {
    const text = 'MATCH (a:B)-[e]->(c) WHERE a.x = 12 RETURN a';
    const { paths, where } = first(text);
    const at = ({ start, end }: { start: number; end: number }): string => text.slice(start, end);
    expect(at(paths[0]!.span)).toBe('(a:B)-[e]->(c)');
    expect(paths[0]!.factors.map(({ span }) => at(span))).toEqual(['(a:B)', '-[e]->', '(c)']);
    expect(at(where!.span)).toBe('a.x = 12');
    expect(at(query(text).result.span)).toBe('RETURN a');
  });

  test('words that only GQL reserves are taken as names, with a warning where the text chose them', () => {
    const { errors, warnings } = parsePattern('MATCH (small)-[upper]->(b) RETURN small.value');
    expect(errors).toEqual([]);
    expect(warnings.map(({ code, column }) => `${code} ${column}`)).toEqual([
      'reserved-word 8',
      'reserved-word 16',
      'reserved-word 35',
    ]);
    expect(parsePattern('MATCH (`small`) RETURN COUNT(*) AS n').warnings).toEqual([]);
  });
});

// GQL.g4, 16.8: labelExpression : EXCLAMATION_MARK labelExpression | …
test.each([
  ['!!A', '!(!A)'],
  ['!!!A', '!(!(!A))'],
  ['!!A&B', '(!(!A))&B'],
])('the label %s is %s', (text, same) => {
  const labels = (label: string): string => printQuery(parsePattern(`MATCH (a:${label}) RETURN a`).query!);
  expect(labels(text)).toBe(labels(same));
});
