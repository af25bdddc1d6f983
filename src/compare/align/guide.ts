/** One joining of two groups of columns; columns are known by number. */
export interface Joining {
  readonly left: readonly number[];
  readonly right: readonly number[];
}

/**
 * In which order to join columns into one table, the most similar first: average linkage (UPGMA; Sokal & Michener,
 * University of Kansas Science Bulletin 38, 1958). Equal distances join the groups whose first columns come first, so
 * that the answer is a function of the distances and the numbering alone.
 * @param distances symmetric, `distances[i][j]`
 */
export function guideOrder(distances: readonly (readonly number[])[]): readonly Joining[] {
  let groups: (readonly number[])[] = distances.map((_, column) => [column]);
  const joinings: Joining[] = [];
  while (groups.length > 1) {
    let best: { i: number; j: number; distance: number } | undefined;
    for (let i = 0; i < groups.length; i++) {
      for (let j = i + 1; j < groups.length; j++) {
        const distance = averageDistance(groups[i], groups[j], distances);
        if (!best || distance < best.distance) best = { i, j, distance };
      }
    }
    const { i, j } = best as { i: number; j: number };
    const joined = { left: groups[i], right: groups[j] };
    joinings.push(joined);
    const together = [...joined.left, ...joined.right].sort((a, b) => a - b);
    groups = [...groups.filter((_, at) => at !== i && at !== j), together].sort((a, b) => a[0] - b[0]);
  }
  return joinings;
}

function averageDistance(
  a: readonly number[],
  b: readonly number[],
  distances: readonly (readonly number[])[],
): number {
  let sum = 0;
  for (const i of a) for (const j of b) sum += distances[i][j];
  return sum / (a.length * b.length);
}
