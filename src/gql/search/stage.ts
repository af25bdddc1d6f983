import { type AskBody, type Lineage, OPEN } from '../plan/lineage.ts';
import type { Match, Target } from '../plan/match.ts';
import type { Place, RowState } from '../plan/pattern.ts';

/**
 * A stage is a piece of a running query: it reads the row, binds more of it in every way there is, and calls the
 * next stage for each. It answers false as soon as a later stage wants no more.
 */
export type Stage = () => boolean;

/** Why a query stopped before it had everything. */
export type Shortage = 'time' | 'rows' | 'memory' | 'steps' | 'length' | 'cancelled';

export class OutOfBudget extends Error {
  override readonly name = 'OutOfBudget';
  readonly shortage: Shortage;
  /** The clause that was being searched. */
  place: Place | undefined;
  constructor(shortage: Shortage) {
    super(`Ran out of ${shortage}`);
    this.shortage = shortage;
  }
}

/** Steps between two looks at the clock: some ten microseconds in warm code, a millisecond or two in cold code. */
const FUEL = 2_000;

/** Milliseconds that sorting what has been found may take after the time is up. */
const LATE = 40;

/** Parts of one value, lists in lists counted through, and sixteen characters for one. */
const MOST_PARTS = 250_000;

export interface RunLimits {
  /** On the clock of `performance.now()`. */
  readonly deadline: number;
  readonly steps: number;
  readonly bytes: number;
  readonly cancelled: () => boolean;
}

/** What all stages of one run share. */
export class Run implements RowState {
  readonly row: Int32Array;
  readonly values: unknown[];
  readonly inner: (() => boolean)[] = [];
  readonly answers: (() => unknown)[] = [];
  bodyLineage: AskBody = () => OPEN;
  /** Whether it is noted under which circumstances a row holds. */
  keepsDoubts = false;
  /** What tells two ways apart in which a match binds the same, where doubts are kept: the uncertain labels each needs. */
  wayOf: (match: Match) => string = () => '';
  /** Circumstances of the row being bound that cannot be seen from what is bound: those of iterations, and of what OPTIONAL left out. */
  readonly doubts: Lineage[] = [];
  /** Queries of VALUE that had several rows for one outside. */
  readonly several = new Set<Place>();
  /** What OPTIONAL left out of the row being bound. */
  readonly skipped: Match[] = [];
  readonly parameters: Readonly<Record<string, unknown>>;
  /** Steps left until the next look at the clock. */
  fuel = FUEL;
  steps = 0;
  /** Bytes taken for rows that are kept, groups and the like, roughly. */
  bytes = 0;
  readonly #deadline: number;
  readonly #mostSteps: number;
  readonly #mostBytes: number;
  readonly #cancelled: () => boolean;

  constructor(slots: number, limits: RunLimits, parameters: Readonly<Record<string, unknown>> = {}) {
    this.parameters = parameters;
    this.row = new Int32Array(slots).fill(-1);
    this.values = new Array(slots).fill(null);
    this.#deadline = limits.deadline;
    this.#mostSteps = limits.steps;
    this.#mostBytes = limits.bytes;
    this.#cancelled = limits.cancelled;
  }

  /** Notes that bytes were taken for good; throws OutOfBudget when they are too many. */
  remember(bytes: number): void {
    this.bytes += bytes;
    if (this.bytes > this.#mostBytes) throw new OutOfBudget('memory');
  }

  /**
   * A value as it is; throws OutOfBudget when it has too many parts. Parts that a value has several times, which a text can bring
   * about in few words, count as often, since whatever reads the value goes through them as often.
   */
  weighed(value: unknown): unknown {
    if (typeof value !== 'object' || value === null) return value;
    const open: unknown[] = [value];
    for (let parts = 0; open.length > 0; parts++) {
      if (parts > MOST_PARTS) throw new OutOfBudget('memory');
      if (--this.fuel < 0) this.fuel = this.refuel();
      const next = open.pop();
      if (typeof next === 'string') parts += next.length >> 4;
      else if (Array.isArray(next)) for (const item of next) open.push(item);
      else if (typeof next === 'object' && next !== null && 'fields' in next)
        open.push(...Object.values(next.fields as object));
    }
    return value;
  }

  /** Throws OutOfBudget when it is time to stop; before work that cannot be interrupted. */
  look(): void {
    if (this.#cancelled()) throw new OutOfBudget('cancelled');
    if (performance.now() > this.#deadline) throw new OutOfBudget('time');
  }

  /** Counts steps of work that is done between entries; throws OutOfBudget when it is time to stop. */
  spend(steps: number): void {
    this.fuel -= steps;
    if (this.fuel < 0) this.fuel = this.refuel();
  }

  /**
   * The same for what is done with rows that are found already, also after the time is up: throws OutOfBudget when that
   * takes long as well.
   *
   * @param since beginning of that work, on the clock of `performance.now()`
   */
  lookLate(since: number): void {
    if (this.#cancelled()) throw new OutOfBudget('cancelled');
    if (performance.now() > Math.max(this.#deadline, since + LATE)) throw new OutOfBudget('time');
  }

  /** Called when the fuel is used up; answers more, or throws OutOfBudget. */
  refuel(): number {
    this.steps += FUEL;
    if (this.#cancelled()) throw new OutOfBudget('cancelled');
    if (this.steps > this.#mostSteps) throw new OutOfBudget('steps');
    if (performance.now() > this.#deadline) throw new OutOfBudget('time');
    return FUEL;
  }
}

/** Writes the value of a variable into the row. */
export function setterOf({ slot, isElement }: Target, run: Run): (value: unknown) => void {
  if (!isElement)
    return (value) => {
      run.values[slot] = value;
    };
  return (value) => {
    run.row[slot] = value === null ? -2 : (value as { readonly key: number }).key;
  };
}
