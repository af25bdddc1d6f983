/** One row of a table: column name to plain value. */
export type Row = Readonly<Record<string, string>>;

/**
 * The rows of an answer: the first list found in it gives one row an item (a Relay connection counts as the list of
 * its nodes), and nested groups become columns such as `maker.name`. Lists inside an item are joined by "; ".
 * An answer without a list is a single row.
 */
export function rowsOf(answer: unknown): readonly Row[] {
  const list = firstList(answer);
  return (list ?? [answer]).map((item) => Object.fromEntries(cells(item, '')));
}

/** Column names in the order in which they first appear. */
export function columnsOf(rows: readonly Row[]): readonly string[] {
  return [...new Set(rows.flatMap((row) => Object.keys(row)))];
}

function firstList(value: unknown): readonly unknown[] | undefined {
  if (Array.isArray(value)) return value;
  if (typeof value !== 'object' || value === null) return undefined;
  const { edges, nodes } = value as { edges?: unknown; nodes?: unknown };
  if (Array.isArray(nodes)) return nodes;
  if (Array.isArray(edges)) return edges.map((edge) => (edge as { node?: unknown }).node ?? edge);
  for (const member of Object.values(value)) {
    const list = firstList(member);
    if (list) return list;
  }
  return undefined;
}

function cells(value: unknown, name: string): [string, string][] {
  if (value === null || value === undefined) return [[name || 'value', '']];
  if (typeof value !== 'object') return [[name || 'value', String(value)]];
  const list = firstListHere(value);
  if (list) return [[name || 'value', list.map(inOneCell).join('; ')]];
  return Object.entries(value).flatMap(([key, member]) => cells(member, name ? `${name}.${key}` : key));
}

function firstListHere(value: object): readonly unknown[] | undefined {
  if (Array.isArray(value)) return value;
  const { nodes, edges } = value as { nodes?: unknown; edges?: unknown };
  return Array.isArray(nodes) || Array.isArray(edges) ? firstList(value) : undefined;
}

function inOneCell(item: unknown): string {
  if (typeof item !== 'object' || item === null) return String(item ?? '');
  return cells(item, '')
    .map(([, text]) => text)
    .filter((text) => text !== '')
    .join(' ');
}
