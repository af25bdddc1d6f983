/** What CONFORMANCE.md says of points that the standard leaves open, of errors of data, and of what is ours. */
import { describe, expect, test } from 'vitest';
import { buildGraph, prepare, runPattern } from '../../../src/gql/gql.ts';

const graph = buildGraph(
  Array.from({ length: 14 }, (_, i) => ({
    id: `n${i}`,
    labels: [i === 0 ? 'First' : 'Other'],
    properties: { i, record: { a: 1 }, list: [1, null, 3] },
  })),
  [{ id: 'e', source: 'n0', target: 'n1', label: 'ROAD' }],
);
const run = (text: string, parameters = {}) => runPattern(graph, text, { where: 'here', parameters });
const valueIn = async (expression: string): Promise<unknown> =>
  (await run(`MATCH (n:First) RETURN ${expression} AS v`)).rows[0]![0];

describe('choices that the standard leaves open', () => {
  test('no edge is bound twice within a MATCH, and paths are walks, when nothing is written', async () => {
    const count = async (text: string) => (await run(`${text} RETURN COUNT(*) AS c`)).rows[0]![0];
    expect(await count('MATCH (a)-[e]->(b), (c)-[f]->(d)')).toBe(0);
    expect(await count('MATCH (a)-[e]->(b) MATCH (c)-[f]->(d)')).toBe(1);
    expect(await count('MATCH (a)-[e]->(b)<-[f]-(c)')).toBe(0);
    expect(await count('MATCH REPEATABLE ELEMENTS (a)-[e]->(b)<-[f]-(a)')).toBe(1);
  });

  test('numbers are one type of 64 bits', async () => {
    expect(await valueIn('7 / 2')).toBe(3.5);
    expect(await valueIn('0.1 + 0.2')).toBe(0.1 + 0.2);
    expect(await valueIn('1 = 1.0')).toBe(true);
    expect(await valueIn('9007199254740991')).toBe(2 ** 53 - 1);
    expect(() => prepare('MATCH (n) RETURN 9007199254740992')).toThrow('too large to be kept exactly');
  });

  test('texts are in the order of their code points', async () => {
    expect(await valueIn("['B' < 'a', 'a' = 'A', 'z' < 'é', '\\uFF5E' < '😀']")).toEqual([
      true,
      false,
      true,
      true,
    ]);
  });

  test('null is greater than everything when nothing is written', async () => {
    const by = async (order: string) =>
      (await run(`MATCH (n) WHERE n.i < 3 RETURN n.i AS i ORDER BY NULLIF(n.i, 1) ${order}`)).rows.flat();
    expect(await by('')).toEqual([0, 2, 1]);
    expect(await by('DESC')).toEqual([1, 2, 0]);
    expect(await by('NULLS FIRST')).toEqual([1, 0, 2]);
    expect(await by('DESC NULLS LAST')).toEqual([2, 0, 1]);
  });

  test('values of unlike types are in the order that is written down', async () => {
    const values = [
      ...['FALSE', 'TRUE', '-1', '5', "'A'", "'b'", "DATE '2024-05-31'", "TIME '08:00:00'"],
      ...["DATETIME '2024-05-31T08:00:00'", "DURATION 'P1D'", '[0]', 'n.record', 'n', 'e'],
    ];
    const branches = values.map((value, i) => `WHEN ${(i * 5) % values.length} THEN ${value}`).join(' ');
    const text = `MATCH (n), (:First)-[e]->() LET v = CASE n.i ${branches} END`;
    const expected = values.map((_, i) => (i * 5) % values.length);
    expect((await run(`${text} RETURN n.i AS i ORDER BY v`)).rows.flat()).toEqual(expected);
    expect((await run(`${text} RETURN n.i AS i ORDER BY v DESC`)).rows.flat()).toEqual(expected.toReversed());
    const [[least, most] = []] = (await run(`${text} RETURN MIN(v) AS a, MAX(v) AS b`)).rows;
    expect([least, (most as { id: string }).id]).toEqual([false, 'e']);
  });

  test('columns', async () => {
    expect((await run('MATCH (z)-[e]->(a), (b:First) RETURN *')).columns).toEqual(['z', 'e', 'a', 'b']);
    expect((await run('MATCH (n:First) RETURN n, n . i+1, count( * ), n.i as x')).columns).toEqual([
      ...['n', 'n.i + 1', 'COUNT(*)', 'x'],
    ]);
  });

  test('items without aggregates are the grouping keys, and without any there is one group', async () => {
    expect((await run('MATCH (n) WHERE n.i < 4 RETURN n.i > 1 AS k, COUNT(*) AS c ORDER BY k')).rows).toEqual(
      [
        [false, 2],
        [true, 2],
      ],
    );
    expect((await run('MATCH (n) WHERE n.i < 0 RETURN COUNT(*) AS c, SUM(n.i) AS s')).rows).toEqual([
      [0, null],
    ]);
    expect((await run('MATCH (n) WHERE n.i < 0 RETURN n.i AS k, COUNT(*) AS c')).rows).toEqual([]);
  });

  test.each([
    [
      '8,192 characters',
      (n: number) =>
        `MATCH (n) RETURN n ${'x'.repeat(n)}`.slice(0, n).replace(/x+$/, (tail) => ' '.repeat(tail.length)),
      8192,
    ],
    ['40 open brackets', (n: number) => `MATCH (n) RETURN ${'('.repeat(n)}1${')'.repeat(n)} AS v`, 40],
    [
      '600 levels of operations',
      (n: number) => `MATCH (n) RETURN ${Array.from({ length: n }, () => '1').join(' + ')} AS v`,
      598,
    ],
    ['a bound of 1,000,000', (n: number) => `MATCH (n)-[e]->{0,${n}}(m) RETURN n`, 1_000_000],
  ])('limits: %s', (_, text, most) => {
    expect(() => prepare(text(most))).not.toThrow();
    expect(() => prepare(text(most + 1))).toThrow();
  });
});

