/** Conditions that ask one thing about uncertain labels both as it is and negated. */

import type { Expression, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';
import { printExpression } from '../language/print.ts';
import { NotInSql } from './sql-value.ts';

/** What stands in one condition both as it is and negated would be answered otherwise each time. */
export function refuseBothWays(node: Expression): void {
  const seen = new Map<string, boolean | 'both'>();
  let inCondition = false;
  const ask = (name: string, isAsked: boolean, span: Expression['span']): void => {
    const asked = inCondition ? 'both' : isAsked;
    const known = seen.get(name);
    if (known !== undefined && (known !== asked || asked === 'both'))
      throw new NotInSql(
        span,
        'This is asked in one condition both ways, which is not compiled to SQL while labels are uncertain',
      );
    seen.set(name, asked);
  };
  const visitAlone = (conditions: readonly Expression[]): void => {
    const before = inCondition;
    inCondition = true;
    for (const condition of conditions) visit(condition, true);
    inCondition = before;
  };
  const visit = (part: Syntax, isAsked: boolean): void => {
    switch (part.kind) {
      case 'is-labeled':
        ask(
          // Under another name it may be the same node.
          printExpression({ ...part, element: { ...part.element, name: 'n' }, negated: false }),
          isAsked !== part.negated,
          part.span,
        );
        return;
      case 'exists':
        // Each body is a question of its own.
        return;
      case 'not':
        visit(part.operand, !isAsked);
        return;
      case 'is-truth':
        visit(part.operand, isAsked === (part.truth !== part.negated));
        return;
      case 'case-branch':
        // Which branch is taken asks a condition both ways, so that it must be asked nowhere else.
        visitAlone(part.conditions);
        visit(part.result, isAsked);
        return;
      case 'value-query':
        return;
      default:
        for (const child of children(part)) visit(child, isAsked);
    }
  };
  visit(node, true);
}
