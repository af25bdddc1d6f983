import { setImmediate } from 'node:timers/promises';

/** Longest time that others have to wait for their turn, ms. */
const TURN = 12;

/** Lets others have their turn in long work, and ends the work when nobody waits for it any more. */
export class Pace {
  readonly #signal: AbortSignal | undefined;
  #since = performance.now();

  constructor(signal?: AbortSignal) {
    this.#signal = signal;
  }

  /** Whether it is time to call {@link rest}; cheap enough for inner loops. */
  get due(): boolean {
    return performance.now() - this.#since > TURN;
  }

  /** @throws the signal's reason once it is aborted */
  async rest(): Promise<void> {
    this.#signal?.throwIfAborted();
    if (!this.due) return;
    await setImmediate();
    this.#since = performance.now();
    this.#signal?.throwIfAborted();
  }
}
