/** No text makes the reader crash, hang or run out of stack; every text that is refused is refused with an error. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkQuery } from '../../../src/gql/check/check.ts';
import { DEEPEST_NESTING } from '../../../src/gql/language/limits.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';
import { printQuery } from '../../../src/gql/language/print.ts';
import { S } from '../../../src/gql/language/tokens.ts';
import { CONTEXTUAL_WORDS, LEFT_OUT, STRUCTURAL_WORDS } from '../../../src/gql/language/words.ts';
import { arbitraryQuery } from './arbitrary-queries.ts';

/** Reads and checks; what comes back must be whole. */
function survives(text: string): void {
  const { query, errors, warnings } = parsePattern(text);
  expect(query === undefined).toBe(errors.length > 0);
  const problems = [...errors, ...warnings, ...(query ? checkQuery(query, text, { parameters: {} }) : [])];
  const broken = problems.filter(
    ({ message, line, column, span, excerpt }) =>
      !(
        message &&
        line > 0 &&
        column > 0 &&
        span.start >= 0 &&
        span.end <= text.length &&
        excerpt.includes('^')
      ),
  );
  expect(broken).toEqual([]);
}

const symbols = Object.values(S).map((token) => String(token.PATTERN));
const token = fc.oneof(
  fc.constantFrom(...STRUCTURAL_WORDS, ...CONTEXTUAL_WORDS, ...Object.keys(LEFT_OUT)),
  fc.constantFrom(...symbols),
  fc.constantFrom(
    '(',
    ')',
    '[',
    ']',
    '{',
    '}',
    '-',
    '->',
    '<-',
    '~',
    ',',
    ':',
    '.',
    'a',
    'b',
    "'x'",
    '"y"',
    '1',
    '$p',
  ),
  fc.constantFrom('COUNT', 'DATE', 'UPPER', '1.5', '0x1F', '/*', '*/', '--', '//', "'", '`', '\n', '@', '#'),
);

test('tokens in any order', () => {
  fc.assert(
    fc.property(fc.array(token, { maxLength: 60 }), fc.constantFrom(' ', ''), (tokens, separator) =>
      survives(tokens.join(separator)),
    ),
    { numRuns: 1500 },
  );
});

test('tokens in any order after a valid beginning', () => {
  const beginning = fc.constantFrom(
    'MATCH (a',
    'MATCH (a)-[e',
    'MATCH (a) WHERE ',
    'MATCH (a) RETURN ',
    'MATCH (a) RETURN CASE ',
  );
  fc.assert(
    fc.property(beginning, fc.array(token, { maxLength: 20 }), (start, tokens) =>
      survives(`${start} ${tokens.join(' ')}`),
    ),
    { numRuns: 1500 },
  );
});

test('right queries with a piece cut out, doubled or put elsewhere', () => {
  const cuts = fc.tuple(fc.nat(), fc.nat(), fc.nat(), fc.constantFrom('drop', 'double', 'move'));
  fc.assert(
    fc.property(arbitraryQuery, cuts, (query, [from, size, to, how]) => {
      const text = printQuery(query);
      const start = from % text.length;
      const piece = text.slice(start, start + 1 + (size % 12));
      const rest = text.slice(0, start) + text.slice(start + piece.length);
      const place = to % (rest.length + 1);
      survives(
        how === 'drop'
          ? rest
          : how === 'double'
            ? text.slice(0, start) + piece + text.slice(start)
            : rest.slice(0, place) + piece + rest.slice(place),
      );
    }),
    { numRuns: 600 },
  );
});

test('bytes of every value', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
      survives(new TextDecoder('latin1').decode(bytes));
      survives(new TextDecoder('utf-8').decode(bytes));
    }),
    { numRuns: 2000 },
  );
});

test('valid queries with bytes changed', () => {
  const changes = fc.array(fc.tuple(fc.nat(), fc.nat(65_535)), { minLength: 1, maxLength: 5 });
  fc.assert(
    fc.property(arbitraryQuery, changes, (query, edits) => {
      const units = [...printQuery(query)];
      for (const [at, unit] of edits) units[at % units.length] = String.fromCharCode(unit);
      survives(units.join(''));
    }),
    { numRuns: 600 },
  );
});

test('a single token repeated: 8 000 characters', () => {
  const pieces = [
    ...symbols,
    ...STRUCTURAL_WORDS,
    "'",
    '"',
    '`',
    '/*',
    '/*/',
    '--',
    '\\',
    'a ',
    '(a',
    '(a)',
    '(a)-',
    '-[e]',
    "''",
    '1',
    '1e',
    '.',
    '$',
    '\n',
    '(a:!',
    'CASE WHEN ',
  ];
  for (const piece of pieces) {
    for (const start of ['', 'MATCH (a) RETURN ', 'MATCH ', 'MATCH (a) WHERE ']) {
      survives((start + `${piece} `.repeat(8_000)).slice(0, 8_000));
      survives((start + piece.repeat(8_000)).slice(0, 8_000));
    }
  }
});

test('large queries without mistakes are read and checked in reasonable time', () => {
  const many = (count: number, part: (i: number) => string): string =>
    Array.from({ length: count }, (_, i) => part(i)).join(', ');
  const texts = [
    `MATCH ${many(350, (i) => `(a${i} WHERE a${i}.x = 1)`)} RETURN a1`,
    `MATCH ${many(240, (i) => `((a${i})->(b${i}) WHERE TRUE)`)} RETURN *`,
    `MATCH (a) RETURN ${many(600, (i) => `a.x AS c${i}`)}`,
    `MATCH (a) RETURN ${many(240, (i) => `a.x AS c${i}, COUNT(*) AS n${i}`)}`,
    `MATCH (a) WHERE a.x IN [${many(1500, String)}] RETURN a`,
    `MATCH (a) RETURN a ORDER BY ${many(1000, (i) => `a.x${i}`)}`,
  ];
  for (const text of texts) {
    // Time of this thread's processor, which other processes do not lengthen.
    const before = process.threadCpuUsage();
    survives(text);
    const { user, system } = process.threadCpuUsage(before);
    expect((user + system) / 1e6, `seconds for ${text.slice(0, 40)}`).toBeLessThan(5);
  }
});

test('the deepest nesting of every kind does not come near the end of the stack', () => {
  const texts = [
    `MATCH (a) WHERE ${'('.repeat(DEEPEST_NESTING - 1)}TRUE${')'.repeat(DEEPEST_NESTING - 1)} RETURN a`,
    `MATCH (a) RETURN ${'CASE WHEN TRUE THEN '.repeat(DEEPEST_NESTING)}1${' END'.repeat(DEEPEST_NESTING)}`,
    `MATCH ${'('.repeat(DEEPEST_NESTING - 1)}(a)${')'.repeat(DEEPEST_NESTING - 1)} RETURN a`,
    `MATCH (a) WHERE ${'EXISTS { (b WHERE '.repeat(19)}TRUE${') }'.repeat(19)} RETURN a`,
  ];
  for (const text of texts) expect(parsePattern(text).errors).toEqual([]);
});
