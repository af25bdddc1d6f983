import { describe, expect, test } from 'vitest';
import { excerpt } from '../../src/text/excerpt.ts';
import { Source } from '../../src/text/source.ts';

describe('line and column', () => {
  test('count from 1, with all three line ends', () => {
    const source = new Source('ab\ncd\r\nef\rg');
    expect([0, 1, 3, 7, 10].map((offset) => source.position(offset))).toEqual([
      { line: 1, column: 1 },
      { line: 1, column: 2 },
      { line: 2, column: 1 },
      { line: 3, column: 1 },
      { line: 4, column: 1 },
    ]);
    expect(source.lineCount).toBe(4);
  });

  test('columns are characters, not UTF-16 units', () => {
    expect(new Source('a😀b').position(3)).toEqual({ line: 1, column: 3 });
  });

  test('offsets outside the text are its ends', () => {
    const source = new Source('ab');
    expect(source.position(-5)).toEqual({ line: 1, column: 1 });
    expect(source.position(99)).toEqual({ line: 1, column: 3 });
  });
});

describe('excerpt', () => {
  const of = (text: string, start: number, end: number): string => excerpt(new Source(text), start, end);

  test('shows the line with carets below the place', () => {
    expect(of('one\ntwo three\nfour', 8, 13)).toBe('two three\n    ^^^^^');
  });

  test('shows at least one caret, also behind the last character', () => {
    expect(of('abc', 3, 3)).toBe('abc\n   ^');
    expect(of('', 0, 0)).toBe('\n^');
  });

  test('marks the part of a long range that is on its first line', () => {
    expect(of('ab cd\nef', 3, 8)).toBe('ab cd\n   ^^');
  });

  test('repeats tabs below tabs, so that the caret is where the eye expects it', () => {
    expect(of('\ta\tb', 3, 4)).toBe('\ta\tb\n\t \t^');
  });

  test('cuts long lines around the place', () => {
    const [line, carets] = of(`${'x'.repeat(500)}HERE${'y'.repeat(500)}`, 500, 504).split('\n');
    expect(line).toBe(`…${'x'.repeat(50)}HERE${'y'.repeat(50)}…`);
    expect(carets).toBe(`${' '.repeat(51)}^^^^`);
  });

  test('does not let control characters through', () => {
    expect(of('a\u001b[31mb', 0, 1)).toBe('a\uFFFD[31mb\n^');
  });
});
