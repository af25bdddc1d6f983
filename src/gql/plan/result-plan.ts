/**
 * RETURN, GROUP BY, ORDER BY, OFFSET and LIMIT as a plan for the result sink.
 */
import { holdsShadow } from '../check/grouped.ts';
import { groupVariablesOf } from '../expression/group-variables.ts';
import type { Aggregate, Expression, NumberLiteral, Parameter, Query, SortKey } from '../language/ast.ts';
import type { Compiled, Expressions } from './compiled.ts';
import { columnNames, type Item, itemsOf } from './free-names.ts';
import type { AggregateColumn, Evaluate, ResultPlan, SortColumn } from './projection.ts';
import type { Scope } from './scope.ts';

/** What planning a result needs of its query. */
export type ResultSetting = Pick<Compiled, 'scope' | 'slots' | 'settings' | 'compile'>;

export function resultPlan(query: Query, compiled: ResultSetting, expressions: Expressions): ResultPlan {
  const { scope, slots } = compiled;
  const aggregates: AggregateColumn[] = [];
  const inside = scope.inner();
  // Aggregates over rows are computed by the sink; the expression around them reads them like variables.
  const withoutAggregates = (expression: Expression): Expression =>
    replaceAggregates(expression, inside, (node) => {
      const slot = slots.take();
      const name = `\u0001${slot}`;
      inside.set(name, { kind: 'value', slot });
      aggregates.push({
        slot,
        argument: node.argument && compiled.compile(node.argument, scope),
        make: expressions.accumulator(node, scope),
      });
      return { kind: 'variable', name, span: node.span };
    });

  const items = itemsOf(query);
  const values = items.map(({ value }) => withoutAggregates(value));
  const evaluated = values.map((value) => compiled.compile(value, inside));
  const aliasSlots = items.map(({ alias, value }) => {
    const name = alias?.text;
    if (name === undefined) return -1;
    // Another name of a variable stays an element, to which a pattern in a sort key can refer.
    const same = value.kind === 'variable' && scope.find(value.name);
    if (same) {
      inside.set(name, same);
      return -1;
    }
    const slot = slots.take();
    inside.set(name, { kind: 'value', slot });
    return slot;
  });
  const { distinct, groupBy } = query.result;
  const sortKeys = query.orderBy.map(
    ({ value, descending, nulls }): SortColumn => ({
      // A sort key that is a return item, word for word, is its value, unless a column took the name of its variable.
      value: sortValue(value, items, evaluated) ?? compiled.compile(withoutAggregates(value), inside),
      ...directionOf(descending, nulls),
    }),
  );
  let keys: Evaluate[] | undefined;
  if (groupBy)
    keys = groupBy.map(({ name }) => {
      const item = items.findIndex(({ alias }) => alias?.text === name);
      return item >= 0
        ? evaluated[item]!
        : compiled.compile({ kind: 'variable', name, span: query.result.span }, scope);
    });
  else if (aggregates.length > 0) keys = evaluated.filter((_, i) => values[i] === items[i]!.value);
  return {
    columns: columnNames(query),
    items: evaluated,
    aliasSlots,
    groupBy: keys,
    aggregates,
    distinct,
    orderBy: sortKeys,
    offset: countOf(query.offset, compiled) ?? 0,
    limit: countOf(query.limit, compiled) ?? Number.POSITIVE_INFINITY,
    keyOf: expressions.keyOf,
    compare: expressions.compare,
  };
}

/** When the text does not say, nulls sort as the largest values. */
export function directionOf(
  descending: boolean,
  nulls: SortKey['nulls'],
): Pick<SortColumn, 'descending' | 'nullsFirst'> {
  return { descending, nullsFirst: nulls === undefined ? descending : nulls === 'FIRST' };
}

function sortValue(
  value: Expression,
  items: readonly Item[],
  evaluated: readonly Evaluate[],
): Evaluate | undefined {
  if (holdsShadow(value, items)) return undefined;
  const text = withoutSpans(value);
  const at = items.findIndex((item) => withoutSpans(item.value) === text);
  return at >= 0 ? evaluated[at] : undefined;
}

function withoutSpans(expression: Expression): string {
  return JSON.stringify(expression, (field, value: unknown) => (field.endsWith('pan') ? undefined : value));
}

/** The number of OFFSET or LIMIT. */
export function countOf(
  node: NumberLiteral | Parameter | undefined,
  { settings }: Pick<Compiled, 'settings'>,
): number | undefined {
  if (!node) return undefined;
  return node.kind === 'number' ? node.value : Number(settings.parameters[node.name]);
}

/** Copies an expression with its aggregates over rows replaced; the same object when it has none. */
function replaceAggregates(
  expression: Expression,
  scope: Scope,
  replace: (node: Aggregate) => Expression,
): Expression {
  const visit = (node: unknown): unknown => {
    if (Array.isArray(node)) {
      const copy = node.map(visit);
      return copy.some((item, i) => item !== node[i]) ? copy : node;
    }
    if (typeof node !== 'object' || node === null) return node;
    if ((node as Expression).kind === 'aggregate' && isOverRows(node as Aggregate, scope))
      return replace(node as Aggregate);
    const { kind } = node as Expression;
    if (kind === 'exists' || kind === 'value-query') return node;
    let changed = false;
    const copy: Record<string, unknown> = {};
    for (const [field, child] of Object.entries(node)) {
      copy[field] = visit(child);
      if (copy[field] !== child) changed = true;
    }
    return changed ? copy : node;
  };
  return visit(expression) as Expression;
}

/** An aggregate whose argument refers to a group variable goes over that list, any other over the rows. */
function isOverRows(node: Aggregate, scope: Scope): boolean {
  return groupVariablesOf(node, (name) => scope.find(name)?.kind === 'group').length === 0;
}
