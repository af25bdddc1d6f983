import type { Query, Span, Syntax } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import type { Rule } from '../rule.ts';

/** 16.18 <limit clause>, 16.19 <offset clause>: a non-negative integer. */
export const page: Rule = {
  sentence: 'OFFSET and LIMIT count rows in whole numbers from 0.',
  check({ query, options, report }) {
    for (const { span, message } of badPages(query, options.parameters ?? {})) report('page', span, message);
  },
};

/** Parameters of OFFSET and LIMIT whose value counts no rows. A value that is undefined is not known yet. */
export function* badPages(
  query: Query,
  parameters: Readonly<Record<string, unknown>>,
): Generator<{ readonly span: Span; readonly message: string }> {
  if (Object.keys(parameters).length === 0) return;
  const open: Syntax[] = [query];
  for (let node = open.pop(); node; node = open.pop()) {
    for (const word of ['offset', 'limit'] as const) {
      const count = word in node ? (node as Query)[word] : undefined;
      if (count?.kind !== 'parameter' || !Object.hasOwn(parameters, count.name)) continue;
      const value = parameters[count.name];
      if (value === undefined || (Number.isSafeInteger(value) && (value as number) >= 0)) continue;
      const told = typeof value === 'number' ? String(value) : (JSON.stringify(value) ?? String(value));
      const message = `${word.toUpperCase()} $${count.name} is ${told}; it must be a whole number from 0.`;
      yield { span: count.span, message };
    }
    open.push(...children(node));
  }
}
