import { Pace } from '../../state/pace.ts';
import { type Assignment, assign, type Costs, marginsOf } from './assignment.ts';
import type { Features } from './features.ts';
import { guideOrder } from './guide.ts';
import { type PairCosts, pairCosts } from './pair-costs.ts';
import type { AlignmentWeights } from './weights.ts';

/** One line of the table: which component of each column plays the same role. */
export interface AlignedRow {
  /** Place of the component among the column's features, -1 where it has none. */
  readonly members: Int32Array;
  /** For each joining the row took part in: the probability that what it was joined with, or not, is right. */
  readonly certainties: ReadonlyMap<number, number>;
}

export interface AlignedTable {
  readonly rows: readonly AlignedRow[];
  /** What is known of the pairs of two columns; the first column is the smaller number. */
  pair(first: number, second: number): PairCosts;
  /** Number of the joining that brought two columns together. */
  joiningOf(first: number, second: number): number;
}

/**
 * Progressive alignment (Feng & Doolittle, Journal of Molecular Evolution 25, 1987, 351-360): every two columns are
 * aligned, then joined into one table from the most similar on; once in one row, always in one row. Joining two tables
 * costs, for two of their rows, the mean over the components in them.
 * @param columns in an order that does not depend on how the question was put
 */
export async function alignProgressively(
  columns: readonly Features[],
  weights: AlignmentWeights,
  signal?: AbortSignal,
): Promise<AlignedTable> {
  const pace = new Pace(signal);
  const pairs = new Map<string, PairCosts>();
  const distances = columns.map(() => new Array<number>(columns.length).fill(0));
  const direct = new Map<string, Assignment>();
  for (let i = 0; i < columns.length; i++) {
    for (let j = i + 1; j < columns.length; j++) {
      await pace.rest();
      const found = pairCosts(columns[i], columns[j], weights);
      const size = columns[j].components.length;
      const answer = assign(found.costs, size, weights.unmatched);
      const worst = (found.costs.length + size) * weights.unmatched;
      pairs.set(`${i} ${j}`, found);
      direct.set(`${i} ${j}`, answer);
      distances[i][j] = distances[j][i] = worst === 0 ? 0 : answer.total / worst;
    }
  }
  const pair = (first: number, second: number) => pairs.get(`${first} ${second}`) as PairCosts;
  const joiningNumbers = new Map<string, number>();
  const tables = new Map<number, AlignedRow[]>(
    columns.map(({ components }, column) => [
      column,
      components.map((_, at) => ({ members: single(columns.length, column, at), certainties: new Map() })),
    ]),
  );
  for (const [number, { left, right }] of guideOrder(distances).entries()) {
    await pace.rest();
    for (const x of left) for (const y of right) joiningNumbers.set(inOrder(x, y), number);
    const [first, second] = [tables.get(left[0]) as AlignedRow[], tables.get(right[0]) as AlignedRow[]];
    const costs = joinedCosts(first, second, left, right, pair);
    const answer =
      left.length + right.length === 2
        ? (direct.get(inOrder(left[0], right[0])) as Assignment)
        : assign(costs, second.length, weights.unmatched);
    const joined = join(columns, first, second, costs, answer, number, weights);
    tables.delete(right[0]);
    tables.set(Math.min(left[0], right[0]), joined);
  }
  return {
    rows: tables.get(0) ?? [],
    pair,
    joiningOf: (first, second) => joiningNumbers.get(inOrder(first, second)) as number,
  };
}

function inOrder(a: number, b: number): string {
  return a < b ? `${a} ${b}` : `${b} ${a}`;
}

function single(columns: number, column: number, at: number): Int32Array {
  const members = new Int32Array(columns).fill(-1);
  members[column] = at;
  return members;
}

/** Mean cost over the components of two rows; a pair that cannot be counts 1, and Infinity when none can be. */
function joinedCosts(
  first: readonly AlignedRow[],
  second: readonly AlignedRow[],
  left: readonly number[],
  right: readonly number[],
  pair: AlignedTable['pair'],
): Costs {
  if (left.length === 1 && right.length === 1 && left[0] < right[0]) return pair(left[0], right[0]).costs;
  return first.map((row) =>
    Float64Array.from(second, (other) => {
      let sum = 0;
      let count = 0;
      let possible = false;
      for (const x of left) {
        if (row.members[x] < 0) continue;
        for (const y of right) {
          if (other.members[y] < 0) continue;
          const cost =
            x < y
              ? pair(x, y).costs[row.members[x]][other.members[y]]
              : pair(y, x).costs[other.members[y]][row.members[x]];
          count++;
          if (cost !== Infinity) possible = true;
          sum += cost === Infinity ? 1 : cost;
        }
      }
      return possible ? sum / count : Infinity;
    }),
  );
}

function join(
  columns: readonly Features[],
  first: readonly AlignedRow[],
  second: readonly AlignedRow[],
  costs: Costs,
  answer: Assignment,
  number: number,
  { unmatched, margin }: AlignmentWeights,
): AlignedRow[] {
  const twins = second.map(({ members }) => twinOf(columns, members));
  const margins = marginsOf(costs, answer, unmatched, (a, b) => twins[a] === twins[b]);
  const sure = (growth: number) => 1 / (1 + Math.exp(-growth / margin));
  const rows = first.map(({ members, certainties }, at) => {
    const partner = answer.columnOf[at];
    const all =
      partner < 0 ? members : members.map((one, column) => Math.max(one, second[partner].members[column]));
    const before = partner < 0 ? certainties : new Map([...certainties, ...second[partner].certainties]);
    return { members: all, certainties: new Map(before).set(number, sure(margins.rows[at])) };
  });
  const over = second.flatMap(({ members, certainties }, at) =>
    answer.rowOf[at] >= 0
      ? []
      : [{ members, certainties: new Map(certainties).set(number, sure(margins.columns[at])) }],
  );
  return [...rows, ...over];
}

function twinOf(columns: readonly Features[], members: Int32Array): string {
  return [...members].map((at, column) => (at < 0 ? '' : columns[column].components[at].twin)).join('\n');
}
