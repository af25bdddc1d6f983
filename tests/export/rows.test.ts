import { expect, test } from 'vitest';
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

test('what an edge says beside its node stands in the row, its cursor does not', () => {
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

test('each field at the top is a table of its own; plain values share one', () => {
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

test('text with line breaks or control characters does not break the table', () => {
  // A marking may hold two lines; a name from a file must not steer the reader's terminal.
  expect(toTable([{ marking: 'OM1\n00', note: '\u001b[31mred' }]).split('\n')).toEqual([
    'marking  note',
    '-------  --------',
    'OM1 00   ?[31mred',
    '',
  ]);
});
