/** One row of a table: column name to plain value. */
export type Row = Readonly<Record<string, string>>;

export interface Table {
  /** Path of the list in the answer, such as `device.boards`. */
  readonly name: string;
  readonly rows: readonly Row[];
}

/**
 * An answer as tables, one for each top-level field: the first list under the field gives one row an item (a Relay
 * connection counts as the list of its nodes), a field without a list gives a single row. Nested groups become
 * columns such as `maker.name`; lists inside an item are joined by "; ". Top fields that are plain values share one
 * table.
 */
export function tablesOf(answer: unknown): readonly Table[] {
  if (!isGroup(answer)) return [{ name: 'answer', rows: rowsOf(answer, 'answer') }];
  const plain = Object.entries(answer).filter(([, value]) => !isGroup(value) && !Array.isArray(value));
  const rest = Object.entries(answer).filter(([, value]) => isGroup(value) || Array.isArray(value));
  return [
    ...(plain.length > 0 ? [{ name: 'answer', rows: rowsOf(Object.fromEntries(plain), 'answer') }] : []),
    ...rest.map(([name, value]) => {
      const found = firstList(value, name);
      return found ? { name: found.name, rows: found.items.map(toRow) } : { name, rows: rowsOf(value, name) };
    }),
  ];
}

/**
 * Column names in the order in which they first appear. A group that is null in some rows is known by its members'
 * columns alone.
 */
export function columnsOf(rows: readonly Row[]): readonly string[] {
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return names.filter((name) => !names.some((other) => other.startsWith(`${name}.`)));
}

function rowsOf(value: unknown, name: string): readonly Row[] {
  return (firstList(value, name)?.items ?? [value]).map(toRow);
}

function toRow(item: unknown): Row {
  return Object.fromEntries(cells(item, ''));
}

function isGroup(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

interface Found {
  readonly name: string;
  readonly items: readonly unknown[];
}

/** The nearest list inside a value: its own, then that of its members in order. */
function firstList(value: unknown, name: string): Found | undefined {
  const own = itemsOf(value);
  if (own) return { name, items: own };
  if (!isGroup(value)) return undefined;
  for (const [key, member] of Object.entries(value)) {
    const found = firstList(member, `${name}.${key}`);
    if (found) return found;
  }
  return undefined;
}

/** Items of a list or of a Relay connection; an edge's own fields are merged with those of its node. */
function itemsOf(value: unknown): readonly unknown[] | undefined {
  if (Array.isArray(value)) return value;
  if (!isGroup(value)) return undefined;
  if (Array.isArray(value.nodes)) return value.nodes;
  if (!Array.isArray(value.edges)) return undefined;
  return value.edges.map((edge: unknown) => {
    if (!isGroup(edge) || !isGroup(edge.node)) return edge;
    const { node, cursor: _, ...own } = edge;
    return { ...node, ...own };
  });
}

function cells(value: unknown, name: string): [string, string][] {
  if (value === null || value === undefined) return [[name || 'value', '']];
  if (typeof value !== 'object') return [[name || 'value', String(value)]];
  const list = itemsOf(value);
  if (list) return [[name || 'value', list.map(inOneCell).join('; ')]];
  return Object.entries(value).flatMap(([key, member]) => cells(member, name ? `${name}.${key}` : key));
}

function inOneCell(item: unknown): string {
  return cells(item, '')
    .map(([, text]) => text)
    .filter((text) => text !== '')
    .join(' ');
}
