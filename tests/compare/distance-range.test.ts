import fc from 'fast-check';
import { linearSumAssignment } from 'linear-sum-assignment';
import { describe, expect, test } from 'vitest';
import { AssignmentSolver } from '../../src/compare/align/linear-assignment.ts';
import { distanceRange, MAX_NODES } from '../../src/compare/similar/distance-range.ts';
import { editDistance } from '../../src/compare/similar/edit-distance.ts';
import { editsOf } from '../../src/compare/similar/edits.ts';
import { type LabelledGraph, labelledGraph } from '../../src/compare/similar/labelled-graph.ts';
import { leastChanges } from '../../src/compare/similar/lower-bound.ts';
import { packedPair } from '../../src/compare/similar/packed-pair.ts';
import { goodMappings } from '../../src/compare/similar/upper-bound.ts';
import { REFERENCE_BOARDS, type ReferenceName, referenceBoard } from '../reference-boards.ts';
import { exhaustiveDistance, graphs } from './labelled-graphs.ts';

describe('assignment', () => {
  const matrix = fc
    .record({ rows: fc.integer({ min: 1, max: 9 }), columns: fc.integer({ min: 1, max: 9 }) })
    .chain(({ rows, columns }) =>
      fc.record({
        rows: fc.constant(rows),
        columns: fc.constant(columns),
        // Few values, so that many ways are equally short.
        costs: fc.array(
          fc.integer({ min: -4, max: 4 }).map((n) => n / 4),
          { minLength: rows * columns, maxLength: rows * columns },
        ),
      }),
    );

  test('costs as much as that of a library, whichever of equal ways is taken', () =>
    fc.assert(
      fc.property(matrix, fc.boolean(), ({ rows, columns, costs }, soonest) => {
        const solver = new AssignmentSolver(rows, columns, { soonest });
        solver.solve(Float64Array.from(costs), rows, columns);
        const table = Array.from({ length: rows }, (_, row) =>
          costs.slice(row * columns, (row + 1) * columns),
        );
        const { rowAssignments } = linearSumAssignment(table, { maximaze: false });
        const total = (columnOf: ArrayLike<number>) =>
          table.reduce((sum, row, at) => sum + (columnOf[at] >= 0 ? row[columnOf[at]] : 0), 0);
        expect(total(solver.columnOf)).toBeCloseTo(total(rowAssignments), 9);
        const taken = [...solver.columnOf].filter((column) => column >= 0);
        expect(taken).toHaveLength(Math.min(rows, columns));
        expect(new Set(taken).size).toBe(taken.length);
      }),
      { numRuns: 500 },
    ));

  // Weak duality: feasible duals whose sum equals the total prove that nothing costs less.
  test('its duals are feasible and add up to the total', () =>
    fc.assert(
      fc.property(matrix, fc.boolean(), ({ rows, columns, costs }, soonest) => {
        const solver = new AssignmentSolver(9, 9, { soonest });
        solver.solve(Float64Array.from(costs), rows, columns);
        const [u, v] = [solver.rowDuals.slice(0, rows), solver.columnDuals.slice(0, columns)];
        let total = 0;
        for (let row = 0; row < rows; row++) {
          if (solver.columnOf[row] >= 0) total += costs[row * columns + solver.columnOf[row]];
          for (let column = 0; column < columns; column++)
            expect(u[row] + v[column]).toBeLessThanOrEqual(costs[row * columns + column] + 1e-9);
        }
        expect([...u, ...v].reduce((sum, one) => sum + one, 0)).toBeCloseTo(total, 9);
        for (const dual of rows < columns ? v : u) expect(dual).toBeLessThanOrEqual(1e-9);
      }),
      { numRuns: 500 },
    ));
});

