import { type DocumentNode, parse } from 'graphql/index.js';

/** Brackets of any kind in one another; the parser goes down a call for each, and how many calls there is room for is not the same everywhere. */
const DEEPEST = 400;
/** Texts and comments, whose brackets count for nothing (GraphQL, October 2021, sections 2.1.4 and 2.9.4). */
const APART = /"""(?:\\"""|[\s\S])*?"""|"(?:\\.|[^"\\\n])*"|#[^\n\r]*/gu;

/**
 * The document of a question.
 * @throws GraphQLError for what is not one, or has more words and marks than `maxTokens`; RangeError where it nests too deep
 */
export function parseQuestion(text: string, maxTokens: number): DocumentNode {
  let depth = 0;
  for (const [bracket] of text.replace(APART, '').matchAll(/[{}()[\]]/gu)) {
    depth += '{(['.includes(bracket) ? 1 : -1;
    if (depth > DEEPEST) throw new RangeError('It nests too deep');
  }
  return parse(text, { maxTokens });
}
