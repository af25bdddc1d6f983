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

// A service of default limits would refuse each of these.
test.each([
  ['tokens', `{ ${'archive { devices } '.repeat(1_001)} }`, 'more that 4000 tokens'],
  [
    'levels',
    `{ device(id: "a") { ${'maker { devices(first: 1) { nodes { '.repeat(5)} id ${'} } } '.repeat(5)} } }`,
    'at most 14 are allowed',
  ],
  [
    'fields',
    '{ devices(first: 500) { nodes { specimens { components(first: 500) { nodes { id } } } } } }',
    'at most 100000',
  ],
])('a question of too many %s is not stored', (_, question, what) => {
  expect(mistakesOfQuestion(question, {})).toEqual([
    expect.objectContaining({ in: 'question', what: expect.stringContaining(what) }),
  ]);
});

test('a question that nests too deep for the parser is a mistake, not a crash', () => {
  const deep = 'a{'.repeat(4_900);
  expect(mistakesOfQuestion(`{${deep}`, {})).toHaveLength(1);
});
