import type { NumberLiteral, Parameter } from '../../language/ast.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** 16.18 <limit clause>, 16.19 <offset clause>: a non-negative integer. */
export const page: Rule = {
  sentence: 'OFFSET and LIMIT count rows in whole numbers from 0.',
  check(context) {
    look('OFFSET', context.query.offset, context);
    look('LIMIT', context.query.limit, context);
  },
};

function look(
  word: string,
  node: NumberLiteral | Parameter | undefined,
  { options, report }: CheckContext,
): void {
  if (node?.kind !== 'parameter' || !options.parameters || !Object.hasOwn(options.parameters, node.name))
    return;
  const value = options.parameters[node.name];
  if (typeof value === 'number' && Number.isSafeInteger(value) && value >= 0) return;
  report(
    'page',
    node.span,
    `${word} $${node.name} is ${JSON.stringify(value)}; it must be a whole number from 0.`,
  );
}
