import type { Expression } from '../../language/ast.ts';
import { printExpression } from '../../language/print.ts';
import { expressionsIn, rowAggregatesIn } from '../analysis.ts';
import type { Rule } from '../rule.ts';

/** 14.9 and 16.17 <sort specification list>; features GA07, GQ16, GF20. */
export const sortKeys: Rule = {
  sentence: 'After DISTINCT or grouping, rows are sorted by what they show.',
  check({ query, analysis, report }) {
    const { items, distinct, groupBy } = query.result;
    const aggregating = (value: Expression): boolean =>
      rowAggregatesIn(value, analysis.siteOf(value)).length > 0;
    const grouped =
      groupBy !== undefined ||
      items?.some(({ value }) => aggregating(value)) ||
      query.orderBy.some(({ value }) => aggregating(value));
    if (!items || !(distinct || grouped)) return;
    const shown = new Set(items.flatMap(({ value, alias }) => [printExpression(value), alias?.text ?? '']));
    const grouping = new Set(groupBy?.map(({ name }) => name));
    for (const { value } of query.orderBy) {
      if (shown.has(printExpression(value)) || aggregating(value)) continue;
      for (const node of expressionsIn(value)) {
        if (node.kind !== 'variable' || shown.has(node.name) || grouping.has(node.name)) continue;
        if (!analysis.variables.has(node.name)) continue;
        const why = distinct ? 'Equal rows are merged' : 'Rows are grouped';
        report(
          'sort-key',
          node.span,
          `${why}, so "${node.name}" has no single value to sort by; add it to RETURN.`,
        );
      }
    }
  },
};
