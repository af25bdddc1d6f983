import { expect, test } from 'vitest';
import { partsNumbered } from '../../src/identification/part-numbers.ts';
import { liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

const view = liveOf(SMALL_CATALOGUE).state('reader', '2026-01-01T00:00:00.000Z');
const numbers = (text: string) => partsNumbered(view, text).map(({ number }) => number);

test.each([
  ['QWR4T10', ['QWR4T10']],
  ['qwr-4t10', ['QWR4T10']],
  ['QWR4T', ['QWR4T10', 'QWR4T60']],
  ['QWR4T60TR lot 7', ['QWR4T60']],
  ['N44', []],
  ['QW', []],
  ['OS7', ['OS7']],
  ['', []],
])('%j leads to %j', (text, expected) => {
  expect(numbers(text)).toEqual(expected);
});
