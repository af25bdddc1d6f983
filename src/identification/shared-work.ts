/** Costly work that many may wait for at once: done once for each key, kept until another is asked for. */
export class SharedWork<T> {
  #last:
    | { readonly key: string; readonly found: Promise<T>; readonly ends: AbortController; waiting: number }
    | undefined;

  /**
   * What `work` finds for a key. It ends when everyone who waits for it has gone.
   * @param work is told by its signal when nobody waits any more
   * @throws what the work throws, or the signal's reason
   */
  async of(
    key: string,
    signal: AbortSignal | undefined,
    work: (ended: AbortSignal) => Promise<T>,
  ): Promise<T> {
    signal?.throwIfAborted();
    if (this.#last?.key !== key) {
      const ends = new AbortController();
      this.#last = { key, ends, found: work(ends.signal), waiting: 0 };
    }
    const mine = this.#last;
    mine.waiting++;
    const forget = () => {
      if (this.#last === mine) this.#last = undefined;
    };
    try {
      return await Promise.race([mine.found, gone(signal)]);
    } catch (error) {
      if (!signal?.aborted) forget();
      throw error;
    } finally {
      if (--mine.waiting === 0 && signal?.aborted) {
        forget();
        mine.ends.abort(signal.reason);
        mine.found.catch(() => undefined);
      }
    }
  }
}

/** Rejects when the signal is aborted, and never settles otherwise. */
function gone(signal: AbortSignal | undefined): Promise<never> {
  return new Promise((_, reject) =>
    signal?.addEventListener('abort', () => reject(signal.reason), { once: true }),
  );
}
