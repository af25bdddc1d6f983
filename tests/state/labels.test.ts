import { expect, test } from 'vitest';
import type { Identification } from '../../src/model/dossier.ts';
import { isCounted, labelWeights, likeliestCategory } from '../../src/state/labels.ts';

const CATEGORIES: Record<string, string[]> = {
  'a/inertial': ['Accelerometer', 'Gyroscope'],
  'a/accelerometer': ['Accelerometer'],
  'a/controller': ['Microcontroller', 'BluetoothRadio'],
};
const weightsOf = (candidates: Identification['candidates'], appears?: string) =>
  labelWeights(
    { appears },
    { component: 'U1', candidates, state: 'proposed', basis: [] },
    (id) => CATEGORIES[id],
  );

test('rival candidates that share a kind add their probabilities; super-terms count once a candidate', () => {
  const weights = weightsOf([
    { part: 'a/inertial', probability: 0.5 },
    { part: 'a/accelerometer', probability: 0.3 },
  ]);
  expect(weights.get('Accelerometer')).toBeCloseTo(0.8);
  expect(weights.get('Gyroscope')).toBeCloseTo(0.5);
  // Twice under InertialSensor through one candidate, yet that candidate counts once.
  expect(weights.get('InertialSensor')).toBeCloseTo(0.8);
  expect(weights.get('Component')).toBe(1);
});

test('sums are decimal: 0.8 and 0.15, 0.65 and 0.3 are 0.95, the threshold of what is certain', () => {
  // 0.8 + 0.15 is 0.9500000000000001 in binary fractions (IEEE 754), 0.1 + 0.7 + 0.15 is 0.9499999999999998.
  const shares = [
    [0.8, 0.15],
    [0.65, 0.3],
    [0.1, 0.7, 0.15],
    [0.1, 0.2, 0.65],
  ];
  for (const each of shares) {
    const weights = weightsOf(each.map((probability) => ({ part: 'a/accelerometer', probability })));
    expect(weights.get('Accelerometer')).toBe(0.95);
    expect(weights.get('Component')).toBe(1);
  }
});

test('what a component plainly looks like is certain, whatever its candidates are', () => {
  expect(weightsOf([{ category: 'Accelerometer', probability: 0.2 }], 'FlexConnector').get('Connector')).toBe(
    1,
  );
});

test('the likeliest category is the deepest with probability 0.5 or more', () => {
  expect(likeliestCategory(weightsOf([{ part: 'a/accelerometer', probability: 0.6 }]))).toEqual({
    term: 'Accelerometer',
    probability: 0.6,
  });
  const split = weightsOf([
    { category: 'Accelerometer', probability: 0.45 },
    { category: 'Gyroscope', probability: 0.45 },
  ]);
  expect(likeliestCategory(split)?.term).toBe('InertialSensor');
  expect(likeliestCategory(weightsOf([{ category: 'Gyroscope', probability: 0.3 }]))).toBeUndefined();
});

test('a function counts for more than the packaging', () => {
  const weights = weightsOf([{ part: 'a/controller', probability: 0.7 }], 'Module');
  expect(likeliestCategory(weights)?.term).toBe('Microcontroller');
  expect(likeliestCategory(labelWeights({ appears: 'Module' }, undefined, () => undefined))?.term).toBe(
    'Module',
  );
});

test('a place where nothing is fitted is of no kind', () => {
  const weights = labelWeights(
    { appears: 'Resistor', fitted: false },
    { candidates: [{ category: 'Resistor', probability: 1 }] },
    () => undefined,
  );
  expect([...weights]).toEqual([]);
  expect(isCounted(weights)).toBe(false);
});

test('what the board itself has is no component, as far as it is sure', () => {
  const pad = weightsOf([], 'TestPad');
  expect([...pad]).toEqual([
    ['TestPad', 1],
    ['BoardFeature', 1],
  ]);
  expect(likeliestCategory(pad)?.term).toBe('TestPad');
  expect(isCounted(pad)).toBe(false);
  const perhaps = weightsOf([
    { category: 'TestPad', probability: 0.3 },
    { category: 'ProgrammingContact', probability: 0.6 },
  ]);
  expect(perhaps.get('Component')).toBeCloseTo(0.7);
  expect(isCounted(perhaps)).toBe(true);
  expect(likeliestCategory(perhaps)?.term).toBe('ProgrammingContact');
});
