import { describe, expect, test } from 'vitest';
import { mistakesOfCheck } from '../../src/design-checks/bound-names.ts';
import { patternSchema } from '../../src/model/catalogue.ts';
import { findingsIn } from '../dossier/check/findings.ts';

const TEXT = 'MATCH (a:Accelerometer)-[:ON]->(board:Board)<-[:ON]-(b:Accelerometer) RETURN a, b';
const patternWith = (name: string, inputs: Record<string, string | number>) =>
  patternSchema.parse({
    id: 'p',
    name: 'P',
    idea: 'I.',
    text: TEXT,
    reasons: ['R.'],
    check: { name, inputs },
  });
const said = (name: string, inputs: Record<string, string | number>) =>
  mistakesOfCheck(patternWith(name, inputs)).map(
    ({ path, what, fix }) => `${path.join('.')}: ${what} — ${fix}`,
  );
const rate = (inputs: Record<string, string | number>) => said('rate-from-two-accelerometers', inputs);

describe('what a pattern says of its check', () => {
  test('is fine when every name and unit is known', () => {
    expect(
      rate({
        distance: 'distance(a, b) ?? board.length / 2',
        noise: 'a.accelerationNoise',
        rateWanted: '100 deg/s',
      }),
    ).toEqual([]);
    expect(
      said('board-area', { components: 'specimen.components', shellArea: 'device.area', sides: 2 }),
    ).toEqual([]);
    expect(said('charge-rate', { rateAllowed: 'Battery.chargeCurrentMax / PouchCell.capacity' })).toEqual([]);
  });

  test.each([
    ['averagin', {}, 'name: no design check "averagin" — did you mean "averaging"?'],
    [
      'averaging',
      { counts: 2 },
      'inputs.counts: the check "averaging" has no input "counts" — did you mean "count"?',
    ],
  ])('names near ones for a mistyped check or input: %s', (name, inputs, expected) => {
    expect(said(name, inputs)).toEqual([expected]);
  });

  test.each([
    ['c.accelerationNoise', '"c" is not a variable of the pattern'],
    ['bord.length', '"bord" is not a variable of the pattern — did you mean "board"?'],
    ['Acelerometer.accelerationNoise', 'did you mean "Accelerometer"?'],
    [
      'a.acelerationNoise',
      'nothing is known as "acelerationNoise" of "a" — did you mean "accelerationNoise" or "accelerationRange"?',
    ],
    [
      'device.accelerationNoise',
      'nothing is known as "accelerationNoise" of "device" — there are mass, length',
    ],
    ['a.activeCurrent', 'comes out in A — give it in m/s2 or a unit of the same kind'],
    ['a.accelerationNoise * 2 g', 'comes out in (m/s2).(g)'],
    ['2', 'comes out in 1 — give it in m/s2'],
    ['a.accelerationNoise + 1 V', 'cannot be given in m/s2'],
    ['sum(a.accelerationNoise)', '"a" is not a term of schema/taxonomy.yaml'],
    ['a.bus', 'nothing is known as "bus" of "a"'],
    ['a accelerationNoise', '"." and a property after "a" is wanted'],
  ])('refuses noise: %s', (written, expected) => {
    const [only, ...more] = rate({ noise: written });
    expect(more).toEqual([]);
    expect(only).toContain(expected);
    expect(only).toMatch(/^inputs\.noise: /u);
  });

  test('keeps the file out, with its line', () => {
    const file = (input: string) => `caseback: catalogue/1
patterns:
  - id: p
    name: P
    idea: I.
    text: "${TEXT}"
    reasons: [R.]
    check:
      name: rate-from-two-accelerometers
      inputs:
        noise: ${input}
`;
    expect(findingsIn([file('a.accelerationNoise')])).toEqual([]);
    expect(findingsIn([file('a.accelerationNoice')])).toEqual([
      'a.yaml:11 patterns[0].check.inputs.noise: nothing is known as "accelerationNoice" of "a" — did you mean "accelerationNoise" or "accelerationRange"?',
    ]);
  });
});
