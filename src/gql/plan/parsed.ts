/**
 * Parsed texts, kept: a worker thread is handed the text of a query each time.
 */
import { LRUCache } from 'lru-cache';
import type { Query } from '../language/ast.ts';
import { type Parsed, parsePattern } from '../language/parse.ts';

const known = new LRUCache<string, Parsed>({ max: 500 });

/** Result of `parsePattern`. */
export function parseKept(text: string): Parsed {
  let answer = known.get(text);
  if (!answer) {
    answer = parsePattern(text);
    known.set(text, answer);
  }
  return answer;
}

/** The tree of a text that is known to be right. */
export function parsed(text: string): Query {
  const { query } = parseKept(text);
  if (!query) throw new Error('The pattern cannot be parsed');
  return query;
}
