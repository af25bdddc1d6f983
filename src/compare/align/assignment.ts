import { leastAssignment } from './linear-assignment.ts';

/** Costs of pairing row with column: `costs[row][column]`; Infinity where the two must not be paired. */
export type Costs = readonly Float64Array[];

/** Which rows and columns belong together at the least total cost, and how much better that is than the next best. */
export interface Assignment {
  /** Column of each row, -1 for a row left over. */
  readonly columnOf: Int32Array;
  /** Row of each column, -1 for a column left over. */
  readonly rowOf: Int32Array;
  /** Cost of pairs plus `unmatched` for everything left over. */
  readonly total: number;
}

/**
 * The cheapest way to pair some rows with some columns, where leaving either of them over costs `unmatched`. A pair
 * that costs more than leaving both over is never made. Leaving over is the same as a pair of cost 0 once 2 · unmatched
 * is taken from each cost, so the solver needs no rows and columns beside the real ones.
 * @throws RangeError when `unmatched` is negative or no number
 */
export function assign(costs: Costs, columns: number, unmatched: number): Assignment {
  if (!(unmatched >= 0))
    throw new RangeError(`the cost of leaving over is ${unmatched}; it must be 0 or more`);
  const rows = costs.length;
  const columnOf = new Int32Array(rows).fill(-1);
  const rowOf = new Int32Array(columns).fill(-1);
  let total = (rows + columns) * unmatched;
  if (rows === 0 || columns === 0) return { columnOf, rowOf, total };
  // Rows and columns that gain by no pair are left over in any case; the solver need not see them.
  const limit = 2 * unmatched;
  const gaining = new Uint8Array(columns);
  const someRows: number[] = [];
  costs.forEach((row, at) => {
    let some = false;
    row.forEach((cost, column) => {
      if (cost >= limit) return;
      gaining[column] = 1;
      some = true;
    });
    if (some) someRows.push(at);
  });
  const someColumns = [...gaining.keys()].filter((column) => gaining[column] === 1);
  if (someRows.length === 0) return { columnOf, rowOf, total };
  const width = someColumns.length;
  const gains = new Float64Array(someRows.length * width);
  someRows.forEach((row, at) => {
    someColumns.forEach((column, place) => {
      gains[at * width + place] = Math.min(0, costs[row][column] - limit);
    });
  });
  leastAssignment(gains, someRows.length, width).forEach((place, at) => {
    if (place < 0 || gains[at * width + place] >= 0) return;
    const [row, column] = [someRows[at], someColumns[place]];
    columnOf[row] = column;
    rowOf[column] = row;
    total += gains[at * width + place];
  });
  return { columnOf, rowOf, total };
}

/** By how much the total would grow if a row or column had to have another fate than the one assigned. */
export interface Margins {
  /** For a paired row: the least growth when its pair is forbidden; for one left over: when it has to be paired. */
  readonly rows: Float64Array;
  /** For a column left over: the least growth when it has to be paired; for a paired one: that of its row. */
  readonly columns: Float64Array;
}

/**
 * Margins of an optimal assignment: the cheapest alternating cycle through each pair, from shortest paths between all
 * rows (Floyd, CACM 5, 1962, 345; that an assignment is optimal when no such cycle is negative: Burkard, Dell'Amico &
 * Martello, Assignment Problems, 2009, section 4.2). Exact; Infinity where there is no other fate.
 * @param alike whether two columns are twins: being given the twin is no other fate
 */
export function marginsOf(
  costs: Costs,
  { columnOf, rowOf }: Assignment,
  unmatched: number,
  alike: (a: number, b: number) => boolean = () => false,
): Margins {
  const limit = 2 * unmatched;
  const lost = displacements(costs, limit, columnOf, rowOf);
  const over = columnOf.length;
  const rows = new Float64Array(over);
  for (let row = 0; row < over; row++) {
    const now = columnOf[row];
    const back = now < 0 ? over : row;
    // Left without a pair, or paired with another column, whose owner has to go elsewhere.
    let least = now < 0 ? Infinity : lost(over, row);
    for (let column = 0; column < rowOf.length; column++) {
      const cost = costs[row][column];
      if (cost === Infinity || column === now || (now >= 0 && alike(now, column))) continue;
      const owner = rowOf[column];
      const taken = owner < 0 ? lost(over, back) : lost(owner, back) - (costs[owner][column] - limit);
      least = Math.min(least, cost - limit + taken);
    }
    rows[row] = Math.max(0, least);
  }
  const columns = Float64Array.from(rowOf, (owner, column) => {
    if (owner >= 0) return rows[owner];
    let least = Infinity;
    for (let row = 0; row < over; row++)
      least = Math.min(least, costs[row][column] - limit + (columnOf[row] < 0 ? 0 : lost(over, row)));
    return Math.max(0, least);
  });
  return { rows, columns };
}

/**
 * Least cost of a chain of displacements: `from` has no place, each takes the column of the next, and `to` loses its
 * own. Covers paired rows and the number after the last row, which represents all that is left over.
 */
function displacements(
  costs: Costs,
  limit: number,
  columnOf: Int32Array,
  rowOf: Int32Array,
): (from: number, to: number) => number {
  const over = columnOf.length;
  const paired = [...columnOf.keys()].filter((row) => columnOf[row] >= 0);
  const last = paired.length;
  const size = last + 1;
  const place = new Int32Array(over + 1).fill(-1);
  for (let at = 0; at < last; at++) place[paired[at]] = at;
  place[over] = last;
  const path = new Float64Array(size * size).fill(Infinity);
  for (let to = 0; to < last; to++) {
    const column = columnOf[paired[to]];
    // What is taken from its owner counts against the taker's gain.
    const own = costs[paired[to]][column] - limit;
    for (let from = 0; from < last; from++)
      path[from * size + to] = costs[paired[from]][column] - limit - own;
    let taker = 0;
    for (let row = 0; row < over; row++)
      if (columnOf[row] < 0) taker = Math.min(taker, costs[row][column] - limit);
    path[last * size + to] = taker - own;
  }
  for (let from = 0; from < last; from++) {
    // Left over, or in a column that is.
    let least = 0;
    for (let column = 0; column < rowOf.length; column++)
      if (rowOf[column] < 0) least = Math.min(least, costs[paired[from]][column] - limit);
    path[from * size + last] = least;
  }
  for (let at = 0; at < size; at++) path[at * size + at] = 0;
  for (let via = 0; via < size; via++) {
    const onward = path.subarray(via * size, (via + 1) * size);
    for (let from = 0; from < size; from++) {
      const first = path[from * size + via];
      if (first === Infinity || from === via) continue;
      const row = from * size;
      for (let to = 0; to < size; to++) {
        const length = first + onward[to];
        if (length < path[row + to]) path[row + to] = length;
      }
    }
  }
  return (from, to) => path[place[from] * size + place[to]];
}
