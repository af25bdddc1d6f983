import { CERTAIN } from '../../state/labels.ts';
import { tidy } from '../../statistics/tidy.ts';
import { type Cell, NOT_OBSERVED_CELL, withNote } from './cell.ts';
import type { Stated } from './column.ts';

/**
 * Sum of a figure over components, each of which may state one of several values or none.
 * @param there for each component the probability that it is there and has the figure at all, so that what is not
 * stated of it counts as the mean of what is; by default what is not stated counts as none
 */
export function summed(
  components: readonly (readonly Stated[])[],
  what: string,
  there?: readonly number[],
): Cell {
  const stating = components.filter((values) => values.length > 0);
  if (stating.length === 0) return withNote(NOT_OBSERVED_CELL, `no catalogue entry states ${what}`);
  let certain = 0;
  let expected = 0;
  components.forEach((values, at) => {
    const stated = values.reduce((sum, { probability }) => sum + probability, 0);
    const scale = there === undefined || stated === 0 ? 1 : Math.max(stated, there[at]) / stated;
    for (const { value, probability } of values) {
      expected += value * probability * scale;
      if (probability >= CERTAIN) certain += value;
    }
  });
  const partial =
    stating.length < components.length
      ? `${stating.length} of ${components.length} components state ${what}`
      : undefined;
  return withNote(
    { certain: tidy(certain), expected: tidy(expected), possible: null, missing: null },
    partial,
  );
}

/** Largest figure among components, each independently one of several values or none. */
export function largest(components: readonly (readonly Stated[])[], what: string): Cell {
  const values = [...new Set(components.flatMap((one) => one.map(({ value }) => value)))].sort(
    (a, b) => a - b,
  );
  if (values.length === 0) return withNote(NOT_OBSERVED_CELL, `no catalogue entry states ${what}`);
  const sure = components.flatMap((one) =>
    one.flatMap(({ value, probability }) => (probability >= CERTAIN ? [value] : [])),
  );
  // Probability that none is above a value: the product over components of that none of theirs is.
  const atMost = (limit: number) =>
    components.reduce(
      (product, one) =>
        product *
        (1 - one.reduce((sum, { value, probability }) => sum + (value > limit ? probability : 0), 0)),
      1,
    );
  const nothing = atMost(-Infinity);
  let before = nothing;
  let sum = 0;
  for (const value of values) {
    const now = atMost(value);
    sum += value * (now - before);
    before = now;
  }
  const expected = nothing < 1 ? tidy(sum / (1 - nothing)) : null;
  return { certain: sure.length > 0 ? Math.max(...sure) : null, expected, possible: null, missing: null };
}
