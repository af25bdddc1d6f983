import { beforeAll, expect, test } from 'vitest';
import { CasebackError } from '../../src/model/problems.ts';
import { findPattern, patternRows } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { demo } from '../presence/archives.ts';

// What somebody reads whose text cannot be answered: what to do instead. The texts are those that an editor wrote who
// knows the language and not the archive.

let state: State;
beforeAll(async () => {
  state = (await demo()).state('desk');
});

async function problemsOf(asked: Promise<unknown>): Promise<CasebackError['problems']> {
  const error = await asked.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  if (!(error instanceof CasebackError)) throw new Error('The text was not refused', { cause: error });
  return error.problems;
}

test.each([
  'MATCH (x:Magnetometer) RETURN x UNION MATCH (x:Gyroscope) RETURN x',
  'MATCH (x:Magnetometer) RETURN x EXCEPT MATCH (x:Gyroscope) RETURN x',
  'MATCH p = ANY SHORTEST (a:Sensor)~[:CONNECTS]~+(b:Processor) RETURN p',
  'MATCH (a:Sensor)(~[:CONNECTS]~|-[:ON]->)(b) RETURN a',
  'MATCH (s:Specimen) RETURN s, COUNT(*) AS n NEXT FILTER n > 3 RETURN s',
])('without a probability, the rows are there: %s', async (text) => {
  const [{ fix }] = await problemsOf(findPattern(state, { text }));
  expect(fix).toContain('patternRows');
  const { rows, columns, complete } = await patternRows(state, { text });
  expect([rows.length > 0, columns.length, complete]).toEqual([!text.includes('NEXT'), 1, true]);
});

test.each([
  ['BatteryCharger', ['Charger']],
  ['BarometricPressureSensor', ['PressureSensor']],
  ['Cell', ['ButtonCell', 'PouchCell']],
])('a kind by another name: %s', async (typed, meant) => {
  const [{ fix }] = await problemsOf(patternRows(state, { text: `MATCH (x:${typed}) RETURN x` }));
  for (const name of meant) expect(fix).toContain(`"${name}"`);
});
