import type { Expression, ReturnItem } from '../../language/ast.ts';
import { printExpression } from '../../language/print.ts';
import { rowAggregatesIn } from '../analysis.ts';
import { holdsShadow, looseIn, type Settled, shadowsIn } from '../grouped.ts';
import type { CheckContext, Rule } from '../rule.ts';

/**
 * 14.10 <primitive result statement> and 16.17 <sort specification list>; features GA07, GQ14, GQ16, GF20. After
 * grouping, a sort key refers to columns, grouping keys and aggregates; after DISTINCT, to columns. It does not group
 * by itself. A name that is a column means the column.
 */
export const sortKeys: Rule = {
  sentence:
    'After DISTINCT or grouping, rows are sorted by what has one value in each, and ORDER BY does not group.',
  ofEach: true,
  check(context) {
    const { query, analysis } = context;
    const { items, distinct, groupBy } = query.result;
    const aggregating = (value: Expression): boolean =>
      rowAggregatesIn(value, analysis.siteOf(value)).length > 0;
    const grouped = groupBy !== undefined || !!items?.some(({ value }) => aggregating(value));
    const settled = settledBy(items ?? [], (!distinct && groupBy) || []);
    for (const { value } of query.orderBy) {
      if (settled.texts.has(printExpression(value)) && !holdsShadow(value, items ?? [])) continue;
      aggregatesOf(value, items ?? [], grouped, context);
      for (const { name, span } of shadowsIn(value, items ?? [])) {
        if (!analysis.variables.has(name)) continue;
        const which = `"${name}" is the column of that name here, not the variable of the pattern`;
        const fix = 'name the column differently if you mean the other';
        context.report('sort-key', span, `${which}; ${fix}.`, { severity: 'warning' });
      }
      if (!items || !(distinct || grouped)) continue;
      const counts = (node: Expression): boolean => !holdsShadow(node, items);
      for (const { name, span } of looseIn(value, settled, analysis.siteOf(value), counts)) {
        const why = distinct ? 'Equal rows are merged' : 'Rows are grouped';
        const fix = distinct ? 'add it to RETURN' : 'add it to RETURN or GROUP BY, or put it in an aggregate';
        context.report('sort-key', span, `${why}, so "${name}" has no single value to sort by; ${fix}.`);
      }
    }
  },
};

function settledBy(items: readonly ReturnItem[], groupBy: readonly { readonly name: string }[]): Settled {
  const names = new Set(groupBy.map(({ name }) => name));
  for (const { value, alias } of items) {
    if (alias) names.add(alias.text);
    else if (value.kind === 'variable') names.add(value.name);
  }
  // `RETURN b AS c` settles b as well, unless b is the name of another column.
  for (const { value } of items)
    if (value.kind === 'variable' && !holdsShadow(value, items)) names.add(value.name);
  return { texts: new Set(items.map(({ value }) => printExpression(value))), names };
}

/** Aggregates over rows in a sort key: there must be groups, and their arguments are about the rows of a group. */
function aggregatesOf(
  value: Expression,
  items: readonly ReturnItem[],
  grouped: boolean,
  { query, analysis, report }: CheckContext,
): void {
  const columns = new Set(items.map((item) => printExpression(item.value)));
  for (const node of rowAggregatesIn(value, analysis.siteOf(value))) {
    const text = printExpression(node);
    if (!grouped) {
      const fix = query.result.distinct
        ? `return ${text} as a column`
        : `return ${text} as a column, or write GROUP BY before ORDER BY`;
      report('sort-key', node.span, `RETURN groups no rows that ${text} could run over; ${fix}.`);
      continue;
    }
    for (const { name, span } of shadowsIn(node, items)) {
      const fix = analysis.variables.has(name)
        ? 'which is a variable as well; give the column another name with AS'
        : 'and an aggregate runs over the rows before RETURN; write what the column is made of, or use the column by itself';
      report('sort-key', span, `"${name}" is a column in ORDER BY, ${fix}.`);
    }
    if (query.result.distinct && !columns.has(text))
      report('sort-key', node.span, `Equal rows are merged, so ${text} is no column to sort by; return it.`);
  }
}
