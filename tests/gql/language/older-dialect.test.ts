import { describe, expect, test } from 'vitest';
import { checkQuery } from '../../../src/gql/check/check.ts';
import { olderConstructs } from '../../../src/gql/language/older-dialect.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { describeInLine, type Problem } from '../../../src/gql/language/problem.ts';
import { tokenize } from '../../../src/gql/language/tokens.ts';
import { QueryWriter } from '../random-query.ts';
import { READ, REFUSED } from './older-dialect.ts';

function problemsOf(text: string): readonly Problem[] {
  const { query, errors } = parsePattern(text);
  return query ? checkQuery(query, text) : errors;
}

/** Texts with two mistakes. */
const TWICE: ReadonlySet<string> = new Set([
  'UNWIND [[1, 2], [3]] AS x UNWIND x AS y RETURN y',
  'MATCH (n) RETURN SQRT(n.x^2 + n.y^2) AS d',
  'MATCH (a)-->(b)-->(c) RETURN c',
  'MATCH (a)-[]->(b) RETURN labels(a), labels(b), count(*)',
  "MATCH (n) WHERE NOT (n.name STARTS WITH 'A' OR n.name STARTS WITH 'B') RETURN n",
  'MATCH (n) RETURN n.coords[0] + n.coords[1]',
  'MATCH (a), (b) WHERE id(a) < id(b) RETURN a, b',
  'MATCH (n) RETURN head(collect(n.name))',
  "MATCH (e) WHERE e.at >= datetime('2020-01-01') AND e.at < datetime('2021-01-01') RETURN e",
  'MATCH p = (a)-[:R*]->(b) WHERE all(n IN nodes(p) WHERE n.ok) RETURN p',
]);

describe('a construct of the older dialect is named, once, where it stands, with what to write instead', () => {
  const cases = REFUSED.flatMap(({ texts, ...rest }) => texts.map((text) => ({ text, ...rest })));

  test('there are many, and none twice', () => {
    expect(cases.length).toBeGreaterThan(300);
    expect(new Set(cases.map(({ text }) => text)).size).toBe(cases.length);
  });

  test.each(cases)('$text', ({ text, names, advises, marks }) => {
    const problems = problemsOf(text);
    const told = problems.map(describeInLine).join('\n');
    for (const word of [...names, ...advises]) expect(told.toLowerCase()).toContain(word.toLowerCase());
    expect(problems).toHaveLength(TWICE.has(text) ? 2 : 1);
    const marked = problems.map(({ span }) =>
      text.slice(span.start, span.end).toLowerCase().replace('| :', '|:'),
    );
    const construct = (marks ?? names[0]!.split('(')[0]!).toLowerCase().trim();
    expect(marked.some((part) => part.includes(construct) || construct.includes(part))).toBe(true);
  });
});

test.each(READ)('both read %s', (text) => {
  expect(problemsOf(text).filter(({ severity }) => severity === 'error')).toEqual([]);
});

test.each<[string, string]>([
  // Words of the older dialect as names, with a mistake elsewhere: nothing is said of them.
  ['MATCH (contains)-[:WITH]->(set:Call) WHERE contains.starts = 1 RETRUN set', 'RETURN'],
  ['MATCH (n) WHERE n.unwind = 1 AND n.create > n.merge RETURN n.with AS delete,', 'a value'],
  ['MATCH (n:Set|Create&!Delete) RETURN n ODER BY n.with', 'ORDER'],
  ['MATCH (n) WHERE n.x IN [1, 2) RETURN n', '"]"'],
  ['MATCH (n:Town {name: $name, x:$x})-[:ROAD {km: $km}]->(m RETRUN n', 'RETURN'],
  ['MATCH (a)-[e]->{1,2}(b) WHERE SIZE(e) = 1 RETURN n LIMIT x', 'a number'],
  // A "not" of labels, in brackets of its own.
  [
    'MATCH (n) WHERE (n IS NOT LABELED (!Set&Set)) MATCH q = ANY 2 TRAIL (n)->(m) RETURN n',
    'A number of paths',
  ],
])('no false alarm: %s', (text, expected) => {
  const told = problemsOf(text).map(describeInLine).join('\n');
  expect(told).toContain(expected);
  expect(told).not.toMatch(/GQL has no|changes data|stands? (before|behind)|joined with|is written NOT/);
});

test('no false alarm on 600 random queries, and hardly one when a token of them is lost or doubled', () => {
  let state = 5;
  const random = (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  const writer = new QueryWriter(random);
  const constructs = (text: string): number => {
    const { tokens, strays } = tokenize(text);
    return olderConstructs(text, tokens, strays).length;
  };
  let broken = 0;
  let alarms = 0;
  for (let i = 0; i < 600; i++) {
    const text = writer.query();
    expect([text, constructs(text)]).toEqual([text, 0]);
    const { tokens } = tokenize(text);
    const { startOffset, image } = tokens[Math.floor(random() * tokens.length)]!;
    const again = random() < 0.5 ? '' : `${image} ${image}`;
    const spoilt = text.slice(0, startOffset) + again + text.slice(startOffset + image.length);
    if (parsePattern(spoilt).query) continue;
    broken++;
    if (constructs(spoilt) > 0) alarms++;
  }
  expect(broken).toBeGreaterThan(300);
  expect(alarms / broken).toBeLessThan(0.01);
});
