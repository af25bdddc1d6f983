/** First entry in `start .. end` whose code is at least `code` and, there, whose neighbour is at least `node`. */
export function seekEntry(rows: Int32Array, start: number, end: number, code: number, node: number): number {
  let low = start;
  let high = end;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const c = rows[middle * 2]!;
    if (c < code || (c === code && rows[middle * 2 + 1]! < node)) low = middle + 1;
    else high = middle;
  }
  return low;
}
