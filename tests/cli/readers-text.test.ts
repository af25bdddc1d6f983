import { expect, test } from 'vitest';
import { readersSentences } from '../../src/cli/answers/readers-text.ts';

const added = (count: number) => ({
  added: Array.from({ length: count }, (_, at) => `a${at + 1}`),
  changed: [],
  gone: [],
});

test('ids that are left out of a sentence are counted: one other, two others', () => {
  expect(readersSentences(added(5))).toEqual(['Readers see 5 more: a1, a2, a3, a4, a5']);
  expect(readersSentences(added(6))).toEqual(['Readers see 6 more: a1, a2, a3, a4, a5 and 1 other']);
  expect(readersSentences(added(7), true)).toEqual([
    'Readers would see 7 more: a1, a2, a3, a4, a5 and 2 others',
  ]);
});
