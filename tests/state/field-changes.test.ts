import { expect, test } from 'vitest';
import { fieldChanges } from '../../src/state/field-changes.ts';

test('fields that read otherwise, lists by the ids of their items', () => {
  const before = { a: 1, list: [{ id: 'U1', x: 1 }, { id: 'U2' }], tags: ['p', 'q'], gone: { b: null } };
  const after = { a: 1, list: [{ id: 'U2' }, { id: 'U1', x: 2 }, { id: 'U3' }], tags: ['p'], added: 'new' };
  expect(fieldChanges(before, after)).toEqual([
    { path: 'list[U1].x', before: '1', after: '2' },
    { path: 'list[U3]', before: null, after: '{"id":"U3"}' },
    { path: 'tags[1]', before: '"q"', after: null },
    { path: 'gone', before: '{"b":null}', after: null },
    { path: 'added', before: null, after: '"new"' },
  ]);
});

test('two items of one id are compared by place; kinds of value are told apart', () => {
  const list = (second: number) => [
    { id: 'a', n: 1 },
    { id: 'a', n: second },
  ];
  expect(fieldChanges(list(1), list(2))).toEqual([{ path: '[1].n', before: '1', after: '2' }]);
  expect(fieldChanges({ v: [1] }, { v: { 0: 1 } })).toEqual([{ path: 'v', before: '[1]', after: '{"0":1}' }]);
  expect(fieldChanges({ v: null }, { v: 0 })).toEqual([{ path: 'v', before: 'null', after: '0' }]);
  expect(fieldChanges({ v: [] }, { v: [] })).toEqual([]);
});
