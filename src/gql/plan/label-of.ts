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
      return balanced('and', expression.operands.map(labelTest));
    case 'label-disjunction':
      return balanced('or', expression.operands.map(labelTest));
    default:
      return expression satisfies never;
  }
}

/** As flat as can be: what goes through a test goes down to its depth. */
function balanced(kind: 'and' | 'or', tests: readonly LabelTest[]): LabelTest {
  if (tests.length === 1) return tests[0]!;
  const middle = Math.ceil(tests.length / 2);
  return { kind, left: balanced(kind, tests.slice(0, middle)), right: balanced(kind, tests.slice(middle)) };
}

/** Both must hold. */
export function bothLabels(left: LabelTest | undefined, right: LabelTest | undefined): LabelTest | undefined {
  if (!left || !right) return left ?? right;
  // Many texts say the label of a node wherever they name it.
  if (left.kind === 'label' && right.kind === 'label' && left.name === right.name) return left;
  return { kind: 'and', left, right };
}
