import { expect, test } from 'vitest';
import { cohenKappa } from '../../src/statistics/kappa.ts';
import { answered, differing, libraries, published } from './reference.ts';

test('the worked table of Cohen 1960’s formula: 0.4', () => {
  const found = answered(cohenKappa(published.cohen_kappa.table));
  expect(found.kappa).toBeCloseTo(published.cohen_kappa.kappa, 12);
  expect(found).toMatchObject({ n: 50, observed: 0.7 });
});

test('agrees with statsmodels', () => {
  const found = differing(
    libraries.kappa,
    ({ table, kappa }) => [[answered(cohenKappa(table)).kappa, kappa]],
    1e-12,
  );
  expect(found).toEqual([]);
});

test('swapping judges changes nothing; full agreement is 1', () => {
  const table = [
    [9, 2, 1],
    [0, 7, 3],
    [4, 1, 5],
  ];
  const swapped = table[0].map((_, at) => table.map((row) => row[at]));
  expect(answered(cohenKappa(swapped)).kappa).toBeCloseTo(answered(cohenKappa(table)).kappa, 12);
  expect(
    answered(
      cohenKappa([
        [4, 0],
        [0, 3],
      ]),
    ).kappa,
  ).toBe(1);
});

test('no case, and one class only, are said in words; a table that is not square is refused', () => {
  expect(cohenKappa([])).toMatchObject({ kind: 'no-data', reason: 'no case was judged' });
  expect(
    cohenKappa([
      [5, 0],
      [0, 0],
    ]),
  ).toMatchObject({ kind: 'no-data' });
  expect(() => cohenKappa([[1, 2]])).toThrow('1 and 2');
});
