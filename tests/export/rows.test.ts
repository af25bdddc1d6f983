import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { columnsOf, tablesOf } from '../../src/export/rows.ts';
import { toTable } from '../../src/export/table.ts';

test('a Relay connection gives a row a node, nested groups become columns', () => {
  const nodes = [
    { id: 'a', maker: { name: 'One' } },
    { id: 'b', maker: null },
  ];
  const [table, ...others] = tablesOf({ devices: { totalCount: 2, nodes } });
  expect(others).toEqual([]);
  expect(table.name).toBe('devices');
  expect(table.rows).toEqual([
    { id: 'a', 'maker.name': 'One' },
    { id: 'b', maker: '' },
  ]);
  expect(columnsOf(table.rows)).toEqual(['id', 'maker.name']);
});

test('fields of an edge beside its node are in the row, its cursor is not', () => {
  const edges = [{ cursor: 'x', score: 2, node: { id: 'a' } }];
  expect(tablesOf({ search: { edges } })[0].rows).toEqual([{ id: 'a', score: '2' }]);
});

test('the nearest list under a field is laid out; lists inside an item share a cell', () => {
  const boards = [
    { id: 'main', sides: ['top', 'bottom'], on: [{ id: 'U1', side: 'top' }, { id: 'U2' }] },
    { id: 'flex', sides: [], on: { nodes: [{ id: 'J1' }] } },
  ];
  expect(tablesOf({ device: { name: 'x', boards } })).toEqual([
    {
      name: 'device.boards',
      rows: [
        { id: 'main', sides: 'top; bottom', on: 'U1 top; U2' },
        { id: 'flex', sides: '', on: 'J1' },
      ],
    },
  ]);
});

test('each field at the top is a table of its own; plain values share a table', () => {
  expect(tablesOf({ a: 1, b: [{ id: 'x' }], c: { d: true }, e: 'y', f: null })).toEqual([
    { name: 'answer', rows: [{ a: '1', e: 'y', f: '' }] },
    { name: 'b', rows: [{ id: 'x' }] },
    { name: 'c', rows: [{ d: 'true' }] },
  ]);
});

test('a table is aligned, numbers to the right, and says when it has no rows', () => {
  const rows = [
    { name: 'Ärmel', count: '7', share: '0.25' },
    { name: 'b', count: '12', share: '-1.5' },
  ];
  expect(toTable(rows).split('\n')).toEqual([
    'name   count  share',
    '-----  -----  -----',
    'Ärmel      7   0.25',
    'b         12   -1.5',
    '',
  ]);
  expect(toTable([])).toBe('(no rows)\n');
});

test('wide and combining characters take the columns that a terminal gives them', () => {
  // Unicode Standard Annex #11 (East Asian Width): W is two columns; a combining mark (general category Mn) is none.
  const rows = [
    { name: '腕時計', unit: 'mm' },
    { name: 'A\u0308rmel', unit: 'g' },
  ];
  expect(toTable(rows).split('\n')).toEqual([
    'name    unit',
    '------  ----',
    '腕時計  mm',
    'A\u0308rmel   g',
    '',
  ]);
});

test('text with line breaks or control characters does not break the table', () => {
  // A marking may hold two lines; a name from a file must not steer the reader's terminal.
  expect(toTable([{ marking: 'OM1\n00', note: '\u001b[31mred' }]).split('\n')).toEqual([
    'marking  note',
    '-------  -------------',
    'OM1 00   \\u001b[31mred',
    '',
  ]);
});

describe('a table on a narrow terminal', () => {
  const rows = [
    {
      id: 'tarn-sennit-3/a/U3',
      certainty: '0.93',
      why: 'Same role, another part: one in place of the other.',
    },
    { id: 'b', certainty: '1.00', why: 'None.' },
  ];

  test('wraps its widest text between words; numbers and ids are not broken', () => {
    expect(toTable(rows, 52).split('\n')).toEqual([
      'id                  certainty  why',
      '------------------  ---------  ---------------------',
      'tarn-sennit-3/a/U3       0.93  Same role, another',
      '                               part: one in place of',
      '                               the other.',
      'b                        1.00  None.',
      '',
    ]);
  });

  test('stays as it is where it fits, where nothing helps, and in a file', () => {
    const whole = toTable(rows, Number.POSITIVE_INFINITY);
    for (const width of [200, 10]) expect(toTable(rows, width)).toBe(whole);
    expect(whole.split('\n')).toHaveLength(5);
  });

  test('loses no word and stays within the width, or changes nothing', () => {
    const cell = fc
      .array(fc.stringMatching(/^[a-z]{1,12}$/u), { maxLength: 12 })
      .map((words) => words.join(' '));
    fc.assert(
      fc.property(
        fc.array(fc.record({ a: cell, b: cell }), { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 5, max: 90 }),
        (some, width) => {
          const table = toTable(some, width);
          const letters = (text: string) => [...text.replaceAll(/[^a-z]/gu, '')].sort().join('');
          expect(letters(table)).toBe(letters(`ab${some.map(({ a, b }) => a + b).join('')}`));
          const fits = table.split('\n').every((line) => line.length <= width);
          expect(fits || table === toTable(some, Number.POSITIVE_INFINITY)).toBe(true);
        },
      ),
    );
  });
});
