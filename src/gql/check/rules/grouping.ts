import type { Expression, ReturnItem, Syntax } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import { printExpression } from '../../language/print.ts';
import { groupsIn, rowAggregatesIn, type Site } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';

/**
 * 14.11 <return statement> and 16.15 <group by clause>. Without GROUP BY, the items that do not aggregate are the
 * grouping keys.
 */
export const grouping: Rule = {
  sentence: 'Beside aggregates, a row of a group shows only what the group is made by.',
  check(context) {
    const { query, analysis } = context;
    const { items, groupBy, span } = query.result;
    if (!items) {
      if (groupBy) context.report('grouping', span, 'RETURN * cannot be grouped; name the columns.');
      return;
    }
    const aggregating = (value: Expression): boolean =>
      rowAggregatesIn(value, analysis.siteOf(value)).length > 0;
    const grouped =
      groupBy !== undefined ||
      items.some(({ value }) => aggregating(value)) ||
      query.orderBy.some(({ value }) => aggregating(value));
    if (!grouped) return;
    const keys = keysOf(items, groupBy, aggregating);
    for (const { value, alias } of items) {
      if (groupBy && alias && keys.names.has(alias.text)) {
        if (aggregating(value)) {
          context.report(
            'grouping',
            value.span,
            `"${alias.text}" holds an aggregate and cannot be grouped by.`,
          );
        }
        continue;
      }
      ungrouped(value, keys, analysis.siteOf(value), context);
    }
  },
};

interface Keys {
  /** Expressions that are equal within a group, by their text. */
  readonly texts: ReadonlySet<string>;
  /** Variables that are. */
  readonly names: ReadonlySet<string>;
}

function keysOf(
  items: readonly ReturnItem[],
  groupBy: readonly { readonly name: string }[] | undefined,
  aggregating: (value: Expression) => boolean,
): Keys {
  const names = new Set(groupBy?.map(({ name }) => name));
  const values = items
    .filter(({ value, alias }) => (groupBy ? alias && names.has(alias.text) : !aggregating(value)))
    .map(({ value }) => value);
  for (const value of values) if (value.kind === 'variable') names.add(value.name);
  return { texts: new Set(values.map(printExpression)), names };
}

/** Reports variables outside aggregates that differ within a group. */
function ungrouped(node: Syntax, keys: Keys, site: Site, context: CheckContext): void {
  if (node.kind === 'exists' || node.kind === 'name') return;
  if (node.kind === 'aggregate' && groupsIn(node, site).length === 0) return;
  if (isExpression(node) && keys.texts.has(printExpression(node))) return;
  if (node.kind === 'variable') {
    if (keys.names.has(node.name)) return;
    context.report(
      'grouping',
      node.span,
      `"${node.name}" may differ within a group; add it to GROUP BY, or return it as a column of its own.`,
    );
    return;
  }
  for (const child of children(node)) ungrouped(child, keys, site, context);
}

function isExpression(node: Syntax): node is Expression {
  return (
    'kind' in node &&
    !['label-name', 'label-wildcard', 'case-branch'].includes(node.kind) &&
    !node.kind.startsWith('label-')
  );
}
