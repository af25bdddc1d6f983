/**
 * Solves linear sum assignments up to a size, one after another, without making new lists for each: every row of a matrix
 * of costs gets a column where there are enough of them, and every column a row where there are not, at the least total
 * cost. Shortest augmenting paths of Jonker & Volgenant (Computing 38, 1987, 325-340) in the rectangular form of Crouse
 * (IEEE Transactions on Aerospace and Electronic Systems 52, 2016, 1679-1696). Takes at most
 * rows · columns · min(rows, columns) steps. Of equally short ways the first is taken, or one that ends (`soonest`, as in
 * SciPy): then it takes much less where many costs are equal.
 */
export class AssignmentSolver {
  /** Column of each row, -1 for a row left over. */
  readonly columnOf: Int32Array;
  /**
   * Dual variables of rows and columns: their sum is at most the cost of the pair, and equal to it for the pairs made.
   * Those of the longer side are 0 or less, and 0 for what is left over.
   */
  readonly rowDuals: Float64Array;
  readonly columnDuals: Float64Array;
  readonly #owner: Int32Array;
  readonly #given: Int32Array;
  readonly #shortest: Float64Array;
  readonly #before: Int32Array;
  readonly #open: Int32Array;
  readonly #reached: Int32Array;
  readonly #soonest: boolean;

  constructor(mostRows: number, mostColumns: number, { soonest = false } = {}) {
    this.#soonest = soonest;
    const most = Math.max(mostRows, mostColumns);
    this.columnOf = new Int32Array(mostRows);
    this.rowDuals = new Float64Array(mostRows);
    this.columnDuals = new Float64Array(mostColumns);
    this.#owner = new Int32Array(most);
    this.#given = new Int32Array(most);
    this.#shortest = new Float64Array(most);
    this.#before = new Int32Array(most);
    this.#open = new Int32Array(most);
    this.#reached = new Int32Array(most);
  }

  /** @param costs finite, row after row */
  solve(costs: Float64Array, rows: number, columns: number): void {
    this.columnOf.fill(-1, 0, rows);
    // The shorter side looks for partners, one after another.
    if (rows < columns) {
      this.#pair(costs, rows, columns, columns, 1, this.rowDuals, this.columnDuals);
      this.columnOf.set(this.#given.subarray(0, rows));
    } else {
      this.#pair(costs, columns, rows, 1, columns, this.columnDuals, this.rowDuals);
      for (let column = 0; column < columns; column++) this.columnOf[this.#given[column]] = column;
    }
  }

  #pair(
    costs: Float64Array,
    few: number,
    many: number,
    stepOfFew: number,
    stepOfMany: number,
    dualOfFew: Float64Array,
    dualOfMany: Float64Array,
  ): void {
    const [owner, given, shortest, before] = [this.#owner, this.#given, this.#shortest, this.#before];
    const [open, reached, soonest] = [this.#open, this.#reached, this.#soonest];
    owner.fill(-1, 0, many);
    given.fill(-1, 0, few);
    dualOfFew.fill(0, 0, few);
    dualOfMany.fill(0, 0, many);
    for (let start = 0; start < few; start++) {
      shortest.fill(Infinity, 0, many);
      for (let at = 0; at < many; at++) open[at] = at;
      let left = many;
      let steps = 0;
      let length = 0;
      let from = start;
      let end = -1;
      while (end < 0) {
        const offset = from * stepOfFew;
        const dual = dualOfFew[from];
        let least = Infinity;
        let nearest = -1;
        for (let at = 0; at < left; at++) {
          const to = open[at];
          const reduced = length + costs[offset + to * stepOfMany] - dual - dualOfMany[to];
          if (reduced < shortest[to]) {
            before[to] = from;
            shortest[to] = reduced;
          }
          if (shortest[to] < least || (soonest && shortest[to] === least && owner[to] < 0)) {
            least = shortest[to];
            nearest = at;
          }
        }
        const to = open[nearest];
        reached[steps++] = to;
        left--;
        if (soonest) open[nearest] = open[left];
        else open.copyWithin(nearest, nearest + 1, left + 1);
        length = least;
        if (owner[to] < 0) end = to;
        else from = owner[to];
      }
      dualOfFew[start] += length;
      for (let at = 0; at < steps; at++) {
        const to = reached[at];
        if (owner[to] >= 0) dualOfFew[owner[to]] += length - shortest[to];
        dualOfMany[to] -= length - shortest[to];
      }
      for (let to = end, one = -1; one !== start; ) {
        one = before[to];
        owner[to] = one;
        const next = given[one];
        given[one] = to;
        to = next;
      }
    }
  }
}

/** The least assignment of one matrix; of equals the first. @returns column of each row, -1 for a row left over */
export function leastAssignment(costs: Float64Array, rows: number, columns: number): Int32Array {
  let least = Infinity;
  for (let at = 0; at < costs.length; at++) least = Math.min(least, costs[at]);
  const solver = new AssignmentSolver(rows, columns);
  solver.solve(
    costs.map((cost) => cost - least),
    rows,
    columns,
  );
  return solver.columnOf;
}
