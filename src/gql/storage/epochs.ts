/**
 * Keeps memory that a running query may still read from being written again: epoch-based reclamation (Fraser,
 * "Practical lock-freedom", University of Cambridge technical report 579, 2004, section 5.2.3). A query enters
 * before it looks at the graph and leaves when it is done; what is retired meanwhile waits for it.
 */
export class Epochs {
  #now = 0;
  readonly #readers = new Map<number, number>();
  readonly #waiting: { readonly epoch: number; readonly reclaim: () => void }[] = [];

  /** Answers the ticket to leave with. */
  enter(): number {
    const ticket = ++this.#now;
    this.#readers.set(ticket, ticket);
    return ticket;
  }

  leave(ticket: number): void {
    this.#readers.delete(ticket);
    this.#collect();
  }

  /** How many queries are running now. */
  get readers(): number {
    return this.#readers.size;
  }

  /** Whether nothing waits for a query to end. */
  get isSettled(): boolean {
    return this.#waiting.length === 0;
  }

  /** Runs `reclaim` once every query that is running now has ended; at once when there is none. */
  retire(reclaim: () => void): void {
    this.#waiting.push({ epoch: this.#now, reclaim });
    this.#collect();
  }

  #collect(): void {
    // Tickets only grow, so the first key is the oldest reader.
    while (this.#waiting.length > 0) {
      const oldest = this.#readers.keys().next();
      const next = this.#waiting[0]!;
      if (!oldest.done && oldest.value <= next.epoch) return;
      this.#waiting.shift();
      next.reclaim();
    }
  }
}
