/**
 * Parsed texts, kept: a service asks the same patterns again and again.
 */
import type { Query } from '../language/ast.ts';
import { parsePattern } from '../language/parse.ts';

const KEPT = 500;
const known = new Map<string, ReturnType<typeof parsePattern>>();

/** What `parsePattern` says about a text. */
export function parseKept(text: string): ReturnType<typeof parsePattern> {
  let answer = known.get(text);
  if (!answer) {
    answer = parsePattern(text);
    known.set(text, answer);
    if (known.size > KEPT) known.delete(known.keys().next().value!);
  }
  return answer;
}

/** The tree of a text that is known to be right. */
export function parsed(text: string): Query {
  const { query } = parseKept(text);
  if (!query) throw new Error('The pattern cannot be parsed');
  return query;
}
