import type { Expression, PathFactor } from '../../language/ast.ts';
import { expressionsIn } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** 19.3, general rules: a comparison with null is unknown, and only what is true passes. */
export const nullComparisons: Rule = {
  sentence: 'Nothing is compared with NULL, since that is never true.',
  check(context) {
    for (const site of context.analysis.sites) {
      for (const node of expressionsIn(site.root)) look(node as Expression, context);
    }
    for (const clause of context.analysis.matches) {
      for (const { factors } of clause.paths) for (const factor of factors) inFactor(factor, context);
    }
  },
};

function look(node: Expression, { report }: CheckContext): void {
  if (node.kind !== 'comparison' || (node.left.kind !== 'null' && node.right.kind !== 'null')) return;
  if (node.left.kind === 'case-subject') {
    report('never-true', node.span, 'No value equals NULL; write WHEN IS NULL.', { severity: 'warning' });
    return;
  }
  const fix = node.operator === '<>' ? 'IS NOT NULL' : 'IS NULL';
  report('never-true', node.span, `A comparison with NULL is never true; write ${fix}.`, {
    severity: 'warning',
  });
}

function inFactor(factor: PathFactor, context: CheckContext): void {
  if ('path' in factor) inFactor(factor.path, context);
  else if (factor.kind === 'parenthesized-path') for (const inner of factor.factors) inFactor(inner, context);
  else if (factor.kind === 'path-alternation') {
    for (const { factors } of factor.branches) for (const inner of factors) inFactor(inner, context);
  } else {
    for (const { value, span } of factor.properties) {
      if (value.kind !== 'null') continue;
      context.report('never-true', span, 'No property equals NULL; write WHERE … IS NULL.', {
        severity: 'warning',
      });
    }
  }
}
