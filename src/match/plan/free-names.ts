import type { Expression, Syntax } from '../language/ast.ts';

/** Every variable name that occurs in an expression, those of patterns inside EXISTS included. */
export function namesIn(expression: Expression): Set<string> {
  const names = new Set<string>();
  const visit = (node: unknown): void => {
    if (Array.isArray(node)) {
      for (const item of node) visit(item);
      return;
    }
    if (typeof node !== 'object' || node === null) return;
    const syntax = node as Syntax;
    if (syntax.kind === 'variable') names.add(syntax.name);
    for (const [field, child] of Object.entries(syntax)) {
      if (field === 'span' || field === 'key' || field === 'alias') continue;
      if (field === 'variable' && child) names.add((child as { text: string }).text);
      else visit(child);
    }
  };
  visit(expression);
  return names;
}

/** The operands of a run of AND, nested ones too; the expression itself when it is no AND. */
export function conjuncts(expression: Expression | undefined): readonly Expression[] {
  if (!expression) return [];
  if (expression.kind === 'logical' && expression.operator === 'AND')
    return expression.operands.flatMap(conjuncts);
  return [expression];
}