describe('errors of data are null', () => {
  test.each([
    ...[
      '1 / 0',
      'MOD(1, 0)',
      'SQRT(-1)',
      'LN(0)',
      'POWER(10, 400)',
      'n.record + 1',
      "n.i || 'a'",
      'UPPER(n.i)',
    ],
    ...["CAST('x' AS INTEGER)", "DATE('soon')", 'n.i = n.record', 'n.i < n.list', 'n.none', 'n.i.none'],
  ])('%s', async (expression) => {
    expect(await valueIn(expression)).toBeNull();
  });

  test('what the text alone shows is an error', () => {
    expect(() => prepare("MATCH (n) WHERE 1 = 'a' RETURN n")).toThrow('never');
  });
});

describe('ours', () => {
  test.each([
    ['1 IN [1, NULL]', true],
    ['2 IN [1, NULL]', null],
    ['2 NOT IN [1, NULL]', null],
    ['NULL IN []', false],
    ['NULL IN [1]', null],
    ['2 NOT IN [1, 3]', true],
    ["1 IN ['1', 1]", true],
    ["2 IN ['2']", null],
  ])('%s is %s', async (expression, value) => {
    expect(await valueIn(expression)).toBe(value);
  });

  test('words that GQL reserves are names, with a warning', () => {
    expect(prepare('MATCH (small)-[upper]->() RETURN upper').warnings.map(({ code }) => code)).toEqual([
      ...['reserved-word', 'reserved-word', 'reserved-word'],
    ]);
    expect(prepare('MATCH (`small`) RETURN `small`').warnings).toEqual([]);
  });

  test('a label above another counts as present', async () => {
    const towns = buildGraph([{ id: 'a', labels: ['Port'] }], [], {
      hierarchy: { Port: ['Town'], Town: ['Place'] },
    });
    const { rows } = await runPattern(towns, 'MATCH (n:Place&Town&Port) RETURN n:Place AS yes', {
      where: 'here',
    });
    expect(rows).toEqual([[true]]);
  });
});
