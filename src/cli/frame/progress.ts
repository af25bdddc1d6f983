/** A bar on standard error while many things are done; silent unless a person is looking at a terminal. */
export class Progress {
  readonly #what: string;
  readonly #total: number;
  readonly #shown = process.stderr.isTTY === true && process.env.TERM !== 'dumb';
  #lastDrawn = Date.now();
  #drawn = false;

  constructor(what: string, total: number) {
    this.#what = what;
    this.#total = total;
  }

  /** Draws at most ten times a second, and not at all what is done at once. */
  update(done: number): void {
    const now = Date.now();
    if (!this.#shown || now - this.#lastDrawn < 100) return;
    this.#lastDrawn = now;
    this.#drawn = true;
    const share = this.#total === 0 ? 1 : Math.min(1, done / this.#total);
    const width = 30;
    const bar = '#'.repeat(Math.round(share * width)).padEnd(width, '.');
    process.stderr.write(`\r${this.#what} [${bar}] ${done} of ${this.#total}`);
  }

  end(): void {
    if (this.#drawn) process.stderr.write('\r\u001b[K');
    this.#drawn = false;
  }
}
