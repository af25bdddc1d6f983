import { expect, test } from 'vitest';
import {
  buildGraph,
  PatternError,
  type PreparedPattern,
  prepare,
  runPattern,
  syntaxProblems,
} from '../../src/gql/gql.ts';

const VOCABULARY = { labels: ['Town', 'Port'], edgeLabels: ['ROAD'], properties: ['name', 'note'] };

test('a prepared pattern describes the text', () => {
  const pattern = prepare(
    `MATCH p = (a:Town)-[r:ROAD]->(b:Town|!Port)
     WHERE a.name = $name AND EXISTS { MATCH (b)-[:FERRY]->(c:Island) WHERE c.name <> $other }
     RETURN a, $name AS asked`,
  );
  expect(pattern.variables).toEqual(['p', 'a', 'r', 'b']);
  expect(pattern.parameters).toEqual(['name', 'other']);
  expect([...pattern.labels].sort()).toEqual(['Island', 'Port', 'Town']);
  expect([...pattern.edgeLabels].sort()).toEqual(['FERRY', 'ROAD']);
  expect(pattern.hasSubquery).toBe(true);
});

test.each<[text: string, has: boolean]>([
  ["MATCH (a) WHERE a.note <> 'exists' RETURN a", false],
  ["MATCH (a) WHERE a.note <> 'EXISTS { MATCH (b) }' RETURN a", false],
  ['MATCH (`exists`) RETURN `exists`', false],
  ['MATCH (a) WHERE PROPERTY_EXISTS(a, name) RETURN a', false],
  ['MATCH (a) /* EXISTS { } */ RETURN a', false],
  ['MATCH (a) WHERE NOT exists { MATCH (a)-[]->(b) } RETURN a', true],
  ['MATCH (a WHERE EXISTS { (a)-[]->(b) }) RETURN a', true],
  ['MATCH (a) RETURN CASE WHEN EXISTS { (a)-[]->() } THEN 1 ELSE 2 END AS n', true],
])('whether there is a subquery is a matter of the tree: %s', (text, has) => {
  expect(prepare(text).hasSubquery).toBe(has);
});

test('names are those of the vocabulary, parameters those that there will be values for', () => {
  const text = 'MATCH (a:Twon) WHERE a.name = $nam RETURN a';
  const strict = { vocabulary: VOCABULARY, unknownNames: 'error', parameters: ['name'] } as const;
  const problems = (() => {
    try {
      prepare(text, strict);
    } catch (error) {
      return (error as PatternError).problems;
    }
    return [];
  })();
  expect(problems.map(({ near }) => near)).toEqual([['Town'], ['name']]);
  expect(prepare(text, { vocabulary: VOCABULARY }).warnings).toHaveLength(1);
  expect(prepare(text).warnings).toEqual([]);
  expect(() => prepare('MATCH (a RETURN a')).toThrow(PatternError);
  expect(syntaxProblems('MATCH (a RETURN a').length).toBeGreaterThan(0);
  expect(syntaxProblems(text)).toEqual([]);
});

test('it is made once, runs on any graph, and reports a missing value', async () => {
  const text = 'MATCH (a:Town) WHERE a.name = $name RETURN a.note AS note';
  const pattern: PreparedPattern = prepare(text);
  expect(prepare(text)).toBe(pattern);
  for (const note of ['first', 'second']) {
    const graph = buildGraph([{ id: 't', labels: ['Town'], properties: { name: 'Ash', note } }], []);
    expect((await runPattern(graph, pattern, { parameters: { name: 'Ash' } })).rows).toEqual([[note]]);
    await expect(runPattern(graph, pattern)).rejects.toThrow(/\$name has no value/u);
    await expect(runPattern(graph, text)).rejects.toThrow(/\$name has no value/u);
  }
});
