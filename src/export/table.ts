import widthOf from 'string-width';
import { plainText } from '../text/plain-text.ts';
import { GAP, narrowed, wrapped } from './narrow.ts';
import { columnsOf, type Row } from './rows.ts';

/**
 * Rows as aligned text columns with a heading; numbers to the right. Wide and combining characters count as a terminal shows
 * them. Where a terminal is narrower than that, its widest
 * columns of text are wrapped; a file or a pipe gets a line a row.
 */
export function toTable(rows: readonly Row[], terminal: number | undefined = process.stdout.columns): string {
  const columns = columnsOf(rows);
  if (rows.length === 0 || columns.length === 0) return '(no rows)\n';
  const grid = [columns, ...rows.map((row) => columns.map((column) => onOneLine(row[column] ?? '')))];
  const numeric = columns.map((column) => rows.every((row) => /^-?[\d.]*$/u.test(row[column] ?? '')));
  const full = columns.map((_, i) => Math.max(...grid.map((line) => widthOf(line[i]))));
  const words = columns.map((_, i) =>
    Math.max(...grid.flatMap((line) => line[i].split(' ').map((word) => widthOf(word)))),
  );
  const widths = narrowed(
    full,
    words.map((width, i) => (numeric[i] ? full[i] : width)),
    terminal,
  );
  const lines = grid.flatMap((cells) => {
    const broken = cells.map((cell, i) => (widthOf(cell) > widths[i] ? wrapped(cell, widths[i]) : [cell]));
    const height = Math.max(...broken.map(({ length }) => length));
    return Array.from({ length: height }, (_, at) =>
      broken
        .map((parts, i) => {
          const part = parts[at] ?? '';
          const gap = ' '.repeat(widths[i] - widthOf(part));
          return numeric[i] ? gap + part : part + gap;
        })
        .join(' '.repeat(GAP))
        .trimEnd(),
    );
  });
  const heading = Math.max(...columns.map((name, i) => wrapped(name, widths[i]).length));
  lines.splice(heading, 0, widths.map((width) => '-'.repeat(width)).join(' '.repeat(GAP)));
  return `${lines.join('\n')}\n`;
}

/** Line breaks and tabs become blanks; characters that steer a terminal are written out. */
export function onOneLine(text: string): string {
  return plainText(text).replaceAll(/\r?\n|\t/gu, ' ');
}
