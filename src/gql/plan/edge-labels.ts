import type { Query, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';
import { labelTest } from './label-of.ts';
import { FALSE, TRUE, truthOf } from './label-test.ts';

/** Whether any edge that a query asks for may have one of some labels, wherever in the text. */
export function asksEdges(query: Query, labels: readonly string[]): boolean {
  const asks = (node: Syntax): boolean => {
    if (node.kind !== 'edge-pattern') return false;
    if (!node.labels) return true;
    const test = labelTest(node.labels);
    return labels.some((label) => truthOf(test, (name) => (name === label ? TRUE : FALSE), TRUE) === TRUE);
  };
  const visit = (node: Syntax): boolean => asks(node) || children(node).some(visit);
  return visit(query);
}
