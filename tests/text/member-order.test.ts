import { expect, test } from 'vitest';
import { inJournalOrder, orderFreeText } from '../../src/text/member-order.ts';

// Order of members and numbers after RFC 8785, sections 3.2.2.3 and 3.2.3; its examples, shortened.

test('members in another order, at any depth, give the same text; undefined ones count as left out', () => {
  const one = { b: [{ y: 1, x: 2 }], a: undefined, '1': 'z' };
  const other = { '1': 'z', b: [{ x: 2, y: 1 }] };
  expect(orderFreeText(one)).toBe('{"1":"z","b":[{"x":2,"y":1}]}');
  expect(orderFreeText(other)).toBe(orderFreeText(one));
  expect(orderFreeText({ b: [{ x: 2, y: 2 }] })).not.toBe(orderFreeText({ b: [{ x: 2, y: 1 }] }));
  expect(orderFreeText([1, 2])).not.toBe(orderFreeText([2, 1]));
  expect(orderFreeText(undefined)).toBe('undefined');
});

test('a value in the order of the journal is equal to it, with its members sorted by code unit', () => {
  const value = { '\u20ac': 'Euro Sign', '\r': 'Carriage Return', '1': 'One', '\u0080': 'Control', a: 1e21 };
  expect(inJournalOrder(value)).toEqual(value);
  expect(Object.keys(inJournalOrder(value))).toEqual(['1', '\r', 'a', '\u0080', '\u20ac']);
});
