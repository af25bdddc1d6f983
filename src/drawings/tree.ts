import type { Spot } from './shapes.ts';

/**
 * A minimum spanning tree of points of a plane, by Prim's algorithm in its dense form: time grows with their square.
 * @returns pairs of places in the list
 */
export function spanningTree(points: readonly Spot[]): readonly (readonly [number, number])[] {
  const [nearest, distance] = [points.map(() => 0), points.map(() => Infinity)];
  const isIn = points.map(() => false);
  const edges: (readonly [number, number])[] = [];
  let last = 0;
  for (let count = 1; count < points.length; count++) {
    isIn[last] = true;
    let next = -1;
    for (const [i, [x, y]] of points.entries()) {
      if (isIn[i]) continue;
      const way = Math.hypot(x - points[last][0], y - points[last][1]);
      if (way < distance[i]) [distance[i], nearest[i]] = [way, last];
      if (next < 0 || distance[i] < distance[next]) next = i;
    }
    edges.push([nearest[next], next]);
    last = next;
  }
  return edges;
}
