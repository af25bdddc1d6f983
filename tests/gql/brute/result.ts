/**
 * RETURN by brute force: columns, groups, distinct rows; and whether rows that a query answered are those that the
 * order and the limit allow.
 */
import { aggregate, elementId, inOrder, type Row, sortValue, termValue, type Value } from './conditions.ts';
import type { Matcher } from './matcher.ts';
import type { Conjunction, Item, Linear, Query, Statement } from './query.ts';

/** Columns ask no subqueries. */
const none = (): never => {
  throw new Error('a subquery in RETURN');
};

/** A row of the answer: its values, the same as text, and what it is sorted by. */
interface AnswerRow {
  readonly values: readonly Value[];
  readonly text: string;
  readonly keys: readonly Value[];
}

/**
 * All rows of an answer, sorted, before OFFSET and LIMIT of the last RETURN. Elsewhere than there they are not drawn.
 */
export function answerOf(query: Query, matcher: Matcher): readonly AnswerRow[] {
  let rows: readonly Row[] = [new Map()];
  for (const statement of query.before) {
    const columns = statement.result.items.map(columnOf);
    rows = statementRows(statement, rows, matcher).map(
      ({ values }) => new Map(columns.map((name, at) => [name, values[at] as Value])),
    );
  }
  return statementRows(query, rows, matcher);
}

function statementRows(statement: Statement, before: readonly Row[], matcher: Matcher): readonly AnswerRow[] {
  const columns = statement.result.items.map(columnOf);
  let rows = linearRows(statement, before, matcher);
  for (const { by, part } of statement.others) {
    const places = columns.map((name) => part.result.items.findIndex((item) => columnOf(item) === name));
    const others = linearRows(part, before, matcher).map((row) => {
      const values = places.map((at) => row.values[at] as Value);
      return { values, text: textOfRow(values), keys: [] };
    });
    rows = joined(rows, by, others);
  }
  return rows;
}

function joined(
  left: readonly AnswerRow[],
  by: Conjunction,
  right: readonly AnswerRow[],
): readonly AnswerRow[] {
  const once = (rows: readonly AnswerRow[]): AnswerRow[] => [
    ...new Map(rows.map((row) => [row.text, row])).values(),
  ];
  const left1 = once(left);
  const inRight = new Set(right.map(({ text }) => text));
  // For ALL: of equal rows on the left, the first so many as the right has.
  const counts = new Map<string, number>();
  for (const { text } of right) counts.set(text, (counts.get(text) ?? 0) + 1);
  const taken = left.map(({ text }) => {
    const rest = counts.get(text) ?? 0;
    counts.set(text, rest - 1);
    return rest > 0;
  });
  switch (by) {
    case 'UNION ALL':
      return [...left, ...right];
    case 'UNION':
    case 'UNION DISTINCT':
      return once([...left, ...right]);
    case 'EXCEPT ALL':
      return left.filter((_, at) => !taken[at]);
    case 'EXCEPT':
    case 'EXCEPT DISTINCT':
      return left1.filter(({ text }) => !inRight.has(text));
    case 'INTERSECT ALL':
      return left.filter((_, at) => taken[at]);
    case 'INTERSECT':
    case 'INTERSECT DISTINCT':
      return left1.filter(({ text }) => inRight.has(text));
    case 'OTHERWISE':
      return left.length > 0 ? left : right;
  }
}

function linearRows(
  { clauses, result }: Linear,
  before: readonly Row[],
  matcher: Matcher,
): readonly AnswerRow[] {
  const { distinct, items, order, groupBy } = result;
  const rows = matcher.rowsOf(clauses, before);
  const grouped = groupBy !== undefined || items.some(({ item }) => item !== 'term');
  const groups = grouped ? groupsOf(items, rows, groupBy) : rows.map((row) => [row]);
  const answer = new Map<string, AnswerRow>();
  for (const [at, group] of groups.entries()) {
    const values = items.map((item) => itemOf(item, group));
    const text = textOfRow(values);
    const columns = new Map(items.map((item, column) => [columnOf(item), values[column] as Value]));
    const keys = order.map(({ by }) => sortValue(by, new Map([...(group[0] ?? []), ...columns])));
    answer.set(distinct ? text : String(at), { values, text, keys });
  }
  return [...answer.values()].toSorted((left, right) => inOrder(order, left.keys, right.keys));
}

