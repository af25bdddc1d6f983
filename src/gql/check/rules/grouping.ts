import type { Expression, ReturnItem } from '../../language/ast.ts';
import { printExpression } from '../../language/print.ts';
import { rowAggregatesIn } from '../analysis.ts';
import { looseIn, type Settled } from '../grouped.ts';
import type { Rule } from '../rule.ts';

/**
 * 14.11 <return statement> and 16.15 <group by clause>. Without GROUP BY, the items that do not aggregate are the
 * grouping keys.
 */
export const grouping: Rule = {
  sentence: 'Beside aggregates, a row of a group shows only what the group is made by.',
  ofEach: true,
  check(context) {
    const { query, analysis } = context;
    const { items, groupBy, span } = query.result;
    if (!items) {
      if (groupBy) context.report('grouping', span, 'RETURN * cannot be grouped; name the columns.');
      return;
    }
    const aggregating = (value: Expression): boolean =>
      rowAggregatesIn(value, analysis.siteOf(value)).length > 0;
    const grouped = groupBy !== undefined || items.some(({ value }) => aggregating(value));
    if (!grouped) return;
    const keys = keysOf(items, groupBy, aggregating);
    for (const { value, alias } of items) {
      if (alias && groupBy?.some(({ name }) => name === alias.text)) {
        if (aggregating(value)) {
          context.report(
            'grouping',
            value.span,
            `"${alias.text}" holds an aggregate and cannot be grouped by.`,
          );
        }
        continue;
      }
      for (const { name, span: place } of looseIn(value, keys, analysis.siteOf(value))) {
        context.report(
          'grouping',
          place,
          `"${name}" may differ within a group; add it to GROUP BY, or return it as a column of its own.`,
        );
      }
    }
  },
};

function keysOf(
  items: readonly ReturnItem[],
  groupBy: readonly { readonly name: string }[] | undefined,
  aggregating: (value: Expression) => boolean,
): Settled {
  const grouping = new Set(groupBy?.map(({ name }) => name));
  const keys = items.filter(({ value, alias }) =>
    groupBy ? alias && grouping.has(alias.text) : !aggregating(value),
  );
  // A name in GROUP BY is that of a column, if there is one, and then not the variable of the same name.
  const names = new Set(grouping);
  if (groupBy) for (const { alias } of keys) names.delete(alias!.text);
  for (const { value } of keys) if (value.kind === 'variable') names.add(value.name);
  return { texts: new Set(keys.map(({ value }) => printExpression(value))), names };
}
