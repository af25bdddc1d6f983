import { expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { patternPresence } from '../../src/patterns/verdict.ts';
import { findPattern } from '../../src/questions/patterns.ts';
import { DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

// Boards with many components, each an accelerometer with the same probability: how many there are follows the binomial law, which
// says how likely it is that there are three or more.

function stateOf(components: number, probability: number) {
  const ids = Array.from({ length: components }, (_, at) => `U${at + 1}`);
  const change = dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid', fullyInventoried: true }],
    components: ids.map((id) => ({ id, board: 'main', appears: 'IntegratedCircuit' })),
    identifications: ids.map((component) => ({
      component,
      // The rest is a kind too, so that nothing learnt from other chips adds to it.
      candidates: [
        { category: 'Accelerometer', probability },
        { category: 'Charger', probability: 1 - probability },
      ],
      state: 'favoured',
      by: 'bench',
      on: '2026-01-01',
      basis: [],
    })),
  } as never);
  return liveOf([...SMALL_CATALOGUE, change as Change]).state('desk', '2026-06-01T00:00:00Z');
}

/** Probability of `least` or more of `n` that are each there with `p`. */
function binomial(n: number, p: number, least: number): number {
  let below = 0;
  let term = (1 - p) ** n;
  for (let k = 0; k < least; k++) {
    below += term;
    term *= ((n - k) / (k + 1)) * (p / (1 - p));
  }
  return 1 - below;
}

test.each([
  [60, 0.04],
  [60, 0.06],
  [20, 0.15],
])('three of %i that are each there with %f', async (n, p) => {
  const text = 'MATCH (x:Sensor), (y:Sensor), (z:Sensor) RETURN x, y, z';
  const { devices, note } = await findPattern(stateOf(n, p), { text });
  const law = binomial(n, p, 3);
  expect(devices).toHaveLength(1);
  const [{ probability, low, high }] = devices;
  expect(low - 1e-9).toBeLessThanOrEqual(law);
  expect(high + 1e-9).toBeGreaterThanOrEqual(law);
  // Four standard deviations of a share of 4,000 samples.
  expect(Math.abs(probability - law)).toBeLessThan(0.032);
  expect(note).toContain('at least');
});

test('where even that is too many, the bounds are strict, and the device is listed', async () => {
  const text = 'MATCH (x:Sensor), (y:Sensor), (z:Sensor), (u:Sensor) RETURN x';
  const { devices, note } = await findPattern(stateOf(60, 0.04), { text });
  const law = binomial(60, 0.04, 4);
  const [{ probability, low, high }] = devices;
  expect(low).toBeLessThanOrEqual(law);
  expect(high).toBe(1);
  expect(probability).toBeCloseTo((low + high) / 2, 9);
  expect(note).toContain('not every match could be looked at');
});

test('all matches count in what a device has of a pattern', async () => {
  const text = 'MATCH (x:Component), (y:Component) RETURN x, y';
  const { expected, certain, why } = await patternPresence(stateOf(24, 0.2), { text }, DEVICE.id);
  // Two different ones of 24, in either order.
  expect([expected, certain]).toEqual([24 * 23, 24 * 23]);
  expect(why).not.toContain('at least');
  const three = 'MATCH (x:Component), (y:Component), (z:Component) RETURN x, y, z';
  const many = await patternPresence(stateOf(40, 0.2), { text: three }, DEVICE.id);
  expect(many.expected).toBe(10_000);
  expect(many.why).toContain('at least');
});
