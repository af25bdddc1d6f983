import { beforeAll, expect, test } from 'vitest';
import { findPattern } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { catalogueChanges, DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

// A component with more candidates than a number has bits: the probability of a kind is the sum of its candidates', of a part its own.

const CHIPS = 45;
/** The first are chargers, the last 12 accelerometers, each as likely as its number. */
const partOf = (at: number) => ({
  maker: 'quistle',
  number: `CH${at}`,
  categories: [at < CHIPS - 12 ? 'Charger' : 'Accelerometer'],
});
const oddsOf = (at: number) => (at + 1) / (CHIPS * (CHIPS + 1));
const sumOf = (from: number, to: number) => {
  let sum = 0;
  for (let at = from; at < to; at++) sum += oddsOf(at);
  return sum;
};

let state: State;
beforeAll(() => {
  const ids = Array.from({ length: CHIPS }, (_, at) => at);
  const parts = catalogueChanges({ parts: ids.map(partOf) });
  const dossier = dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: ['U1', 'U2'].map((id) => ({ id, board: 'main', appears: 'IntegratedCircuit' })),
    identifications: [
      {
        component: 'U1',
        // Half of it is of another kind, so that nothing is left to be guessed.
        candidates: [
          ...ids.map((at) => ({ part: `quistle/CH${at}`, probability: oddsOf(at) })),
          { category: 'Microcontroller', probability: 0.5 },
        ],
        state: 'favoured',
        by: 'bench',
        on: '2026-01-01',
        basis: [],
      },
      {
        component: 'U2',
        candidates: [{ category: 'Amplifier', probability: 1 }],
        state: 'favoured',
        by: 'bench',
        on: '2026-01-01',
        basis: [],
      },
    ],
  } as never);
  state = liveOf([...SMALL_CATALOGUE, ...parts, dossier]).state('desk', '2026-06-01T00:00:00Z');
});

const ACCELEROMETERS = sumOf(CHIPS - 12, CHIPS);
test.each([
  ['MATCH (x:Accelerometer) RETURN x', ACCELEROMETERS],
  ['MATCH (x:Charger) RETURN x', 0.5 - ACCELEROMETERS],
  ['MATCH (x:Accelerometer|Microcontroller) RETURN x', 0.5 + ACCELEROMETERS],
  ["MATCH (x)-[:IDENTIFIED_AS]->(:Part {number: 'CH44'}) RETURN x", oddsOf(44)],
  ["MATCH (x)-[:IDENTIFIED_AS]->(:Part {number: 'CH12'}) RETURN x", oddsOf(12)],
  ['MATCH (x)-[:IDENTIFIED_AS]->(p:Part) RETURN x, p', 0.5],
  ['MATCH (x:Amplifier) WHERE NOT EXISTS { (:Accelerometer) } RETURN x', 1 - ACCELEROMETERS],
  [
    'MATCH (x:Amplifier) WHERE EXISTS { (:Charger) } OR EXISTS { (:Microcontroller) } RETURN x',
    1 - ACCELEROMETERS,
  ],
])('%s', async (text, expected) => {
  const { devices, unlikely } = await findPattern(state, { text });
  const found = devices[0]?.probability ?? [...unlikely.values()][0];
  expect(found).toBeCloseTo(expected, 9);
});
