/**
 * RETURN by brute force: columns, groups, distinct rows; and whether rows that a query answered are those that the
 * order and the limit allow.
 */
import {
  aggregate,
  elementId,
  isElement,
  propertyOf,
  type Row,
  termValue,
  type Value,
  valueOrder,
} from './conditions.ts';
import type { Item, Query, Result, SortKey } from './query.ts';

/** Columns ask no subqueries. */
const none = (): never => {
  throw new Error('a subquery in RETURN');
};

/** A row of the answer, as text, with its values to sort by. */
interface AnswerRow {
  readonly text: string;
  readonly keys: readonly Value[];
}

/** All rows of an answer before OFFSET and LIMIT, sorted. */
export function answerOf({ distinct, items, order }: Result, rows: readonly Row[]): readonly AnswerRow[] {
  const grouped = items.some(({ item }) => item !== 'term');
  const groups = grouped ? groupsOf(items, rows) : rows.map((row) => [row]);
  const answer = new Map<string, AnswerRow>();
  for (const [at, group] of groups.entries()) {
    const values = items.map((item) => itemOf(item, group));
    const text = values.map((value) => valueText(value)).join(' | ');
    const keys = order.map(({ by }) => {
      if (typeof by === 'string') return values[items.findIndex((item) => columnOf(item) === by)] as Value;
      const of = group[0]?.get(by.of) ?? null;
      return isElement(of) ? propertyOf(of, by.key) : null;
    });
    answer.set(distinct ? text : String(at), { text, keys });
  }
  return [...answer.values()].toSorted((left, right) => inOrder(order, left, right));
}

/** Name of a column of a query that names its columns. */
export function columnOf(item: Item): string | undefined {
  return item.alias ?? (item.item === 'term' && item.of.term === 'variable' ? item.of.name : undefined);
}

function groupsOf(items: readonly Item[], rows: readonly Row[]): readonly (readonly Row[])[] {
  const keys = items.filter(({ item }) => item === 'term');
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

function inOrder(order: readonly SortKey[], left: AnswerRow, right: AnswerRow): number {
  for (const [at, { descending, nulls }] of order.entries()) {
    const [one, other] = [left.keys[at] as Value, right.keys[at] as Value];
    if ((one === null) !== (other === null) && nulls !== undefined)
      return (one === null) === (nulls === 'FIRST') ? -1 : 1;
    const by = valueOrder(one, other) * (descending ? -1 : 1);
    if (by !== 0) return by;
  }
  return 0;
}

/** A value as text, the same for values that are not distinct. */
export function valueText(value: Value): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'number') return String(Number(value.toPrecision(9)));
  if (typeof value === 'string') return JSON.stringify(value);
  if (value.kind === 'list') return `[${value.of.map(valueText).join(', ')}]`;
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
    while (next < all.length && inOrder(order, first, all[next] as AnswerRow) === 0) next++;
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
