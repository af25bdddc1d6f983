/**
 * What a query means, without any speed: every binding is tried, straight from the syntax tree, along the words of
 * ISO/IEC 39075:2024 (from memory; subclauses are named in the files beside this one). For tests on graphs of a dozen
 * nodes.
 */
import { accumulatorFor } from '../../../src/gql/expression/aggregate.ts';
import { compareValues, valueKey } from '../../../src/gql/expression/compare.ts';
import type { FunctionTable } from '../../../src/gql/expression/functions/define.ts';
import { STANDARD_FUNCTIONS } from '../../../src/gql/expression/functions/standard.ts';
import { groupVariablesOf } from '../../../src/gql/expression/group-variables.ts';
import { isElement, type Value, valueOfProperty } from '../../../src/gql/expression/value.ts';
import type {
  Aggregate,
  Clause,
  Expression,
  Query,
  ReturnItem,
  SortKey,
  Syntax,
  TableClause,
} from '../../../src/gql/language/ast.ts';
import { children } from '../../../src/gql/language/children.ts';
import { type Environment, evaluate } from '../expression/evaluate.ts';
import { type ClauseSetting, columnOf, declared, environment, type Running, runClauses } from './clauses.ts';
import { Elements, type OracleGraph } from './graph.ts';
import type { Row } from './paths.ts';

export interface OracleOptions {
  /** Every node pattern of a query stands for a node of its own. @default false */
  readonly distinctNodes?: boolean;
  readonly functions?: FunctionTable;
  /** Milliseconds since 1970-01-01T00:00Z. @default 0 */
  readonly now?: number;
}

export interface OracleAnswer {
  readonly columns: readonly string[];
  /** Nodes and edges are `{ kind, key }` with the id as key. */
  readonly rows: readonly (readonly Value[])[];
}

/** All rows of a checked query on a small graph. Their order means something only where the query has ORDER BY. */
export function evaluateNaively(
  query: Query,
  graph: OracleGraph,
  parameters: Readonly<Record<string, unknown>> = {},
  options: OracleOptions = {},
): OracleAnswer {
  const setting: ClauseSetting = {
    elements: new Elements(graph),
    distinctNodes: options.distinctNodes ?? false,
    // 20.6 <value query expression>; several rows are an error of data, and so null.
    answer: (inner, row) => {
      const { rows } = tableOf(inner, [{ row, seen: [] }], setting);
      return rows.length === 1 ? rows[0]![0]! : null;
    },
    base: {
      functions: options.functions ?? STANDARD_FUNCTIONS,
      now: options.now ?? 0,
      parameter: (name) => valueOfProperty(parameters[name]),
    },
  };
  return tableOf(query, [{ row: new Map(), seen: [] }], setting);
}

/** The rows of a linear query that goes on from a working table. */
function tableOf(query: Query, start: readonly Running[], setting: ClauseSetting): OracleAnswer {
  const rows = working(query.clauses, start, setting).map(({ row }) => row);
  const items = itemsOf(query);
  const columns = items.map(columnOf);
  const projected = project(query, items, rows, setting);
  const distinct = query.result.distinct ? withoutTwins(projected) : projected;
  const sorted = paged(sort(distinct, query.orderBy), query, setting);
  return { columns, rows: sorted.map(({ cells }) => cells) };
}

/** The working table after clauses (14.3 <linear query statement>). */
function working(
  clauses: readonly Clause[],
  start: readonly Running[],
  setting: ClauseSetting,
): readonly Running[] {
  return clauses.reduce<readonly Running[]>((rows, clause) => {
    if (clause.kind === 'table') return composite(clause, rows, setting);
    if (clause.kind !== 'page') return rows.flatMap((row) => runClauses([clause], row, setting));
    const keyed = rows.map((running) => {
      const at = environment(running.row, setting);
      return { running, keys: clause.orderBy.map(({ value }) => evaluate(value, at)) };
    });
    return paged(sort(keyed, clause.orderBy), clause, setting).map(({ running }) => running);
  }, start);
}

/** 14.2 <composite query expression>: multisets of rows, combined from left to right; all go on from the same rows. */
function composite(
  { input, parts }: TableClause,
  start: readonly Running[],
  setting: ClauseSetting,
): Running[] {
  const given = input ? composite(input, start, setting) : start;
  const tables = parts.map(({ query }) => tableOf(query, given, setting));
  const { columns } = tables[0]!;
  const aligned: (readonly (readonly Value[])[])[] = tables.map((table) =>
    table.rows.map((row) => columns.map((name) => row[table.columns.indexOf(name)]!)),
  );
  const key = (row: readonly Value[]) => row.map(valueKey).join(' ');
  const without = (rows: readonly (readonly Value[])[]) => [
    ...new Map(rows.map((row) => [key(row), row])).values(),
  ];
  const all = aligned.reduce((left, right, i) => {
    const times = (row: readonly Value[]) => right.filter((other) => key(other) === key(row)).length;
    const before = (row: readonly Value[], at: number) =>
      left.slice(0, at).filter((other) => key(other) === key(row)).length;
    switch (parts[i]!.conjunction) {
      case undefined:
        return right;
      case 'OTHERWISE':
        return left.length > 0 ? left : right;
      case 'UNION ALL':
        return left.concat(right);
      case 'UNION':
        return without(left.concat(right));
      case 'EXCEPT':
        return without(left).filter((row) => times(row) === 0);
      case 'INTERSECT':
        return without(left).filter((row) => times(row) > 0);
      // The first so many of equal rows are taken away, or left.
      case 'EXCEPT ALL':
        return left.filter((row, at) => before(row, at) >= times(row));
      default:
        return left.filter((row, at) => before(row, at) < times(row));
    }
  }, aligned[0]!);
  return all.map((cells) => ({
    row: new Map(columns.map((name, at) => [name, { value: cells[at]!, group: false }])),
    // A node that is handed on is still a node of the query.
    seen: columns.flatMap((name, at) => {
      const value = cells[at] ?? null;
      return isElement(value) && value.kind === 'node' ? [{ element: value, names: new Set([name]) }] : [];
    }),
  }));
}

