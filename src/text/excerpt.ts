import type { Source } from './source.ts';

/** Characters of the line that an excerpt shows before and after the place. */
const REACH = 50;

/**
 * The line that a span starts in, and carets below the part of the span that lies on that line (one at least):
 *
 * ```
 * MATCH (a:Sensr) RETURN a
 *          ^^^^^
 * ```
 *
 * Long lines are cut around the place, with `…` where they were cut. Tabs and wide characters stay as they are, so
 * the caret line repeats the tabs of the line above.
 */
export function excerpt(source: Source, start: number, end: number): string {
  const line = source.line(start);
  const from = Math.min(Math.max(0, start - line.start), line.text.length);
  const to = Math.max(from, Math.min(end - line.start, line.text.length));
  const head = lastCharacters(line.text.slice(0, from));
  const marked = firstCharacters(line.text.slice(from, to), REACH);
  const tail = firstCharacters(line.text.slice(to), REACH);
  const cutMark = to - from > marked.length ? '…' : '';
  const text = head + marked + (cutMark || tail + (line.text.length - to > tail.length ? '…' : ''));
  const carets = '^'.repeat(Math.max(1, [...marked].length));
  return `${printable(text)}\n${[...head].map((c) => (c === '\t' ? '\t' : ' ')).join('')}${carets}`;
}

function lastCharacters(text: string): string {
  const characters = [...text.slice(-2 * REACH)];
  if (text.length <= REACH) return text;
  return `…${characters.slice(-REACH).join('')}`;
}

function firstCharacters(text: string, count: number): string {
  return text.length <= count ? text : [...text.slice(0, 2 * count)].slice(0, count).join('');
}

/** Control characters other than tab would move the carets or the terminal's cursor. */
function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is replaced
  return text.replace(/[\u0000-\u0008\u000a-\u001f\u007f-\u009f\u2028\u2029]/g, '\uFFFD');
}
