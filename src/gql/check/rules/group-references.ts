import type { Expression, Syntax } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import type { Site } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';

/**
 * 16.7 and 20.11: outside its quantified path a group variable is a list of what it was bound to. Its elements are
 * reached through aggregates (GE09); element-wise operations (GQ17) are not supported.
 */
export const groupReferences: Rule = {
  sentence: 'A group variable is a list: its elements are reached in aggregates only.',
  check(context) {
    for (const site of context.analysis.sites) look(site.root, undefined, site, context);
  },
};

function look(node: Syntax, parent: Expression | undefined, site: Site, context: CheckContext): void {
  if (node.kind === 'aggregate' || node.kind === 'exists' || node.kind === 'value-query') return;
  if (node.kind === 'variable') {
    if (site.find(node.name)?.degree === 'group' && parent && needsOne(parent)) {
      context.report(
        'group-variable',
        node.span,
        `"${node.name}" is declared in a quantified path and is a list here; put it into an aggregate, such as MAX(${node.name}.property), or move the condition into the quantified path.`,
      );
    }
    return;
  }
  for (const child of children(node)) look(child, node as Expression, site, context);
}

function needsOne({ kind }: Expression): boolean {
  switch (kind) {
    case 'property':
    case 'is-labeled':
    case 'is-directed':
    case 'is-endpoint':
    case 'all-different':
    case 'same':
    case 'property-exists':
      return true;
    default:
      return false;
  }
}
