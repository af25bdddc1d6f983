import { expect, test } from 'vitest';
import { findPattern } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { testSeed } from '../random.ts';
import { DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

// A device is there with each of its units: what no path ties to it in a text has it all the same, whichever unit it lies in. Held to the same
// text with the path written out, and to shares worked out by hand.

const KINDS = ['Accelerometer', 'Microcontroller', 'PressureSensor', 'Charger'];

interface Chip {
  readonly kind: string;
  readonly probability: number;
}

function unit(id: string, device: object | string, chips: readonly Chip[]) {
  return dossierChange({
    device,
    visibility: 'published',
    specimen: { id },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: chips.map((_, at) => ({ id: `W${at + 1}`, board: 'main' })),
    identifications: chips.map(({ kind, probability }, at) => ({
      component: `W${at + 1}`,
      candidates: [
        { category: kind, probability },
        ...(probability < 1 ? [{ category: 'Connector', probability: 1 - probability }] : []),
      ],
      state: 'favoured' as const,
      basis: [],
    })),
  } as never);
}

function stateOf(units: readonly (readonly Chip[])[]): State {
  const other = { ...DEVICE, id: 'other', name: 'Other' };
  return liveOf([
    ...SMALL_CATALOGUE,
    ...units.map((chips, at) => unit('abc'[at], at === 0 ? DEVICE : DEVICE.id, chips)),
    unit('a', other, [{ kind: 'Amplifier', probability: 1 }]),
  ]).state('desk', '2026-06-01T00:00:00Z');
}

async function answerOf(state: State, text: string) {
  const { devices } = await findPattern(state, { text: `MATCH ${text} RETURN *` });
  return devices.map(({ deviceId, probability, matches }) => [
    deviceId,
    probability.toFixed(9),
    matches.length,
  ]);
}

const LINKED = '-[:ON]->()<-[:HAS_BOARD]-()-[:SPECIMEN_OF]->(d:Device)';

test.each([
  ['(x:Accelerometer), (d:Device)', '0.700000000', 1],
  ['(d:Device), (x:Accelerometer)', '0.700000000', 1],
  ["(x:Accelerometer), (d:Device {id: 'other'})", undefined, 0],
  ["(x:Accelerometer) WHERE EXISTS { MATCH (d:Device WHERE d.id <> 'other') }", '0.700000000', 1],
  ['(x:Accelerometer) WHERE NOT EXISTS { MATCH (d:Device) }', undefined, 0],
  ['(x:Accelerometer), (d:Device), (e:Device)', undefined, 0],
])('by hand: %s', async (text, probability, matches) => {
  const units = [
    [{ kind: 'Microcontroller', probability: 1 }],
    [{ kind: 'Accelerometer', probability: 0.7 }],
  ];
  const found = await answerOf(stateOf(units), text);
  expect(found).toEqual(probability === undefined ? [] : [[DEVICE.id, probability, matches]]);
});

test('what is written without a path to its device has it as with one', async () => {
  const random = seededRandom(testSeed());
  let found = 0;
  for (let round = 0; round < 30; round++) {
    const units = Array.from({ length: random.integer(1, 3) }, () =>
      Array.from({ length: random.integer(1, 3) }, () => ({
        kind: random.pick(KINDS),
        probability: random.pick([1, 0.8, 0.5, 0.3]),
      })),
    );
    const state = stateOf(units);
    const kind = random.pick(KINDS);
    const linked = await answerOf(state, `(x:${kind})${LINKED}`);
    for (const text of [`(x:${kind}), (d:Device)`, `(d:Device), (x:${kind})`])
      expect(await answerOf(state, text), `round ${round}: ${text}`).toEqual(linked);
    found += linked.length;
  }
  expect(found).toBeGreaterThan(10);
});
