import { expect, test } from 'vitest';
import { findingsIn } from './findings.ts';

const library = (...texts: readonly string[]) => `caseback: catalogue/1
patterns:
${texts
  .map(
    (text, i) =>
      `  - { id: p-${i}, name: n, idea: i, reasons: [r], text: ${JSON.stringify(text)} }
`,
  )
  .join('')}`;

// All decisions of a device are found together: one text that cannot be searched for would keep them from everybody.
test.each([
  ['a bracket that is not closed', 'MATCH (a:Sensor RETURN a', /\(line 1, column 17 of the text\)/u],
  ['a label that no archive has', 'MATCH (a:Sensr) RETURN a', /Sensr.* — did you mean "Sensor"\?$/u],
  [
    'a number beyond those kept exactly',
    'MATCH (a:Sensor) WHERE 9223372036854775807 + 1 > 0 RETURN a',
    /too large to be kept exactly/u,
  ],
  ['more than can be planned', `MATCH (a)${'-[]-(b)'.repeat(501)} RETURN a`, /at most 1000 are planned/u],
  ['rows that stand for no match', 'MATCH (a:Sensor) RETURN COUNT(*)', /has no probability/u],
  ['a parameter', 'MATCH (a:Sensor) WHERE a.designator = $name RETURN a', /name/u],
])('a named pattern with %s is kept out', (_, text, what) => {
  expect(findingsIn([library('MATCH (a:Sensor) RETURN a', text)])).toEqual([
    expect.stringMatching(new RegExp(`^a\\.yaml:4 patterns\\[1\\]\\.text: .*(?:${what.source})`, 'u')),
  ]);
});

test('one that uses our own functions can be searched for', () => {
  expect(
    findingsIn([library('MATCH (a:Sensor), (b:Radio) WHERE PLANE_DISTANCE_MM(a, b) < 5 RETURN a, b')]),
  ).toEqual([]);
});
