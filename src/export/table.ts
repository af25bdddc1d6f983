import { columnsOf, type Row } from './rows.ts';

/** Rows as aligned text columns with a heading; numbers to the right. */
export function toTable(rows: readonly Row[]): string {
  const columns = columnsOf(rows);
  if (rows.length === 0 || columns.length === 0) return '(no rows)\n';
  const grid = [columns, ...rows.map((row) => columns.map((column) => onOneLine(row[column] ?? '')))];
  const widths = columns.map((_, i) => Math.max(...grid.map((line) => widthOf(line[i]))));
  const numeric = columns.map((column) => rows.every((row) => /^-?[\d.]*$/u.test(row[column] ?? '')));
  const lines = grid.map((line) =>
    line
      .map((cell, i) => {
        const gap = ' '.repeat(widths[i] - widthOf(cell));
        return numeric[i] ? gap + cell : cell + gap;
      })
      .join('  ')
      .trimEnd(),
  );
  lines.splice(1, 0, widths.map((width) => '-'.repeat(width)).join('  '));
  return `${lines.join('\n')}\n`;
}

/** Line breaks become blanks; other control characters could steer a terminal and show as "?". */
export function onOneLine(text: string): string {
  return text.replaceAll(/\r?\n|\t/gu, ' ').replaceAll(/\p{Cc}/gu, '?');
}

/** Characters as a terminal counts them, near enough: one a code point. */
function widthOf(text: string): number {
  return [...text].length;
}
