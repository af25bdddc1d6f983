import { expect, test } from 'vitest';
import { mistakesOfQuestion } from '../../src/api-schema/question.ts';

// The GraphQL specification, October 2021: section 5 (validation), 6.1.2 (values of variables).

test('a query that fits the schema has no mistakes', () => {
  expect(mistakesOfQuestion('{ archive { devices } }', {})).toEqual([]);
  expect(
    mistakesOfQuestion(
      'query ($id: ID!, $n: Int = 3) { device(id: $id) { name } devices(first: $n) { totalCount } }',
      {
        id: 'a',
      },
    ),
  ).toEqual([]);
});

test.each([
  [
    '{ archive { ',
    {},
    { in: 'question', what: 'Syntax Error: Expected Name, found <EOF>.', line: 1, column: 13 },
  ],
  [
    '{ archive {\n  boats\n} }',
    {},
    {
      in: 'question',
      what: 'Cannot query field "boats" on type "Archive". Did you mean "parts"?',
      line: 2,
      column: 3,
    },
  ],
  [
    'query A { archive { devices } } query B { archive { devices } }',
    {},
    { in: 'question', what: 'has several operations; a feed asks one query' },
  ],
  [
    'mutation { revokeToken(input: { id: "x" }) { id } }',
    {},
    { in: 'question', what: 'is a mutation; a feed asks one query' },
  ],
  ['{ archive { devices } }', { n: 1 }, { in: 'variables', what: 'the question declares no variable "$n"' }],
  [
    'query ($id: ID!) { device(id: $id) { name } }',
    {},
    { in: 'variables', what: 'Variable "$id" of required type "ID!" was not provided.' },
  ],
])('%s with %o has a mistake, and its place', (question, variables, mistake) => {
  expect(mistakesOfQuestion(question, variables)).toEqual([expect.objectContaining(mistake)]);
});

test('a question that nests too deep for the parser is a mistake, not a crash', () => {
  const deep = 'a{'.repeat(4_900);
  expect(mistakesOfQuestion(`{${deep}`, {})).toHaveLength(1);
});
