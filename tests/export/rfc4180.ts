/**
 * Reads CSV by the grammar of RFC 4180, section 2, one character after the other, and nothing that it does not allow.
 * @throws Error with the place of what is not in the grammar
 */
export function parseCsv(text: string): {
  readonly heading: readonly string[];
  readonly rows: readonly Readonly<Record<string, string>>[];
} {
  const records: string[][] = [[]];
  let at = 0;
  const fail = (what: string) => new Error(`${what} at ${at}: ${JSON.stringify(text.slice(at, at + 30))}`);
  while (at < text.length) {
    let cell = '';
    if (text[at] === '"') {
      at++;
      for (;;) {
        if (at >= text.length) throw fail('a quoted cell has no end');
        if (text[at] !== '"') cell += text[at++];
        else if (text[at + 1] === '"') {
          cell += '"';
          at += 2;
        } else break;
      }
      at++;
    } else
      while (at < text.length && text[at] !== ',' && text[at] !== '\r') {
        if (text[at] === '"' || text[at] === '\n')
          throw fail('a cell without quotation marks has one, or a line feed');
        cell += text[at++];
      }
    records.at(-1)?.push(cell);
    if (text[at] === ',') {
      at++;
      if (text[at] === '\r' || at === text.length) records.at(-1)?.push('');
    } else if (text.startsWith('\r\n', at)) {
      // Fall through to the end of the record.
    } else if (at < text.length) throw fail('a cell is not followed by a comma or a line break');
    if (text.startsWith('\r\n', at)) {
      at += 2;
      if (at < text.length) records.push([]);
    }
  }
  const [heading = [], ...lines] = records;
  return {
    heading,
    rows: lines.map((cells, i) => {
      if (cells.length !== heading.length)
        throw new Error(`Record ${i + 2} has ${cells.length} cells, the heading ${heading.length}`);
      return Object.fromEntries(heading.map((name, column) => [name, cells[column] as string]));
    }),
  };
}