describe('bounds of the edit distance', () => {
  test('no lower bound is above the distance and no mapping below it, by trying every mapping', () =>
    fc.assert(
      fc.property(graphs(5), graphs(5), (a, b) => {
        const exact = exhaustiveDistance(a, b);
        let before = 0;
        for (const bound of leastChanges(packedPair(a, b))) {
          expect(bound).toBeGreaterThanOrEqual(before);
          expect(bound).toBeLessThanOrEqual(exact);
          before = bound;
        }
        for (const mapping of goodMappings(packedPair(a, b)))
          expect(editsOf(a, b, [...mapping]).distance).toBeGreaterThanOrEqual(exact);
      }),
      { numRuns: 300 },
    ));

  test('the range holds the exact distance of graphs of up to nine nodes', () =>
    fc.assert(
      fc.asyncProperty(graphs(9), graphs(9), async (a, b) => {
        const { distance } = await editDistance(a, b);
        const range = await distanceRange(a, b, { mostSteps: 0 });
        expect(range.atLeast).toBeLessThanOrEqual(distance);
        expect(range.atMost).toBeGreaterThanOrEqual(distance);
        expect(range.edits.distance).toBe(range.atMost);
        const searched = await distanceRange(a, b);
        expect([searched.atLeast, searched.atMost]).toEqual([distance, distance]);
        expect(searched.method).not.toBe('bounds');
      }),
      { numRuns: 100 },
    ));

  test('of larger graphs it is a range, the same from either side, 0 for the same graph renumbered', () =>
    fc.assert(
      fc.asyncProperty(graphs(40, 20), graphs(40, 20), async (a, b) => {
        const range = await distanceRange(a, b);
        expect(range.atLeast).toBeLessThanOrEqual(range.atMost);
        expect(range.method).toBe(range.atLeast === range.atMost ? 'bounds-meet' : 'bounds');
        const { edits } = range;
        expect(editsOf(a, b, edits.becomes)).toEqual(edits);
        const back = await distanceRange(b, a);
        expect([back.atLeast, back.atMost]).toEqual([range.atLeast, range.atMost]);
        expect(await distanceRange(a, a)).toMatchObject({ atLeast: 0, atMost: 0, method: 'bounds-meet' });
      }),
      { numRuns: 25 },
    ));

  // A star of 30 leaves without one of them: one node and one edge, known by construction.
  test('a leaf taken off a star of thirty is two changes, exactly', async () => {
    const star = (leaves: number) =>
      labelledGraph(
        ['hub', ...new Array<string>(leaves).fill('leaf')],
        Array.from({ length: leaves }, (_, at) => [0, at + 1] as const),
      );
    expect(await distanceRange(star(30), star(29))).toMatchObject({
      atLeast: 2,
      atMost: 2,
      method: 'bounds-meet',
      edits: { nodesRemoved: 1, edgesRemoved: 1, relabelled: 0 },
    });
  });

  test('more nodes than it takes are refused', async () => {
    const large = labelledGraph(new Array<string>(MAX_NODES + 1).fill('a'), []);
    await expect(distanceRange(large, large)).rejects.toMatchObject({ code: 'TOO_LARGE' });
  });
});

describe('pairs of real boards', () => {
  // Components of the reference boards, joined where they share a signal net of at most eight components.
  const all = REFERENCE_BOARDS.map((name) => ({ name, graph: signalGraph(name) }));
  for (const [at, one] of all.entries()) {
    for (const other of all.slice(at + 1)) {
      test(`${one.name} and ${other.name}: a range no wider than an eighth of its upper end`, async () => {
        const { atLeast, atMost } = await distanceRange(one.graph, other.graph);
        expect(atLeast).toBeGreaterThan(0);
        expect(atMost - atLeast).toBeLessThanOrEqual(atMost / 8);
      });
    }
  }
});

/** Fitted components, joined where they share a signal net of at most `most` of them: read straight from the file. */
function signalGraph(name: ReferenceName, most = 8): LabelledGraph {
  const { components, nets } = referenceBoard(name);
  const taken = components.filter(({ fitted, pins }) => fitted && pins.length > 0);
  const edges = nets.flatMap(({ id, kind }) => {
    const on = taken.flatMap(({ pins }, at) => (pins.some(({ net }) => net === id) ? [at] : []));
    if (kind !== 'signal' || on.length > most) return [];
    return on.flatMap((a, at) => on.slice(at + 1).map((b) => [a, b] as const));
  });
  return labelledGraph(
    taken.map(({ terms }) => terms.at(-1) ?? 'not named'),
    edges,
  );
}
