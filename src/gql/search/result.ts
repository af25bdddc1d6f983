/**
 * From bindings to rows: projection, groups and aggregates, DISTINCT, ORDER BY, OFFSET and LIMIT (ISO/IEC
 * 39075:2024, 14.10 and 14.11).
 */
import type { Accumulator, ResultPlan } from '../plan/projection.ts';
import type { Run } from './stage.ts';

/** Rows with this many bytes for each value are thought to be kept. */
export const VALUE_BYTES = 32;

/** Steps for a value that a row has calculated for it. */
const VALUE_STEPS = 4;
/** Sort keys to compare between two looks at the clock. */
const COMPARISONS = 20_000;

interface Group {
  readonly row: Int32Array;
  readonly values: unknown[];
  readonly accumulators: readonly Accumulator[];
}

/** A row with its sort keys, and its place among equal ones. */
export interface Sorted {
  readonly sort: readonly unknown[];
  readonly order: number;
}

interface Kept extends Sorted {
  readonly cells: readonly unknown[];
}

/**
 * Takes bindings and yields rows: at once where the query allows it, else at the end.
 */
export class ResultSink {
  readonly #plan: ResultPlan;
  readonly #run: Run;
  readonly #emit: (cells: readonly unknown[]) => boolean;
  readonly #groups = new Map<string, Group>();
  readonly #seen: Set<string> | undefined;
  readonly #kept: Kept[] = [];
  #bytes = 0;
  #skipped = 0;
  #given = 0;
  #order = 0;
  #current: Group | undefined;
  #currentKey = '';
  /** Values that a row has calculated for it, itself included. */
  readonly #width: number;

  /** @param emit returns false when no more rows are wanted */
  constructor(plan: ResultPlan, run: Run, emit: (cells: readonly unknown[]) => boolean) {
    this.#plan = plan;
    this.#run = run;
    this.#emit = emit;
    const { items, orderBy, groupBy, aggregates } = plan;
    this.#width = items.length + orderBy.length + (groupBy?.length ?? 0) + aggregates.length;
    this.#seen = plan.distinct ? new Set() : undefined;
  }

  /** The last stage. */
  take(): boolean {
    this.#run.spend(this.#width * VALUE_STEPS);
    if (this.#plan.groupBy) {
      this.#group();
      return true;
    }
    return this.#row();
  }

  /** Gives out what had to wait for the last binding. Call once, also after a shortage. */
  finish(): void {
    if (this.#plan.groupBy) this.#finishGroups();
    if (this.#plan.orderBy.length === 0) return;
    sortRows(this.#kept, this.#plan, this.#run);
    const { offset, limit } = this.#plan;
    for (const { cells } of this.#kept.slice(offset, offset + limit)) if (!this.#emit(cells)) return;
  }

  /** Gives back what it kept of the memory. */
  forget(): void {
    this.#run.remember(-this.#bytes);
    this.#bytes = 0;
  }

  #remember(bytes: number): void {
    this.#bytes += bytes;
    this.#run.remember(bytes);
  }

  #group(): void {
    const groupBy = this.#plan.groupBy!;
    let key = '';
    for (const evaluate of groupBy)
      key += `${this.#plan.keyOf(this.#run.weighed(evaluate(this.#run)))}\u0001`;
    if (!this.#current || key !== this.#currentKey) {
      let group = this.#groups.get(key);
      if (!group) {
        group = this.#newGroup();
        this.#groups.set(key, group);
        this.#remember(key.length * 2 + 100 + this.#run.row.length * 12);
      }
      this.#current = group;
      this.#currentKey = key;
    }
    const { accumulators } = this.#current;
    this.#plan.aggregates.forEach(({ argument }, i) => {
      const accumulator = accumulators[i]!;
      const before = accumulator.bytes;
      accumulator.add(argument ? argument(this.#run) : null);
      if (accumulator.bytes !== before) this.#remember(accumulator.bytes - before);
    });
  }

  #newGroup(): Group {
    return {
      row: this.#run.row.slice(),
      values: this.#run.values.slice(),
      accumulators: this.#plan.aggregates.map(({ make }) => make()),
    };
  }

  #finishGroups(): void {
    if (this.#groups.size === 0 && this.#plan.groupBy!.length === 0) this.#groups.set('', this.#newGroup());
    for (const { row, values, accumulators } of this.#groups.values()) {
      this.#run.row.set(row);
      values.forEach((value, slot) => {
        this.#run.values[slot] = value;
      });
      this.#plan.aggregates.forEach(({ slot }, i) => {
        this.#run.values[slot] = accumulators[i]!.result();
      });
      if (!this.#row()) return;
    }
  }

  /** A row, for the current bindings. */
  #row(): boolean {
    const { items, orderBy, offset, limit, keyOf, aliasSlots } = this.#plan;
    const cells = items.map((evaluate) => this.#run.weighed(evaluate(this.#run)));
    if (this.#seen) {
      const key = cells.map(keyOf).join('\u0001');
      if (this.#seen.has(key)) return true;
      this.#seen.add(key);
      this.#remember(key.length * 2 + 40);
    }
    if (orderBy.length > 0) {
      aliasSlots.forEach((slot, i) => {
        if (slot >= 0) this.#run.values[slot] = cells[i];
      });
      this.#keep({ cells, sort: orderBy.map(({ value }) => value(this.#run)), order: this.#order++ });
      return true;
    }
    if (this.#skipped < offset) {
      this.#skipped++;
      return true;
    }
    if (this.#given >= limit) return false;
    this.#given++;
    return this.#emit(cells) && this.#given < limit;
  }

  #keep(row: Kept): void {
    this.#kept.push(row);
    this.#remember((row.cells.length + row.sort.length) * VALUE_BYTES + 64);
    // With a limit, twice as many rows as can be given out are enough to keep.
    const wanted = this.#plan.offset + this.#plan.limit;
    if (this.#kept.length > 1000 && this.#kept.length > wanted * 2) {
      sortRows(this.#kept, this.#plan, this.#run);
      const dropped = this.#kept.length - wanted;
      this.#kept.length = wanted;
      this.#remember(-dropped * ((row.cells.length + row.sort.length) * VALUE_BYTES + 64));
    }
  }
}

/**
 * Sorts rows in place; also those of a search that has run out of time, unless sorting takes long as well: then it throws
 * OutOfBudget.
 */
export function sortRows<R extends Sorted>(
  rows: R[],
  by: Pick<ResultPlan, 'orderBy' | 'compare'>,
  run: Run,
): void {
  const since = performance.now();
  let left = COMPARISONS;
  rows.sort((a, b) => {
    // Rows may be alike in all of a thousand keys.
    left -= by.orderBy.length;
    if (left < 0) {
      run.lookLate(since);
      left = COMPARISONS;
    }
    return compareSorted(a, b, by);
  });
}

/** 16.17 <sort specification list>. */
function compareSorted(
  a: Sorted,
  b: Sorted,
  { orderBy, compare }: Pick<ResultPlan, 'orderBy' | 'compare'>,
): number {
  for (let i = 0; i < orderBy.length; i++) {
    const { descending, nullsFirst } = orderBy[i]!;
    const [x, y] = [a.sort[i], b.sort[i]];
    const [xNull, yNull] = [x === null || x === undefined, y === null || y === undefined];
    if (xNull || yNull) {
      if (xNull && yNull) continue;
      return xNull === nullsFirst ? -1 : 1;
    }
    const order = compare(x, y);
    if (order !== 0) return descending ? -order : order;
  }
  return a.order - b.order;
}
