/**
 * Three-valued logic (ISO/IEC 39075:2024, 20.20 <boolean value expression>, after E. F. Codd's and SQL's tables).
 * Unknown is null; a value that is not a boolean counts as unknown.
 */
import type { LabelExpression } from '../language/ast.ts';
import type { Value } from './value.ts';

export type Truth = boolean | null;

export function truthOf(value: Value): Truth {
  return typeof value === 'boolean' ? value : null;
}

export function not(a: Truth): Truth {
  return a === null ? null : !a;
}

export function and(a: Truth, b: Truth): Truth {
  if (a === false || b === false) return false;
  return a === null || b === null ? null : true;
}

export function or(a: Truth, b: Truth): Truth {
  if (a === true || b === true) return true;
  return a === null || b === null ? null : false;
}

export function xor(a: Truth, b: Truth): Truth {
  return a === null || b === null ? null : a !== b;
}

/** Whether labels satisfy a label expression (16.8 <label expression>). Labels are present or absent, never unknown. */
export function labelsSatisfy(
  expression: LabelExpression,
  has: (label: string) => boolean,
  count: () => number,
): boolean {
  switch (expression.kind) {
    case 'label-name':
      return has(expression.name);
    case 'label-wildcard':
      return count() > 0;
    case 'label-negation':
      return !labelsSatisfy(expression.operand, has, count);
    case 'label-conjunction':
      return expression.operands.every((operand) => labelsSatisfy(operand, has, count));
    case 'label-disjunction':
      return expression.operands.some((operand) => labelsSatisfy(operand, has, count));
    default:
      return expression satisfies never;
  }
}
