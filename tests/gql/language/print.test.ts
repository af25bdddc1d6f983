import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { printExpression, printQuery } from '../../../src/gql/language/print.ts';
import { describe as told } from '../../../src/gql/language/problem.ts';
import { arbitraryQuery } from './arbitrary-queries.ts';
import { expression, query } from './parsing.ts';
import { withoutSpans } from './without-spans.ts';

describe('a printed query', () => {
  test('reads back as the same tree, for trees of every shape', () => {
    fc.assert(
      fc.property(arbitraryQuery, (tree) => {
        const text = printQuery(tree);
        const { query: again, errors } = parsePattern(text);
        if (errors.some(({ code }) => code === 'nested-too-deeply' || code === 'text-too-long')) return;
        expect(errors.map(told).join('\n')).toBe('');
        expect(withoutSpans(again)).toEqual(withoutSpans(tree));
      }),
      { numRuns: 1000 },
    );
  });

  test('is canonical: parsing and printing again changes nothing', () => {
    fc.assert(
      fc.property(arbitraryQuery, (tree) => {
        const text = printQuery(tree);
        const { query: again } = parsePattern(text);
        if (again) expect(printQuery(again)).toBe(text);
      }),
      { numRuns: 300 },
    );
  });

  test('is laid out one clause a line', () => {
    const text = `match TRAIL (a:(B)|C {x:1})-[]->+(d), p=(a)~[e WHERE (e.w>2)]~>(f)
      where ((not a.x=1) or a.y is null) and a.z in [1,2] optional match (f)-->?(g)
      return distinct a.x as k, count(distinct g) order by k desc nulls last skip 1 limit 2`;
    expect(printQuery(query(text.replace('-->?', '->?')))).toBe(
      [
        'MATCH TRAIL (a:B|C {x: 1})->+(d),',
        '      p = (a)~[e WHERE e.w > 2]~>(f)',
        'WHERE (NOT a.x = 1 OR a.y IS NULL) AND a.z IN [1, 2]',
        'OPTIONAL MATCH (f)->?(g)',
        'RETURN DISTINCT a.x AS k, COUNT(DISTINCT g)',
        'ORDER BY k DESC NULLS LAST',
        'OFFSET 1',
        'LIMIT 2',
      ].join('\n'),
    );
  });

  test('two edges in a row are separated, because two hyphens begin a comment', () => {
    expect(printQuery(query('MATCH (a)- -(b) RETURN 1 AS one'))).toContain('(a)- -(b)');
  });
});

test.each([
  ['a.x+1', 'a.x + 1'],
  ['((a.x))*(1+2)', 'a.x * (1 + 2)'],
  ['a.x-(1-2)', 'a.x - (1 - 2)'],
  ['(a.x OR TRUE) AND FALSE', '(a.x OR TRUE) AND FALSE'],
  ['trim(a.x)', 'TRIM(BOTH FROM a.x)'],
  ['case a.x when 1 then 2 when > 3 then 4 end', 'CASE a.x WHEN 1 THEN 2 WHEN > 3 THEN 4 END'],
  ['exists{(a)->()}', 'EXISTS { MATCH (a)->() }'],
  ["'it''s'", "'it\\'s'"],
  ['a.`order`', 'a.`order`'],
])('an expression prints as columns are named: %s', (text, printed) => {
  expect(printExpression(expression(text))).toBe(printed);
});