function textOfRow(values: readonly Value[]): string {
  return values.map((value) => valueText(value)).join(' | ');
}

/** Name of a column of a query that names its columns. */
export function columnOf(item: Item): string {
  if (item.alias !== undefined) return item.alias;
  if (item.item === 'term' && item.of.term === 'variable') return item.of.name;
  throw new Error('a column without a name');
}

function groupsOf(
  items: readonly Item[],
  rows: readonly Row[],
  groupBy: readonly string[] | undefined,
): readonly (readonly Row[])[] {
  const keys =
    groupBy?.map(
      (name): Item =>
        items.find((item) => columnOf(item) === name) ?? { item: 'term', of: { term: 'variable', name } },
    ) ?? items.filter(({ item }) => item === 'term');
  if (keys.length === 0) return [rows];
  const groups = Map.groupBy(rows, (row) => keys.map((item) => valueText(itemOf(item, [row]))).join(' | '));
  return [...groups.values()];
}

function itemOf(item: Item, group: readonly Row[]): Value {
  if (item.item === 'count') return group.length;
  if (item.item === 'term') return termValue(item.of, group[0] as Row, none);
  const values = group.map((row) => termValue(item.of, row, none)).filter((value) => value !== null);
  const once = item.distinct
    ? [...new Map(values.map((value) => [valueText(value), value])).values()]
    : values;
  const value = aggregate(item.fn, once);
  if (item.fn !== 'COLLECT_LIST' || typeof value !== 'object' || value?.kind !== 'list') return value;
  // Rows have no order, so a list of what they have has none either.
  return {
    kind: 'list',
    of: value.of.toSorted((left, right) => (valueText(left) < valueText(right) ? -1 : 1)),
  };
}

/** A record as text, its fields by name. */
export function recordText(fields: readonly (readonly [name: string, text: string])[]): string {
  const texts = fields.map(([name, text]) => `${name}: ${text}`);
  return `{${texts.toSorted().join(', ')}}`;
}

/** A value as text, the same for values that are not distinct. */
export function valueText(value: Value): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'number') return String(Number(value.toPrecision(9)));
  if (typeof value === 'string') return JSON.stringify(value);
  if (value.kind === 'list') return `[${value.of.map(valueText).join(', ')}]`;
  if (value.kind === 'record')
    return recordText([...value.fields].map(([name, field]) => [name, valueText(field)]));
  if (value.kind === 'path')
    return `<${value.nodes.flatMap(({ id }, at) => [id, ...(value.edges[at] === undefined ? [] : [value.edges[at].id])]).join(' ')}>`;
  return elementId(value);
}

/**
 * Whether rows are an answer to a query: as many as there should be, in an order that is allowed, out of each set of
 * equal sort keys any where only some are wanted.
 * @param all what {@link answerOf} gives
 * @returns what is wrong, or undefined
 */
export function wrongWith(
  { result }: Query,
  all: readonly AnswerRow[],
  answered: readonly string[],
): string | undefined {
  const { order, offset = 0, limit = Number.POSITIVE_INFINITY } = result;
  const end = Math.min(all.length, offset + limit);
  const wanted = Math.max(0, end - offset);
  if (answered.length !== wanted) return `${answered.length} rows instead of ${wanted}`;
  let at = 0;
  while (at < all.length) {
    const first = all[at] as AnswerRow;
    let next = at + 1;
    while (next < all.length && inOrder(order, first.keys, (all[next] as AnswerRow).keys) === 0) next++;
    const tied = new Map<string, number>();
    for (const { text } of all.slice(at, next)) tied.set(text, (tied.get(text) ?? 0) + 1);
    const these = answered.slice(Math.max(0, at - offset), Math.max(0, Math.min(next, end) - offset));
    for (const row of these) {
      const left = tied.get(row) ?? 0;
      if (left === 0) return `a row that is not there, or not there so often: ${row}`;
      tied.set(row, left - 1);
    }
    at = next;
  }
  return undefined;
}
