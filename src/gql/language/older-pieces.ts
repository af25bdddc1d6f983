/** The tokens of a text that could not be read, and looking around among them. */
import type { IToken, TokenType } from 'chevrotain';
import { NUMBER, PARAMETER, STRING } from './tokens.ts';

/** A token or a character that begins none. */
interface Piece {
  readonly image: string;
  readonly upper: string;
  readonly type: TokenType | undefined;
  readonly start: number;
  readonly end: number;
  readonly isWord: boolean;
}

/** Words before which a value has ended, or none has begun. */
export const OPERATORS: ReadonlySet<string> = new Set(
  'AND OR XOR NOT IN IS WHERE RETURN WHEN THEN ELSE CASE BY AS DISTINCT ALL FILTER MATCH FROM LIMIT OFFSET SKIP OPTIONAL LET'.split(
    ' ',
  ),
);
export class Pieces {
  protected readonly text: string;
  protected readonly pieces: readonly Piece[];
  /** Of opening brackets the closing one; and of all pieces the innermost bracket that is open there. */
  protected readonly partners: (number | undefined)[] = [];
  protected readonly around: (number | undefined)[] = [];

  constructor(
    text: string,
    tokens: readonly IToken[],
    strays: readonly { readonly offset: number; readonly length: number }[],
  ) {
    this.text = text;
    const pieces = tokens.map(
      ({ image, tokenType, startOffset }): Piece => ({
        image,
        upper: image.toUpperCase(),
        type: tokenType,
        start: startOffset,
        end: startOffset + image.length,
        isWord: /^[\p{ID_Start}\p{Pc}]/u.test(image),
      }),
    );
    const odd = strays.map(({ offset, length }): Piece => {
      const image = text.slice(offset, offset + length);
      return { image, upper: image, type: undefined, start: offset, end: offset + length, isWord: false };
    });
    this.pieces = [...pieces, ...odd].sort((a, b) => a.start - b.start);
    const open: number[] = [];
    for (const [i, { image }] of this.pieces.entries()) {
      const closes = /^[)\]}]$/.test(image);
      const last = closes ? open.pop() : undefined;
      if (last !== undefined) this.partners[last] = i;
      this.around[i] = open.at(-1);
      if (/^[([{]$/.test(image)) open.push(i);
    }
  }

  protected is(i: number, image: string): boolean {
    return this.pieces[i]?.image === image;
  }

  /** The word in capitals; empty where there is none, or it names something. */
  protected word(i: number): string {
    const piece = this.pieces[i];
    return piece?.isWord && !this.isName(i) ? piece.upper : '';
  }

  /** Whether a word stands where only a name can: a property, a label, an alias, a variable of a pattern. */
  protected isName(i: number): boolean {
    const before = this.pieces[i - 1]?.image;
    const after = this.pieces[i + 1]?.image;
    if (before === '.' || before === ':' || before?.toUpperCase() === 'AS') return true;
    if (after === '.' && !this.is(this.chain(i) + 1, '(')) return true;
    return (before === '(' || before === '[') && (after === ':' || after === ')' || after === ']');
  }

  /** Whether a piece is part of a label expression. */
  protected isLabel(i: number): boolean {
    if (this.is(i - 1, '[') && /^[-~]$/.test(this.pieces[i - 2]?.image ?? '')) return true;
    for (let at = i - 1; at >= 0; at--) {
      const { image, isWord } = this.pieces[at]!;
      if (image === ':' || this.word(at) === 'LABELED') return true;
      if (!isWord && !/^[&|!%()]$/.test(image)) return false;
      if (isWord && !/^[&|!:]$/.test(this.pieces[at - 1]?.image ?? '')) return false;
    }
    return false;
  }

  /** Whether the bracket around a piece is that of a node or edge pattern, and nothing but labels stand in it. */
  protected opensElement(i: number): boolean {
    for (let at = i - 1; at >= 0; at--) {
      const { image, isWord } = this.pieces[at]!;
      if (image === '(') return !this.pieces[at - 1]?.isWord || OPERATORS.has(this.word(at - 1));
      if (image === '[') return /^[-~]$/.test(this.pieces[at - 1]?.image ?? '');
      if (!isWord && !/^[&|!%:]$/.test(image)) return false;
    }
    return false;
  }

  /** The last piece of `a.b.c`. */
  protected chain(i: number): number {
    let at = i;
    while (this.is(at + 1, '.') && this.pieces[at + 2]?.isWord) at += 2;
    return at;
  }

  /** The bracket that closes the one at a piece. */
  protected close(open: number): number | undefined {
    return this.partners[open];
  }

  /** The nearest bracket of a kind that is open at a piece. */
  protected opening(i: number, bracket: string): number | undefined {
    let at = this.around[i];
    while (at !== undefined && !this.is(at, bracket)) at = this.around[at];
    return at;
  }

  protected isInBraces(i: number): boolean {
    const bracket = this.around[i];
    return bracket !== undefined && this.is(bracket, '{');
  }

  /** The first piece from one on, outside brackets that open after it, that fits; not beyond those around. */
  protected find(from: number, fits: (at: number) => boolean): number | undefined {
    let depth = 0;
    for (let at = from; at < this.pieces.length; at++) {
      const { image } = this.pieces[at]!;
      if (depth === 0 && fits(at)) return at;
      if (/^[([{]$/.test(image)) depth++;
      else if (/^[)\]}]$/.test(image) && --depth < 0) return undefined;
    }
    return undefined;
  }

  /** The same backwards. */
  protected back(from: number, fits: (at: number) => boolean): number | undefined {
    let depth = 0;
    for (let at = from - 1; at >= 0; at--) {
      const { image } = this.pieces[at]!;
      if (depth === 0 && fits(at)) return at;
      if (/^[)\]}]$/.test(image)) depth++;
      else if (/^[([{]$/.test(image) && --depth < 0) return undefined;
    }
    return undefined;
  }

  protected valueEnds(i: number): boolean {
    const piece = this.pieces[i];
    if (!piece) return false;
    if (piece.isWord) return this.isName(i) || !OPERATORS.has(piece.upper);
    return /^[)\]}]$/.test(piece.image) || this.isLiteral(piece);
  }

  protected valueBegins(i: number): boolean {
    const piece = this.pieces[i];
    if (!piece) return false;
    if (piece.isWord) return !OPERATORS.has(piece.upper);
    return /^[([-]$/.test(piece.image) || this.isLiteral(piece);
  }

  protected isLiteral({ type }: Piece): boolean {
    return !!type && (type === NUMBER || type === PARAMETER || !!type.CATEGORIES?.includes(STRING));
  }

  /** The first piece of the value that ends at one. */
  protected valueStart(i: number): number {
    let at = i;
    for (;;) {
      if (/^[)\]]$/.test(this.pieces[at]?.image ?? '')) {
        let depth = 0;
        for (; at > 0; at--) {
          const { image } = this.pieces[at]!;
          if (/^[)\]}]$/.test(image)) depth++;
          else if (/^[([{]$/.test(image) && --depth === 0) break;
        }
        if (this.pieces[at - 1]?.isWord && !OPERATORS.has(this.pieces[at - 1]!.upper)) at--;
      }
      if (!this.is(at - 1, '.')) return Math.max(0, at);
      at -= 2;
    }
  }

  /** The last piece of the value that begins at one: a name with properties, a call, a literal, something in brackets. */
  protected valueEnd(i: number): number {
    let at = i;
    if (this.is(at, '-')) at++;
    if (/^[([{]$/.test(this.pieces[at]?.image ?? '')) at = this.close(at) ?? at;
    for (;;) {
      if (this.is(at + 1, '.') && this.pieces[at + 2]?.isWord) at += 2;
      else if (this.is(at + 1, '(') && this.pieces[at]?.isWord) at = this.close(at + 1) ?? at + 1;
      else return Math.min(at, this.pieces.length - 1);
    }
  }

  protected slice(from: number, to: number): string {
    const [first, last] = [this.pieces[from], this.pieces[to]];
    return first && last && to >= from ? this.text.slice(first.start, last.end) : '';
  }

  /** The text of pieces, or a stand-in for a long one. */
  protected short(from: number, to: number): string {
    const text = this.slice(from, to).replace(/\s+/g, ' ');
    return text === '' || text.length > 60 ? '…' : text;
  }
}
