/**
 * Planning happens on the calling thread, where the inverted index is. When it has taken long, what is left of it is
 * done without looking for the best.
 */

/** Milliseconds of planning after which the rest is hurried. */
const PATIENCE = 25;

export class PlanningClock {
  readonly #start = performance.now();
  readonly #used = process.threadCpuUsage();
  #isLate = false;

  /** Whether to hurry. Waiting for a busy machine does not count. */
  get isLate(): boolean {
    if (!this.#isLate && performance.now() - this.#start > PATIENCE) {
      const { user, system } = process.threadCpuUsage(this.#used);
      this.#isLate = (user + system) / 1000 > PATIENCE;
    }
    return this.#isLate;
  }
}
