/**
 * Answers of the body of an EXISTS that are used again. A body reads few of the variables around it, and the rows
 * outside often have the same nodes in these and differ in others: `(a)-(j)-(k)-(b) WHERE EXISTS { (b)-… }` asks as
 * often as there are rows, and has as many answers as there are nodes `b` (memoization of correlated subqueries, as in
 * Guravannavar and Sudarshan, "Reducing order enforcement cost in complex query plans", ICDE 2007; from memory).
 */
import type { Run } from './stage.ts';

/** Answers kept; then all are forgotten. */
const MOST = 8_192;
/** Times asked after which answers are no longer kept when fewer than one in so many was known. */
const TRIED = 512;
const LEAST_KNOWN = 8;
/** Two numbers below this make one key. */
const SMALL = 2 ** 26;

export class BodyAnswers<T> {
  readonly #row: Int32Array;
  readonly #slots: readonly number[];
  readonly #ask: () => T;
  #known = new Map<number | string, T>();
  #asked = 0;
  #found = 0;

  /**
   * @param slots elements of the row that the answer depends on, and nothing else
   * @param ask the answer for what the row holds
   */
  constructor({ row }: Pick<Run, 'row'>, slots: readonly number[], ask: () => T) {
    this.#row = row;
    this.#slots = slots;
    this.#ask = ask;
  }

  get(): T {
    if (this.#asked >= TRIED && this.#found * LEAST_KNOWN < this.#asked) return this.#ask();
    this.#asked++;
    const key = this.#key();
    const known = this.#known.get(key);
    if (known !== undefined) {
      this.#found++;
      return known;
    }
    const answer = this.#ask();
    if (this.#known.size >= MOST) this.#known.clear();
    this.#known.set(key, answer);
    return answer;
  }

  /** Forgets the answers: the search goes on where something else is to be seen. */
  forget(): void {
    if (this.#known.size > 0) this.#known.clear();
  }

  #key(): number | string {
    const row = this.#row;
    const slots = this.#slots;
    if (slots.length === 0) return 0;
    const first = row[slots[0]!]!;
    if (slots.length === 1) return first;
    // What is not bound or null is negative.
    const second = row[slots[1]!]!;
    if (slots.length === 2 && first < SMALL - 2 && second < SMALL - 2)
      return (first + 2) * SMALL + second + 2;
    return slots.map((slot) => row[slot]).join(' ');
  }
}