function paged<T>(
  rows: readonly T[],
  { offset, limit }: Pick<Query, 'offset' | 'limit'>,
  setting: ClauseSetting,
): T[] {
  const count = (node: Query['limit']): number | undefined =>
    node && (evaluate(node, environment(new Map(), setting)) as number);
  const from = count(offset) ?? 0;
  return rows.slice(from, from + (count(limit) ?? Number.POSITIVE_INFINITY));
}

interface Projected {
  readonly cells: readonly Value[];
  /** Values of the sort keys. */
  readonly keys: readonly Value[];
}

/** RETURN * stands for all variables in the order of their declaration. */
function itemsOf({ result, clauses }: Query): readonly ReturnItem[] {
  if (result.items) return result.items;
  return [...declared(clauses).keys()].map((name) => {
    const { span } = result;
    return { kind: 'return-item', value: { kind: 'variable', name, span }, alias: undefined, span };
  });
}

/** 14.11 <return statement>: one row for every row, or one for every group. */
function project(
  query: Query,
  items: readonly ReturnItem[],
  rows: readonly Row[],
  setting: ClauseSetting,
): Projected[] {
  const groups = new Set([...declared(query.clauses)].filter(([, group]) => group).map(([name]) => name));
  const vertical = (node: Syntax): boolean => rowAggregates(node, groups).length > 0;
  const grouped = query.result.groupBy !== undefined || items.some(({ value }) => vertical(value));
  const line = (own: readonly Row[], row: Row): Projected => {
    const at: Environment = {
      ...environment(row, setting),
      aggregate: (node) => overRows(node, own, setting),
    };
    const cells = items.map(({ value }) => evaluate(value, at));
    const withAliases = new Map(row);
    items.forEach((item, i) => {
      if (item.alias) withAliases.set(item.alias.text, { value: cells[i]!, group: false });
    });
    const after = environment(withAliases, setting);
    const keys = query.orderBy.map(({ value }) =>
      evaluate(value, { ...after, aggregate: (node) => overRows(node, own, setting) }),
    );
    return { cells, keys };
  };
  if (!grouped) return rows.map((row) => line([row], row));
  const keys = groupingKeys(query, items, vertical);
  const byKey = new Map<string, Row[]>();
  // Without grouping keys there is one group, of all rows, even when there are none.
  if (keys.length === 0) byKey.set('', []);
  for (const row of rows) {
    const at = environment(row, setting);
    const key = keys.map((expression) => valueKey(evaluate(expression, at))).join(' ');
    byKey.set(key, [...(byKey.get(key) ?? []), row]);
  }
  return [...byKey.values()].map((own) => line(own, own[0] ?? new Map()));
}

/** The keys of GROUP BY, by name of a return item or of a variable; without it, the items that do not aggregate. */
function groupingKeys(
  { result }: Query,
  items: readonly ReturnItem[],
  vertical: (node: Syntax) => boolean,
): readonly Expression[] {
  if (!result.groupBy) return items.map(({ value }) => value).filter((value) => !vertical(value));
  return result.groupBy.map((key) => items.find(({ alias }) => alias?.text === key.name)?.value ?? key);
}

/** Aggregates that run over rows, not along a group variable. Bodies of EXISTS have none. */
function rowAggregates(node: Syntax, groups: ReadonlySet<string>): Aggregate[] {
  if (node.kind === 'exists') return [];
  if (node.kind === 'aggregate' && groupVariablesOf(node, (name) => groups.has(name)).length === 0)
    return [node];
  return children(node).flatMap((child) => rowAggregates(child, groups));
}

function overRows(node: Aggregate, rows: readonly Row[], setting: ClauseSetting): Value {
  const fraction = node.fraction ? evaluate(node.fraction, environment(rows[0] ?? new Map(), setting)) : null;
  const accumulator = accumulatorFor(node, fraction);
  for (const row of rows) {
    accumulator.add(node.argument ? evaluate(node.argument, environment(row, setting)) : null);
  }
  return accumulator.result();
}

function withoutTwins(rows: readonly Projected[]): Projected[] {
  const byKey = new Map<string, Projected>();
  for (const row of rows) {
    const key = row.cells.map(valueKey).join(' ');
    if (!byKey.has(key)) byKey.set(key, row);
  }
  return [...byKey.values()];
}

/** 14.9, 16.17 <sort specification list>. Where the text does not say, null is greater than everything. */
function sort<T extends { readonly keys: readonly Value[] }>(
  rows: readonly T[],
  keys: readonly SortKey[],
): readonly T[] {
  return [...rows].sort((a, b) => {
    for (const [i, { descending, nulls }] of keys.entries()) {
      const [x, y] = [a.keys[i]!, b.keys[i]!];
      const nullsFirst = nulls === undefined ? descending : nulls === 'FIRST';
      if (x === null && y === null) continue;
      if (x === null || y === null) return (x === null) === nullsFirst ? -1 : 1;
      const order = compareValues(x, y) * (descending ? -1 : 1);
      if (order !== 0) return order;
    }
    return 0;
  });
}
