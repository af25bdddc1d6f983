import { Lexer } from 'chevrotain';
import { expect, test } from 'vitest';
import { QueryGrammar } from '../../../src/gql/language/grammar.ts';
import { ALL_TOKENS, LEXER_OPTIONS } from '../../../src/gql/language/tokens.ts';

// What the toolkit (chevrotain) asks of a grammar and of tokens when it makes a parser of them: ambiguous alternatives, left
// recursion, rules of one name, tokens that can never be read. A running program leaves it out.

test('the grammar is right by the rules of the toolkit', () => {
  expect(() => new QueryGrammar(true)).not.toThrow();
});

test('the tokens are right by the rules of the toolkit', () => {
  expect(() => new Lexer([...ALL_TOKENS], { ...LEXER_OPTIONS, skipValidations: false })).not.toThrow();
});
