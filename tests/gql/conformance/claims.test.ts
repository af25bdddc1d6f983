/** CONFORMANCE.md and the tests agree on what is supported. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkQuery } from '../../../src/gql/check/check.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';

const FEATURE = String.raw`G[A-Z]?\d{2,3}`;
const ID = String.raw`(?:${FEATURE}|\d{1,2}(?:\.\d{1,2})?)`;

interface Claim {
  readonly id: string;
  readonly supported: string;
}

/** Rows of the two tables; a row about several ids, such as `G030 to G033, G039`, is one claim for each. */
function claims(): readonly Claim[] {
  const text = readFileSync(new URL('../../../src/gql/CONFORMANCE.md', import.meta.url), 'utf8');
  return text.split('\n').flatMap((line) => {
    const [, ids = '', , supported = ''] = line
      .replaceAll('\\|', '¦')
      .split('|')
      .map((cell) => cell.trim());
    if (!new RegExp(`^${ID}(?:(?:, | to )${ID})*$`).test(ids)) return [];
    return ids.split(', ').flatMap((part) => {
      const [first = '', last = first] = part.split(' to ');
      const letters = first.replace(/\d+$/, '');
      const number = (id: string): number => Number(id.slice(letters.length));
      if (first === last) return [{ id: first, supported }];
      return Array.from({ length: number(last) - number(first) + 1 }, (_, i) => {
        const digits = String(number(first) + i).padStart(first.length - letters.length, '0');
        return { id: letters + digits, supported };
      });
    });
  });
}

/** Ids with which a title of a test begins: of `describe` and `test`, or of a case in this folder's table. */
function tested(): ReadonlySet<string> {
  const folder = new URL('../', import.meta.url);
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.test.ts'),
  );
  const found = new Set<string>();
  for (const file of files) {
    const text = readFileSync(new URL(file, folder), 'utf8');
    // Elsewhere a number at the beginning is just a number.
    const [opening, id] =
      file === 'conformance/features.test.ts'
        ? [String.raw`(?:\b(?:describe|test|is|where)\(|\[)\s*`, ID]
        : [String.raw`\b(?:describe|test)\(\s*`, FEATURE];
    for (const [, title] of text.matchAll(new RegExp(`${opening}['"\`](${id}) `, 'g'))) found.add(title!);
  }
  return found;
}

const all = claims();
const supported = new Map(all.map((claim) => [claim.id, claim.supported]));

test('the tables are read: every row says yes, partly or no, and no id stands twice', () => {
  expect(all.length).toBeGreaterThan(120);
  expect(all.filter(({ supported: word }) => !['yes', 'partly', 'no'].includes(word))).toEqual([]);
  expect(all.map(({ id }) => id).filter((id, i, ids) => ids.indexOf(id) !== i)).toEqual([]);
});

test('each part and feature that is claimed has a test that begins with its id', () => {
  const ids = tested();
  const untested = all.filter((claim) => claim.supported !== 'no' && !ids.has(claim.id)).map(({ id }) => id);
  expect(untested).toEqual([]);
});

test('each id that a test begins with is claimed', () => {
  const unclaimed = [...tested()].filter((id) => !['yes', 'partly'].includes(supported.get(id) ?? ''));
  expect(unclaimed).toEqual([]);
});

/** What is not claimed is refused; texts after the productions of the published grammar (opengql/grammar, GQL.g4). */
const LEFT_OUT: readonly (readonly [id: string, text: string])[] = [
  ['12', 'CREATE GRAPH g ANY'],
  ['13', 'INSERT (n:Town)'],
  ['13', 'MATCH (n) SET n.x = 1'],
  ['13', 'MATCH (n) DETACH DELETE n'],
  ['14.12', 'SELECT n.x FROM g MATCH (n)'],
  ['19.7', 'MATCH (n) WHERE n.x IS NFC NORMALIZED RETURN n'],
  ['20.25', "MATCH (n) RETURN X'1F' AS b"],
  ['G005', 'MATCH ANY SHORTEST (a)->*(b) RETURN a'],
  ['G006', 'MATCH (a)->(b) KEEP TRAIL RETURN a'],
  ['G015', 'MATCH ALL (a)->*(b) RETURN a'],
  ['G016', 'MATCH ANY (a)->*(b) RETURN a'],
  ['G017', 'MATCH ALL SHORTEST (a)->*(b) RETURN a'],
  ['G018', 'MATCH ANY SHORTEST (a)->*(b) RETURN a'],
  ['G019', 'MATCH SHORTEST 2 (a)->*(b) RETURN a'],
  ['G020', 'MATCH SHORTEST 2 GROUPS (a)->*(b) RETURN a'],
  ['G030', 'MATCH (a)->(b) |+| (c)->(d) RETURN 1 AS one'],
  ['G032', 'MATCH (a)->(b) | (c)->(d) RETURN 1 AS one'],
  ['G039', 'MATCH (a)-/A/->(b) RETURN a'],
  ['GA06', 'MATCH (n) WHERE n.x IS TYPED STRING RETURN n'],
  ['GE03', 'MATCH (n) RETURN LET x = 1 IN x END AS y'],
  ['GE06', 'MATCH (n) RETURN PATH[n] AS p'],
  ['GF07', "MATCH (n) RETURN TRIM(X'00' FROM n.x) AS b"],
  ['GQ01', 'USE g MATCH (n) RETURN n'],
  ['GQ02', 'MATCH (n) RETURN n OTHERWISE MATCH (n) RETURN n'],
  ['GQ03', 'MATCH (n) RETURN n UNION MATCH (n) RETURN n'],
  ['GQ04', 'MATCH (n) RETURN n EXCEPT DISTINCT MATCH (n) RETURN n'],
  ['GQ05', 'MATCH (n) RETURN n EXCEPT ALL MATCH (n) RETURN n'],
  ['GQ06', 'MATCH (n) RETURN n INTERSECT DISTINCT MATCH (n) RETURN n'],
  ['GQ07', 'MATCH (n) RETURN n INTERSECT ALL MATCH (n) RETURN n'],
  ['GQ10', 'FOR x IN [1, 2] RETURN x'],
  ['GQ11', 'FOR x IN [1, 2] WITH ORDINALITY i RETURN x, i'],
  ['GQ17', 'MATCH (a)-[e]->{1,2}(b) RETURN e.km AS km'],
  ['GQ18', 'MATCH (n) RETURN VALUE { MATCH (m) RETURN COUNT(*) AS c } AS c'],
  ['GQ19', 'MATCH (n) YIELD n RETURN n'],
  ['GQ20', 'MATCH (n) RETURN n NEXT RETURN n'],
  ['GQ24', 'FOR x IN [1, 2] WITH OFFSET i RETURN x, i'],
];

describe('what is said to be left out is refused', () => {
  test.each(LEFT_OUT.filter(([id]) => supported.get(id) === 'no'))('%s: %s', (_, text) => {
    const { query, errors } = parsePattern(text);
    const problems = query ? checkQuery(query, text) : errors;
    expect(problems.some(({ severity }) => severity === 'error')).toBe(true);
  });

  test('each of them is in the table', () => {
    expect(LEFT_OUT.filter(([id]) => !supported.has(id))).toEqual([]);
  });
});
