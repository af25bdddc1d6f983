import { beforeAll, expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { findPattern } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

// What passes a signal or makes a supply may be something else: then the path or the supply is not there. Worked out by hand.

let state: State;

beforeAll(() => {
  const seen = (id: string, appears: string) => ({ id, board: 'main', appears });
  const named = (component: string, category: string, probability: number) => ({
    component,
    candidates: [{ category, probability }],
    state: 'favoured',
    by: 'bench',
    on: '2026-01-01',
    basis: [],
  });
  const change = dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid', fullyInventoried: true }],
    components: [
      seen('U1', 'PressureSensor'),
      seen('U2', 'IntegratedCircuit'),
      seen('U3', 'Microcontroller'),
      seen('U4', 'IntegratedCircuit'),
    ],
    nets: [
      { id: 'a1', kind: 'signal', pins: ['U1.1', 'U2.1'] },
      { id: 'b1', kind: 'signal', pins: ['U2.2', 'U3.1'] },
      { id: 'vdd', kind: 'power', voltage: '1.8 V', pins: ['U4.1', 'U1.2'] },
      { id: 'vin', kind: 'power', voltage: '3.7 V', pins: ['U4.2'] },
    ],
    identifications: [named('U2', 'LevelShifter', 0.6), named('U4', 'LinearRegulator', 0.7)],
  } as never);
  state = liveOf([...SMALL_CATALOGUE, change as Change]).state('desk', '2026-06-01T00:00:00Z');
});

const probability = async (text: string) => {
  const { devices, unlikely } = await findPattern(state, { text });
  return devices[0]?.probability ?? [...unlikely.values()][0] ?? 0;
};

test('a path through what is a level shifter with 0.6 is there with 0.6, and absent with 0.4', async () => {
  const path = '(s:Sensor)-[:SIGNAL_PATH]-(m:Microcontroller)';
  expect(await probability(`MATCH ${path} RETURN s, m`)).toBeCloseTo(0.6, 9);
  const none = `MATCH (s:Sensor), (m:Microcontroller) WHERE NOT EXISTS { MATCH (s)-[:SIGNAL_PATH]-(m) } RETURN s, m`;
  expect(await probability(none)).toBeCloseTo(0.4, 9);
});

test('a supply from what is a regulator with 0.7 is there with 0.7, whether the text names its kind or not', async () => {
  expect(await probability('MATCH (r)-[:FEEDS]->(s:Sensor) RETURN r, s')).toBeCloseTo(0.7, 9);
  expect(await probability('MATCH (r:Regulator)-[:FEEDS]->(s:Sensor) RETURN r, s')).toBeCloseTo(0.7, 9);
});

test('both are independent', async () => {
  const text = 'MATCH (r)-[:FEEDS]->(s:Sensor)-[:SIGNAL_PATH]-(m:Microcontroller) RETURN r, s, m';
  expect(await probability(text)).toBeCloseTo(0.42, 9);
});
