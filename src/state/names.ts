/** Strings stored once and referred to by number: designators, parts, boards and packages recur thousands of times. */
export class Names {
  readonly #numbers = new Map<string, number>();
  readonly #texts: string[] = [''];

  /** Every text, by its number. */
  get all(): readonly string[] {
    return this.#texts;
  }

  /** The names that others had, with the same numbers. @param texts by number, the empty text first */
  static restored(texts: readonly string[]): Names {
    const names = new Names();
    for (const text of texts.slice(1)) names.numberOf(text);
    return names;
  }

  /** Number of a text; the empty text is 0. */
  numberOf(text: string | undefined): number {
    if (!text) return 0;
    let number = this.#numbers.get(text);
    if (number === undefined) {
      number = this.#texts.push(text) - 1;
      this.#numbers.set(text, number);
    }
    return number;
  }

  /** Number of a text, or undefined when it was never kept. */
  find(text: string): number | undefined {
    return text === '' ? 0 : this.#numbers.get(text);
  }

  textOf(number: number): string {
    return this.#texts[number];
  }
}
