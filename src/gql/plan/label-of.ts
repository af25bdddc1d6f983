import type { LabelExpression } from '../language/ast.ts';
import type { LabelTest } from './label-test.ts';

/** A label expression of the text as a test. */
export function labelTest(expression: LabelExpression): LabelTest {
  switch (expression.kind) {
    case 'label-name':
      return { kind: 'label', name: expression.name };
    case 'label-wildcard':
      return { kind: 'any' };
    case 'label-negation':
      return { kind: 'not', of: labelTest(expression.operand) };
    case 'label-conjunction':
      return expression.operands.map(labelTest).reduce((left, right) => ({ kind: 'and', left, right }));
    case 'label-disjunction':
      return expression.operands.map(labelTest).reduce((left, right) => ({ kind: 'or', left, right }));
    default:
      return expression satisfies never;
  }
}

/** Both must hold. */
export function bothLabels(left: LabelTest | undefined, right: LabelTest | undefined): LabelTest | undefined {
  if (!left || !right) return left ?? right;
  return { kind: 'and', left, right };
}
