import { beforeAll, describe, expect, test } from 'vitest';
import { findPattern } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { demo } from '../presence/archives.ts';
import { byEnumeration } from './worlds-of-specimens.ts';

// The probability of a text is the mass of the worlds in which it has a match: held against those worlds one by one, each a
// graph in which nothing is uncertain, over the demo specimens.

let state: State;

beforeAll(async () => {
  state = (await demo()).state('desk');
});

/** Texts by what they say of labels, and where. */
const TEXTS: Readonly<Record<string, string>> = {
  'a label in WHERE': 'MATCH (x:Component) WHERE x:Accelerometer RETURN x',
  'a negated label in WHERE': 'MATCH (x:OpticalSensor) WHERE NOT x:Component&AnalogueFrontEnd RETURN x',
  'labels in OR': 'MATCH (x:Component) WHERE x:PressureSensor OR x:Gyroscope RETURN x',
  'labels of two nodes in XOR':
    'MATCH (x:Sensor)-[:CONNECTS]-(y:Component) WHERE x:Accelerometer XOR y:Microcontroller RETURN x',
  'a label in CASE':
    'MATCH (x:Sensor) WHERE CASE WHEN x:Accelerometer THEN 1 WHEN x:Gyroscope THEN 2 ELSE 0 END = 2 RETURN x',
  'a label compared': 'MATCH (x:Sensor), (y:Charger) WHERE (x:Accelerometer) = (y:FuelGauge) RETURN x',
  'a truth test':
    'MATCH (x:Sensor) OPTIONAL MATCH (x)-[:CONNECTS]-(y:Microcontroller) MATCH (z:Board) WHERE (y:Radio) IS NOT TRUE RETURN x',
  'what OPTIONAL adds':
    'MATCH (x:Microcontroller) OPTIONAL MATCH (x)-[:CONNECTS]-(y:Accelerometer) RETURN x, y',
  'what OPTIONAL must have found':
    'MATCH (x:Microcontroller) OPTIONAL MATCH (x)-[:CONNECTS]-(y:Sensor) MATCH (y)-[:ON]->(b:Board) RETURN x, y',
  'what OPTIONAL must not have found':
    'MATCH (s:Specimen) OPTIONAL MATCH (y:Accelerometer) MATCH (z:Component) WHERE y IS NULL RETURN z',
  EXISTS: 'MATCH (x:Microcontroller) WHERE EXISTS { MATCH (x)-[:CONNECTS]-(y:Sensor) } RETURN x',
  'NOT EXISTS': 'MATCH (m:Microcontroller) WHERE NOT EXISTS { MATCH (a:Accelerometer) } RETURN m',
  'NOT EXISTS in NOT EXISTS':
    'MATCH (x:Microcontroller) WHERE NOT EXISTS { MATCH (x)-[:CONNECTS]-(a:Sensor) WHERE NOT EXISTS { MATCH (a)-[:CONNECTS]-(c:Charger) } } RETURN x',
  'EXISTS beside a label':
    'MATCH (x:Sensor) WHERE NOT x:OpticalSensor OR EXISTS { MATCH (x)-[:CONNECTS]-(r:Radio) } RETURN x',
  'a negated label in MATCH': 'MATCH (x:Sensor&!Accelerometer&!OpticalSensor) RETURN x',
  'a quantified path': 'MATCH (x:Sensor)-[:CONNECTS]-{1,2}(y:Radio) RETURN x',
  'WHERE inside a quantified path':
    'MATCH (x:Sensor) ((a)-[:CONNECTS]-(b) WHERE b:Microcontroller OR b:Connector){1,2} (y:Component) WHERE y:Radio RETURN x',
  'a questioned path':
    'MATCH (x:Sensor) ((a)-[:CONNECTS]-(b:Radio))? (y:Component) WHERE y:Charger OR y:Radio RETURN x',
  'a function that reads labels':
    "MATCH p = (x:Sensor)-[:CONNECTS]-{1,3}(y:Radio) WHERE CROSSES(p, 'Microcontroller') RETURN x",
  'a part': 'MATCH (x:Sensor)-[:IDENTIFIED_AS]->(p:Part) WHERE p.pins > 8 RETURN x',
  'no part': 'MATCH (x:OpticalSensor) WHERE NOT EXISTS { MATCH (x)-[:IDENTIFIED_AS]->(p:Part) } RETURN x',
};

async function probabilityIn(text: string, specimen: string): Promise<number> {
  const { devices, unlikely } = await findPattern(state, { text, specimens: new Set([specimen]) });
  return devices[0]?.probability ?? [...unlikely.values()][0] ?? 0;
}

test.each(Object.keys(TEXTS))('%s', async (name) => {
  const text = TEXTS[name];
  let held = 0;
  for (const { id } of state.specimenRows()) {
    const expected = await byEnumeration(state, text, id);
    if (expected === undefined) continue;
    held++;
    expect(await probabilityIn(text, id), id).toBeCloseTo(expected, 6);
  }
  expect(held).toBeGreaterThan(8);
});

describe('the named patterns', () => {
  test('agree with every world that can be listed', async () => {
    let held = 0;
    for (const { id: name, text, scope } of state.patterns()) {
      if (scope === 'archive') continue;
      for (const { id } of state.specimenRows().filter((_, i) => i % 5 === 0)) {
        const expected = await byEnumeration(state, text, id);
        if (expected === undefined) continue;
        held++;
        expect(await probabilityIn(text, id), `${name} in ${id}`).toBeCloseTo(expected, 6);
      }
    }
    expect(held).toBeGreaterThan(300);
  });
});

test('a device that cannot show a pattern is counted nowhere', async () => {
  // Rivals of one component exclude one another.
  const text = 'MATCH (x:Component) WHERE x:Accelerometer AND NOT x:Sensor RETURN x';
  const { devices, unlikely } = await findPattern(state, { text });
  expect(devices).toEqual([]);
  expect([...unlikely.keys()]).toEqual([]);
});

test('a text without doubt is certain, however many matches it has', async () => {
  const { devices } = await findPattern(state, { text: 'MATCH (b:Board) RETURN b' });
  expect(new Set(devices.map(({ probability }) => probability))).toEqual(new Set([1]));
  expect(devices.every(({ method, low, high }) => method === 'exact' && low === 1 && high === 1)).toBe(true);
});
