import widthOf from 'string-width';

/** A column is never made narrower than this, in characters of a terminal. */
const MIN_WIDTH = 16;

/** Blanks between two columns. */
export const GAP = 2;

/**
 * Widths of columns that fit a terminal, the widest columns of text shrinking first; unchanged where nothing helps.
 * @param minima narrowest width of each column; that of one that must stay is its full width
 */
export function narrowed(
  widths: readonly number[],
  minima: readonly number[],
  terminal: number | undefined,
): readonly number[] {
  if (terminal === undefined) return widths;
  const fitting = [...widths];
  const total = () => fitting.reduce((sum, width) => sum + width + GAP, -GAP);
  for (let over = total() - terminal; over > 0; over--) {
    let widest = -1;
    for (const [i, width] of fitting.entries())
      if (width > Math.max(MIN_WIDTH, minima[i]) && (widest < 0 || width > fitting[widest])) widest = i;
    if (widest < 0) return widths;
    fitting[widest]--;
  }
  return fitting;
}

/** A text on lines of so many characters, broken between words only. */
export function wrapped(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && widthOf(longer) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line];
}
