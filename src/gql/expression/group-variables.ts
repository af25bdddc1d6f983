import type { Aggregate, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';

/** Names of the variables that a piece of syntax refers to, bodies of EXISTS included. */
export function variablesIn(node: Syntax): ReadonlySet<string> {
  const names = new Set<string>();
  const open: Syntax[] = [node];
  for (let next = open.pop(); next; next = open.pop()) {
    if (next.kind === 'variable') names.add(next.name);
    open.push(...children(next));
  }
  return names;
}

/**
 * The group variables that an aggregate runs along (feature GE09, horizontal aggregation); empty when it runs over
 * rows. Other variables in its argument keep their one value.
 */
export function groupVariablesOf(node: Aggregate, isGroup: (name: string) => boolean): readonly string[] {
  return node.argument ? [...variablesIn(node.argument)].filter(isGroup) : [];
}
