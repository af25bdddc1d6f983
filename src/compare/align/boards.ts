import { assign } from './assignment.ts';
import type { BoardFeature } from './features.ts';
import { spreadDistance } from './spread.ts';

/** Shares of the distance of two boards (judged by us, no source). */
const WEIGHTS = { kind: 0.35, carries: 0.45, name: 0.1, area: 0.1 } as const;
/** Two boards correspond when their distance is below twice this. */
const UNMATCHED = 0.35;

/**
 * Which boards of two specimens correspond, by kind, by what they carry, by name and by extent.
 * @returns for each board id of the first the id of the second's
 */
export function correspondingBoards(
  a: readonly BoardFeature[],
  b: readonly BoardFeature[],
): ReadonlyMap<string, string> {
  const costs = a.map((one) => Float64Array.from(b, (other) => distance(one, other)));
  const { columnOf } = assign(costs, b.length, UNMATCHED);
  const pairs = new Map<string, string>();
  columnOf.forEach((column, row) => {
    if (column >= 0) pairs.set(a[row].board.id, b[column].board.id);
  });
  return pairs;
}

function distance(a: BoardFeature, b: BoardFeature): number {
  return (
    WEIGHTS.kind * (a.board.kind === b.board.kind ? 0 : 1) +
    WEIGHTS.carries * spreadDistance(a.carries, b.carries) +
    WEIGHTS.name * (a.board.id === b.board.id ? 0 : 1) +
    WEIGHTS.area * sizeDistance(a.extent, b.extent)
  );
}

function sizeDistance(a: BoardFeature['extent'], b: BoardFeature['extent']): number {
  if (!a || !b) return 0.5;
  const [small, large] = [a.length * a.width, b.length * b.width].sort((x, y) => x - y);
  return large === 0 ? 0 : 1 - small / large;
}
