import type { Expression } from '../../language/ast.ts';
import { expressionsIn, groupsIn } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** 20.9 <aggregate function>, syntax rules; feature GE09 for group variables. */
export const aggregates: Rule = {
  sentence:
    'Aggregates over rows are allowed in RETURN and ORDER BY only, an aggregate holds no other, and runs along one group variable at most.',
  check(context) {
    for (const site of context.analysis.sites) {
      for (const node of expressionsIn(site.root)) {
        if (node.kind !== 'aggregate') continue;
        const groups = groupsIn(node, site);
        if (groups.length > 1) {
          context.report(
            'aggregate-misplaced',
            node.span,
            `${node.name} would run along ${groups.map((name) => `"${name}"`).join(' and ')} at once; an aggregate takes one group variable.`,
          );
        }
        if (groups.length === 0 && site.part !== 'return' && site.part !== 'sort') {
          context.report(
            'aggregate-misplaced',
            node.span,
            `${node.name} counts rows, but there are none here yet; use it in RETURN. In a condition only those along a group variable have a meaning.`,
          );
        }
        for (const inner of [node.argument, node.fraction]) if (inner) nested(inner, context);
      }
    }
  },
};

function nested(root: Expression, { report }: CheckContext): void {
  for (const node of expressionsIn(root)) {
    if (node.kind === 'aggregate') {
      report('aggregate-misplaced', node.span, `${node.name} is inside another aggregate.`);
    }
  }
}
