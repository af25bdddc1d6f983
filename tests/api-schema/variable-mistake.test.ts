import {
  buildSchema,
  type GraphQLError,
  getVariableValues,
  type OperationDefinitionNode,
  parse,
} from 'graphql';
import { expect, test } from 'vitest';
import { variableMistake } from '../../src/api-schema/variable-mistake.ts';

// Messages of the reference implementation of GraphQL (graphql-js), without the values that a program gave.

const SCHEMA = buildSchema(`
  input Candidate { part: String, probability: Float! }
  input Identify { component: ID!, candidates: [Candidate!]!, reason: String }
  type Query { identify(input: Identify!): Int }
`);
const [operation] = parse('query ($input: Identify!) { identify(input: $input) }').definitions;

function mistakesIn(input: unknown): readonly string[] {
  const { variableDefinitions = [] } = operation as OperationDefinitionNode;
  const { errors = [] } = getVariableValues(SCHEMA, variableDefinitions, { input }) as {
    errors?: readonly GraphQLError[];
  };
  return errors.map((error) => variableMistake(SCHEMA, error));
}

test.each([
  [
    { component: 'U1', candidates: [{ prt: 'a', probability: 1 }] },
    [
      'Variable "$input" at "input.candidates[0]": Field "prt" is not defined by type "Candidate". Did you mean "part"?',
    ],
  ],
  [
    { component: 'U1', candidates: [], because: 'x' },
    [
      'Variable "$input": Field "because" is not defined by type "Identify". It has: component, candidates, reason.',
    ],
  ],
  [
    { component: 'U1' },
    ['Variable "$input": Field "candidates" of required type "[Candidate!]!" was not provided.'],
  ],
  [
    { component: 'U1', candidates: [{ probability: 'high' }] },
    [
      'Variable "$input" at "input.candidates[0].probability": Float cannot represent non numeric value: "high"',
    ],
  ],
  [null, ['Variable "$input" of non-null type "Identify!" must not be null.']],
])('%j', (input, told) => {
  expect(mistakesIn(input)).toEqual(told);
});
