/** Milliseconds of work after which other requests get their turn. */
const TURN = 10;

/** Lets others work in between. */
export class Turns {
  readonly #signal: AbortSignal | undefined;
  #since = performance.now();

  constructor(signal: AbortSignal | undefined) {
    this.#signal = signal;
  }

  /** Gives the turn away when it has lasted long. @throws the signal's reason when nobody waits any more */
  async give(): Promise<void> {
    if (performance.now() - this.#since < TURN) return;
    await new Promise(setImmediate);
    this.#signal?.throwIfAborted();
    this.#since = performance.now();
  }
}
