import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { assign, marginsOf } from '../../src/compare/align/assignment.ts';
import reference from '../reference/graph.json' with { type: 'json' };

/** Least total over every way to pair some rows with some columns, by trying them all. */
function exhaustive(
  costs: readonly (readonly number[])[],
  columns: number,
  unmatched: number,
  allowed: (row: number, column: number) => boolean = () => true,
): number {
  const go = (row: number, used: number): number => {
    if (row === costs.length) {
      let free = 0;
      for (let column = 0; column < columns; column++) {
        if (used & (1 << column)) continue;
        if (!allowed(-1, column)) return Infinity;
        free++;
      }
      return free * unmatched;
    }
    let least = allowed(row, -1) ? unmatched + go(row + 1, used) : Infinity;
    for (let column = 0; column < columns; column++) {
      if (used & (1 << column) || !allowed(row, column)) continue;
      least = Math.min(least, costs[row][column] + go(row + 1, used | (1 << column)));
    }
    return least;
  };
  return go(0, 0);
}

const rowsOf = (costs: readonly (readonly number[])[]) => costs.map((row) => Float64Array.from(row));

const problem = fc
  .record({ rows: fc.integer({ min: 0, max: 5 }), columns: fc.integer({ min: 0, max: 5 }) })
  .chain(({ rows, columns }) =>
    fc.record({
      columns: fc.constant(columns),
      unmatched: fc.integer({ min: 0, max: 8 }).map((n) => n / 8),
      costs: fc.array(
        fc.array(
          fc.oneof(
            { weight: 9, arbitrary: fc.integer({ min: 0, max: 16 }).map((n) => n / 8) },
            fc.constant(Infinity),
          ),
          { minLength: columns, maxLength: columns },
        ),
        { minLength: rows, maxLength: rows },
      ),
    }),
  );

// Answers of SciPy 1.10.1, scipy.optimize.linear_sum_assignment.
describe('assignment agrees with a reference library', () => {
  for (const { cost, rows, cols, total } of reference.assignment) {
    test(JSON.stringify(cost), () => {
      // So dear to leave over that all of the smaller side is paired, as the reference demands.
      const unmatched = 1_000;
      const { columnOf, total: ours } = assign(rowsOf(cost), cost[0].length, unmatched);
      expect([...columnOf]).toEqual(rows.map((_, i) => cols[i]));
      const leftOver = Math.abs(cost.length - cost[0].length);
      expect(ours).toBeCloseTo(total + leftOver * unmatched, 9);
    });
  }
});

test('no other pairing is cheaper', () => {
  fc.assert(
    fc.property(problem, ({ costs, columns, unmatched }) => {
      const { total, columnOf, rowOf } = assign(rowsOf(costs), columns, unmatched);
      expect(total).toBeCloseTo(exhaustive(costs, columns, unmatched), 9);
      columnOf.forEach((column, row) => {
        if (column >= 0) expect(rowOf[column]).toBe(row);
      });
    }),
    { numRuns: 500 },
  );
});

test('a margin is the extra cost of assigning a row or column differently', () => {
  fc.assert(
    fc.property(problem, ({ costs, columns, unmatched }) => {
      const rows = rowsOf(costs);
      const answer = assign(rows, columns, unmatched);
      const margins = marginsOf(rows, answer, unmatched);
      const growth = (allowed: (row: number, column: number) => boolean) =>
        Math.max(0, exhaustive(costs, columns, unmatched, allowed) - answer.total);
      answer.columnOf.forEach((now, at) => {
        const other = growth((row, column) => row !== at || column !== now);
        if (other === Infinity) expect(margins.rows[at]).toBe(Infinity);
        else expect(margins.rows[at]).toBeCloseTo(other, 9);
      });
      answer.rowOf.forEach((now, at) => {
        if (now >= 0) return;
        const other = growth((row, column) => row !== -1 || column !== at);
        if (other === Infinity) expect(margins.columns[at]).toBe(Infinity);
        else expect(margins.columns[at]).toBeCloseTo(other, 9);
      });
    }),
    { numRuns: 500 },
  );
});
