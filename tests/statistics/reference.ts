import { readFileSync } from 'node:fs';

// biome-ignore lint/suspicious/noExplicitAny: the files are lists of cases of many shapes; each test names its own.
type Case = any;
type Cases = Record<string, Case>;

/** Published cases, each list with its source (paper and page) beside it. */
export const published: Cases = load('statistics.json');

/** Answers of SciPy, NumPy, mpmath, statsmodels and scikit-learn, written by statistics-libraries.py. */
export const libraries: Cases = load('statistics-libraries.json');

/** Answers of mpmath and SciPy, enumerations and dense matrix algebra, written by trend-statistics.py. */
export const trendStatistics: Cases = load('trend-statistics.json');

function load(name: string): Cases {
  return JSON.parse(readFileSync(new URL(`../reference/${name}`, import.meta.url), 'utf8'));
}

/** Whether two numbers agree to a relative difference; both must be numbers. */
export function near(value: number, expected: number, relative: number): boolean {
  return (
    value === expected ||
    Math.abs(value - expected) <= relative * Math.max(Math.abs(expected), Number.MIN_VALUE)
  );
}

/** The cases for which a value is not within a relative difference of the one expected; good when empty. */
export function differing(
  cases: readonly Case[],
  values: (one: Case) => readonly (readonly [value: number, expected: number])[],
  relative: number,
): readonly { readonly one: Case; readonly value: number; readonly expected: number }[] {
  if (cases.length === 0) throw new Error('there is no case to compare');
  return cases.flatMap((one) =>
    values(one).flatMap(([value, expected]) =>
      near(value, expected, relative) ? [] : [{ one, value, expected }],
    ),
  );
}

/** The answer itself; fails the test when the data could not answer. */
export function answered<T extends { readonly kind: string }>(
  result: T,
): Exclude<T, { readonly kind: 'no-data' }> {
  if (result.kind === 'no-data') throw new Error(`no data: ${JSON.stringify(result)}`);
  return result as Exclude<T, { readonly kind: 'no-data' }>;
}
