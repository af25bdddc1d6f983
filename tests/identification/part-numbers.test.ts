import { expect, test } from 'vitest';
import { partsNumbered } from '../../src/identification/part-numbers.ts';
import { liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

const view = liveOf(SMALL_CATALOGUE).state('reader', '2026-01-01T00:00:00.000Z');
const numbers = (text: string) => partsNumbered(view, text).map(({ number }) => number);

test.each([
  ['QWR4410', ['QWR4410']],
  ['qwr-4410', ['QWR4410']],
  ['QWR44', ['QWR4410', 'QWR4460']],
  ['QWR4460TR lot 7', ['QWR4460']],
  ['N44', []],
  ['QW', []],
  ['OS7', ['OS7']],
  ['', []],
])('%j leads to %j', (text, expected) => {
  expect(numbers(text)).toEqual(expected);
});
