/**
 * Parsed texts, kept.
 */
import { LRUCache } from 'lru-cache';
import type { Query } from '../language/ast.ts';
import { type Parsed, parsePattern } from '../language/parse.ts';
import { relaxations } from './near-patterns.ts';

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

/** The tree that settings refer to: that of a text that is known to be right, or of a pattern near it. */
export function treeOf({
  text,
  relaxation,
}: {
  readonly text: string;
  readonly relaxation?: number | undefined;
}): Query {
  const query = parsed(text);
  return relaxation === undefined ? query : relaxations(query)[relaxation]!.query()!;
}

function parsed(text: string): Query {
  const { query } = parseKept(text);
  if (!query) throw new Error('The pattern cannot be parsed');
  return query;
}
