/** A place in a text as people count: both from 1. The column counts characters (code points), a tab as one. */
export interface Position {
  readonly line: number;
  readonly column: number;
}

/** Line ends are LF, CR LF and CR. */
const LINE_END = /\r\n|\n|\r/g;

/** A text that knows its lines and columns. Offsets are UTF-16 units; those out of range are clamped. */
export class Source {
  readonly text: string;
  /** Offset of the first unit of every line. */
  readonly #starts: number[] = [0];

  constructor(text: string) {
    this.text = text;
    for (const end of text.matchAll(LINE_END)) this.#starts.push(end.index + end[0].length);
  }

  get lineCount(): number {
    return this.#starts.length;
  }

  /** Line and column of an offset. */
  position(offset: number): Position {
    const at = this.#clamp(offset);
    const line = this.#lineOf(at);
    const before = this.text.slice(this.#starts[line], at);
    return { line: line + 1, column: [...before].length + 1 };
  }

  /** The line that holds an offset, without its line end, and where it starts. */
  line(offset: number): { readonly text: string; readonly start: number } {
    const line = this.#lineOf(this.#clamp(offset));
    const start = this.#starts[line]!;
    const end = this.#starts[line + 1] ?? this.text.length;
    return { text: this.text.slice(start, end).replace(/[\r\n]+$/, ''), start };
  }

  #clamp(offset: number): number {
    return Math.max(0, Math.min(offset, this.text.length));
  }

  #lineOf(offset: number): number {
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.#starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  }
}
