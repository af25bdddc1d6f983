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
  constructor(shortage: Shortage) {
    super(`Ran out of ${shortage}`);
    this.shortage = shortage;
  }
}

/** Steps between two looks at the clock: about a tenth of a millisecond. */
const FUEL = 20_000;

/** What all stages of one run share. */
export class Run {
  /** Element (node or edge number) per slot; -1 not bound, -2 null. */
  readonly row: Int32Array;
  /** Value per slot, for slots that hold no single element: lists, paths, computed values. */
  readonly values: unknown[];
  /** Steps left until the next look at the clock. */
  fuel = FUEL;
  steps = 0;
  readonly #deadline: number;
  readonly #mostSteps: number;
  readonly #cancelled: () => boolean;

  constructor(
    slots: number,
    limits: { readonly deadline: number; readonly steps: number; readonly cancelled: () => boolean },
  ) {
    this.row = new Int32Array(slots).fill(-1);
    this.values = new Array(slots).fill(null);
    this.#deadline = limits.deadline;
    this.#mostSteps = limits.steps;
    this.#cancelled = limits.cancelled;
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
