/** What callers hand in beside the text: parameters, properties, edges, files. Bad ones are named, with the fix. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CsvError, matchFiles } from '../../src/gql/files.ts';
import {
  buildGraph,
  countPattern,
  explainPattern,
  GraphInputError,
  matchBySegment,
  nearMatches,
  PatternGraph,
  prepare,
  QueryOptionError,
  runPattern,
} from '../../src/gql/gql.ts';

const graph = buildGraph(
  [
    { id: 'a', labels: ['Town'], properties: { k: 1 } },
    { id: 'b', labels: ['Town'], properties: { k: 2 } },
  ],
  [{ source: 'a', target: 'b', label: 'ROAD' }],
);
const TEXT = 'MATCH (n {k: $p}) RETURN n.k';
const run = (p: unknown, text = TEXT) => runPattern(graph, text, { parameters: { p }, where: 'here' });

class Width {
  readonly mm = 5;
}

function cyclic(): unknown {
  const list: unknown[] = [1, { name: 'x' }];
  (list[1] as Record<string, unknown>).back = list;
  return list;
}

function nested(depth: number): unknown {
  let value: unknown = 1;
  for (let i = 0; i < depth; i++) value = i % 2 === 0 ? [value] : { inner: value };
  return value;
}

describe('a parameter that is no value of the language is named, with its place and the fix', () => {
  test.each<[string, unknown, string]>([
    ['a BigInt', 10n, '$p is the BigInt 10; give a number up to 9007199254740991'],
    ['a BigInt in a list', [1, [2, 10n]], '$p[1][1] is the BigInt 10'],
    ['a function', () => 1, '$p is a function'],
    ['a symbol', Symbol('s'), '$p is a symbol'],
    ['NaN', Number.NaN, '$p is NaN, which is not a finite number; give null'],
    ['infinity in a record', { size: { width: -1 / 0 } }, '$p.size.width is -Infinity'],
    ['undefined', undefined, '$p is undefined; give null'],
    ['undefined in a record', { width: undefined }, '$p.width is undefined'],
    ['a gap in a list', Array.from({ length: 2 }), '$p[0] is undefined'],
    ['a date', new Date(0), '$p is a Date; give its text, from toISOString()'],
    ['a map', new Map([['a', 1]]), '$p is a Map; give a plain object'],
    ['a set', [new Set([1])], '$p[0] is an object of class Set; give a list'],
    ['bytes', new Uint8Array(2), '$p is an object of class Uint8Array; give a list'],
    ['an object of a class', { 'a width': new Width() }, '$p["a width"] is an object of class Width'],
    ['a boxed number', new Number(3), '$p is an object of class Number'],
    ['a list that holds itself', cyclic(), '$p[1].back holds itself'],
    ['41 levels', nested(41), 'nested more than 40 deep'],
    ['100,000 levels', nested(100_000), 'nested more than 40 deep'],
    [
      'more than fifty thousand values',
      Array.from({ length: 50_001 }, () => 0),
      'at most 50000 may be given',
    ],
  ])('%s', async (_, value, message) => {
    for (const text of [TEXT, 'MATCH (n) RETURN n.k']) {
      const failure = await run(value, text).catch((error: unknown) => error);
      expect(failure).toBeInstanceOf(QueryOptionError);
      expect((failure as Error).message).toContain(message);
    }
  });

  test.each([[null], ['x'], [[1]], [5]])('parameters are an object by name, not %j', async (parameters) => {
    await expect(
      runPattern(graph, 'MATCH (n) RETURN n', { parameters: parameters as never, where: 'here' }),
    ).rejects.toThrow('it has to be an object of values by name');
  });

  test('whatever is asked', async () => {
    const options = { parameters: { p: [10n] } };
    const prepared = prepare(TEXT);
    await expect(countPattern(graph, prepared, options)).rejects.toThrow('$p[0] is the BigInt');
    await expect(explainPattern(graph, prepared, options)).rejects.toThrow('$p[0] is the BigInt');
    await expect((async () => nearMatches(graph, prepared, options))()).rejects.toThrow(
      '$p[0] is the BigInt',
    );
    await expect(matchBySegment(graph, prepared, options).next()).rejects.toThrow('$p[0] is the BigInt');
  });

  test.each([[1], ['x'], [true], [null], [[1, 'x', [null]]], [{ a: { b: [1, false] } }], [nested(40)], [-0]])(
    '%j is taken',
    async (value) => {
      const { rows } = await run(value, 'MATCH (n {k: 1}) RETURN $p AS p');
      expect(rows).toEqual([[value]]);
    },
  );

  test('a record without a prototype is a record', async () => {
    const value = Object.assign(Object.create(null), { a: 1 });
    expect((await run(value, 'MATCH (n {k: 1}) RETURN $p.a AS a')).rows).toEqual([[1]]);
  });
});

describe('OFFSET and LIMIT take their number from a parameter', () => {
  test('and count by it, in a prepared text too', async () => {
    const text = 'MATCH (n) RETURN n.k ORDER BY n.k OFFSET $skip LIMIT $most';
    for (const pattern of [text, prepare(text)]) {
      const { rows } = await runPattern(graph, pattern, { parameters: { skip: 1, most: 5 }, where: 'here' });
      expect(rows).toEqual([[2]]);
    }
  });

  test.each([
    ['"abc"', 'abc'],
    ['-1', -1],
    ['1.5', 1.5],
    ['null', null],
    ['"2"', '2'],
    ['true', true],
    ['[1]', [1]],
  ])('%s is no number of rows', async (shown, value) => {
    const text = 'MATCH (n) RETURN n.k LIMIT $p';
    for (const pattern of [text, prepare(text)]) {
      await expect(runPattern(graph, pattern, { parameters: { p: value }, where: 'here' })).rejects.toThrow(
        `Line 1, column 28: LIMIT $p is ${shown}; it must be a whole number from 0.`,
      );
    }
  });
});

describe('properties', () => {
  test.each<[string, unknown, string]>([
    ['a BigInt in a list', [10n], 'Of node x, property size[0] is the BigInt 10'],
    ['a record that holds itself', cyclic(), 'property size[1].back holds itself'],
    ['NaN in a list', [Number.NaN], 'property size[0] is NaN'],
    ['a date', new Date(0), 'property size is a Date; give its text'],
    ['a map', { m: new Map() }, 'property size.m is a Map'],
    ['a function', () => 1, 'Property size of node x has a value of type function'],
  ])('%s', (_, size, message) => {
    const build = () => buildGraph([{ id: 'x', properties: { size: size as never } }], []);
    expect(build).toThrow(GraphInputError);
    expect(build).toThrow(message);
  });

  test('a field of a record that is undefined is absent', async () => {
    const one = buildGraph([{ id: 'x', properties: { mass: { value: 1, unit: undefined as never } } }], []);
    const { rows } = await runPattern(one, 'MATCH (n) RETURN n.mass.value AS v, n.mass.unit AS u', {
      where: 'here',
    });
    expect(rows).toEqual([[1, null]]);
  });
});

describe('an edge to a node that is not there', () => {
  const nodes = [{ id: 'a' }, { id: 'b' }];
  const good = { source: 'a', target: 'b' };

  test('is an error where the graph is given whole, with the number and an example', () => {
    const build = (edges: { source: string; target: string }[]) => () => buildGraph(nodes, edges);
    expect(build([good])).not.toThrow();
    expect(build([{ source: 'a', target: 'z' }])).toThrow(GraphInputError);
    expect(build([{ source: 'a', target: 'z' }])).toThrow(
      'An edge leads to a node that is not there: it is that from a to z, and no node has the id z.',
    );
    expect(build([good, { source: 'y', target: 'b' }, { source: 'y', target: 'z' }, good])).toThrow(
      '2 of 4 edges lead to a node that is not there: the first is that from y to b, and no node has the id y.',
    );
  });

  test('is seen as soon as a later segment has the node', async () => {
    const whole = new PatternGraph();
    whole.putSegment('one', { nodes, edges: [{ source: 'a', target: 'z' }] });
    expect((await countPattern(whole, 'MATCH (x)->(y) RETURN *')).count).toBe(0);
    whole.putSegment('two', { nodes: [{ id: 'z' }] });
    expect((await countPattern(whole, 'MATCH (x)->(y) RETURN *')).count).toBe(1);
  });
});

describe('files', () => {
  let folder = '';
  const file = (name: string): string => join(folder, name);
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'inputs-'));
    await writeFile(file('nodes.csv'), 'id,labels\na,Town\nb,Town\n');
    await writeFile(file('edges.csv'), 'source,target,label\na,b,ROAD\n');
    await writeFile(file('dangling.csv'), 'source,target,label\na,b,ROAD\nb,q,ROAD\n');
  });
  afterAll(() => rm(folder, { recursive: true }));
  const match = (
    nodes: string,
    edges: string,
    pattern = 'MATCH (a:Town) RETURN COUNT(*) AS n',
    explain = false,
  ) => matchFiles({ nodes: file(nodes), edges: file(edges), pattern, explain, where: 'here' });

  test.each([
    ['gone.csv', 'edges.csv', /gone\.csv does not exist; give the CSV file of nodes, with the column id$/],
    [
      'nodes.csv',
      'gone.csv',
      /gone\.csv does not exist; give the CSV file of edges, with the columns source/,
    ],
    ['.', 'edges.csv', /is a folder; give the CSV file of nodes/],
  ])('%s and %s', async (nodes, edges, message) => {
    const failure = await match(nodes, edges).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(CsvError);
    expect((failure as Error).message).toMatch(message);
  });

  test('an edge to a node that is not there names the files', async () => {
    await expect(match('nodes.csv', 'dangling.csv')).rejects.toThrow(
      /nodes\.csv and .*dangling\.csv: An edge leads to a node that is not there: it is that from b to q/,
    );
  });

  test('a label that the graph does not have is told, with rows and with the plan', async () => {
    for (const explain of [false, true]) {
      const { warnings } = await match('nodes.csv', 'edges.csv', 'MATCH (a:Twon) RETURN a', explain);
      expect(warnings.map(({ code, near }) => [code, near])).toEqual([['unknown-label', ['Town']]]);
    }
  });
});
