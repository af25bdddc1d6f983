import { setImmediate } from 'node:timers/promises';

/** Maximum time that others wait for their turn, ms. */
const TURN = 12;

/** Yields to others during long work, ends it when it is cancelled, and keeps its time budget. */
export class Pace {
  readonly #signal: AbortSignal | undefined;
  readonly #until: number;
  #since = performance.now();

  /** @param budget milliseconds after which {@link over} is true */
  constructor(signal?: AbortSignal, budget = Infinity) {
    this.#signal = signal;
    this.#until = performance.now() + budget;
  }

  /** Whether it is time to call {@link rest}; cheap enough for inner loops. */
  get due(): boolean {
    return performance.now() - this.#since > TURN;
  }

  /** Whether the time allowed is used up. */
  get over(): boolean {
    return performance.now() > this.#until;
  }

  /** Yields to others when it is time. @throws the signal's reason once it is aborted */
  async rest(): Promise<void> {
    this.#signal?.throwIfAborted();
    if (!this.due) return;
    await setImmediate();
    this.#since = performance.now();
    this.#signal?.throwIfAborted();
  }
}

/** Runs long work that is cut into steps, yielding to others between them. @throws the signal's reason once it is aborted */
export async function inTurns<T>(steps: Generator<void, T, void>, signal?: AbortSignal): Promise<T> {
  const pace = new Pace(signal);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
    await pace.rest();
  }
}
