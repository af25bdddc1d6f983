import type { Clause, Expression, PathFactor, Query, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';
import { printExpression } from '../language/print.ts';

/** Every variable name that occurs in an expression, a query or clauses, those of patterns inside EXISTS included. */
export function namesIn(expression: Expression | Query | readonly Clause[]): Set<string> {
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

/** The operands of a run of AND, nested ones too; the expression itself when it is not an AND. */
export function conjuncts(expression: Expression | undefined): readonly Expression[] {
  if (!expression) return [];
  if (expression.kind === 'logical' && expression.operator === 'AND')
    return expression.operands.flatMap(conjuncts);
  return [expression];
}

/** Conditions as one; undefined for none. */
export function conjunction(conditions: readonly Expression[]): Expression | undefined {
  const [first] = conditions;
  if (!first || conditions.length === 1) return first;
  return {
    kind: 'logical',
    operator: 'AND',
    operands: conditions,
    span: { start: first.span.start, end: conditions.at(-1)!.span.end },
  };
}

/** Variables that pieces of path declare, in the order of the text. */
export function declaredInFactors(factors: readonly PathFactor[]): Set<string> {
  const names = new Set<string>();
  const visit = (factor: PathFactor): void => {
    switch (factor.kind) {
      case 'node-pattern':
      case 'edge-pattern':
        if (factor.variable) names.add(factor.variable.text);
        return;
      case 'parenthesized-path':
        if (factor.variable) names.add(factor.variable.text);
        factor.factors.forEach(visit);
        return;
      case 'quantified-path':
      case 'questioned-path':
        visit(factor.path);
        return;
      case 'path-alternation':
        for (const branch of factor.branches) branch.factors.forEach(visit);
        return;
      default:
        factor satisfies never;
    }
  };
  factors.forEach(visit);
  return names;
}

/** Variables that clauses declare, in the order of the text. */
export function declaredNames(clauses: readonly Clause[]): string[] {
  const names = new Set<string>();
  for (const clause of clauses) {
    switch (clause.kind) {
      case 'match':
        for (const path of clause.paths) {
          if (path.variable) names.add(path.variable.text);
          for (const name of declaredInFactors(path.factors)) names.add(name);
        }
        break;
      case 'optional':
        for (const name of declaredNames(clause.clauses)) names.add(name);
        break;
      case 'let':
        names.add(clause.variable.text);
        break;
      case 'for':
        names.add(clause.variable.text);
        if (clause.position) names.add(clause.position.variable.text);
        break;
      case 'table':
        for (const name of columnNames(clause.parts[0]!.query)) names.add(name);
        break;
      case 'filter':
      case 'page':
        break;
      default:
        clause satisfies never;
    }
  }
  return [...names];
}

/** A column of an answer: a return item, or a variable of `RETURN *`. */
export interface Item {
  readonly value: Expression;
  readonly alias: { readonly text: string } | undefined;
}

/** Columns of an answer; of `RETURN *` all variables, in the order in which the text declares them. */
export function itemsOf({ result, clauses }: Pick<Query, 'result' | 'clauses'>): readonly Item[] {
  if (result.items) return result.items;
  return declaredNames(clauses).map((name) => ({
    value: { kind: 'variable', name, span: { start: 0, end: 0 } },
    alias: { text: name },
  }));
}

/** Names of the columns of an answer: the alias, or the item as it is printed. */
export function columnNames(query: Pick<Query, 'result' | 'clauses'>): readonly string[] {
  return itemsOf(query).map(columnName);
}

export function columnName({ alias, value }: Item): string {
  return alias?.text ?? (value.kind === 'variable' ? value.name : printExpression(value));
}

/** Whether a query has one row for each row of its clauses: RETURN neither groups, merges, sorts nor cuts. */
export function hasRowsOfClauses({ result, orderBy, offset, limit }: Query): boolean {
  const isPlain = !result.implied && !result.distinct && !result.groupBy && orderBy.length === 0;
  return isPlain && !offset && !limit && !(result.items ?? []).some(({ value }) => holdsAggregate(value));
}

function holdsAggregate(node: Syntax): boolean {
  if (node.kind === 'exists' || node.kind === 'value-query') return false;
  return node.kind === 'aggregate' || children(node).some(holdsAggregate);
}
