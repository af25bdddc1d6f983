import { describe, expect, test } from 'vitest';
import { averaging } from '../../src/design-checks/averaging.ts';
import { rateFromTwoAccelerometers } from '../../src/design-checks/rate-from-two-accelerometers.ts';
import { inputs } from './quantities.ts';

const board = { distance: '20 mm', noise: '0.01 m/s2', rateWanted: '200 deg/s' };
const run = (given: Record<string, string>) => rateFromTwoAccelerometers.run(inputs({ ...board, ...given }));

describe('every check', () => {
  test('refuses a wrong dimension and says which is expected', () => {
    expect(() => run({ distance: '20 g' })).toThrow(
      'rate-from-two-accelerometers: input "distance" is 20 g, which measures something else; give it in mm',
    );
  });

  test('refuses a unit that does not exist and an input it does not have', () => {
    expect(() => averaging.run({ count: { value: 2, unit: 'pieces of' } })).toThrow(/UCUM does not know/u);
    expect(() => run({ distanze: '20 mm' })).toThrow(
      /has no input "distanze"; its inputs are distance, noise/u,
    );
  });

  test('refuses a value outside its range, uncertainty included', () => {
    expect(() => run({ distance: '0 mm' })).toThrow(/"distance" must be above 0 \(in mm\); it is 0/u);
    expect(() => run({ distance: '2 ± 2 mm' })).toThrow(/it is 2 ± 2/u);
    expect(() => averaging.run({ count: { value: Number.NaN, unit: '1' } })).toThrow(/finite/u);
  });

  test('cuts an uncertain value off at a physical end', () => {
    const { values } = averaging.run(inputs({ count: '2', correlation: '0.9 ± 0.5' }));
    expect(values.noiseRatio.high).toBe(1);
  });

  test('tells where it cut an uncertain value off', () => {
    expect(averaging.run(inputs({ count: '2', correlation: '0.9 ± 0.5' })).notes).toEqual([
      'correlation is cut off at 1, its physical end.',
    ]);
    expect(averaging.run(inputs({ count: '2', correlation: '0.5 ± 0.5' })).notes).toEqual([]);
  });

  test('tells of an input that is ten times beyond what is usual, as when a prefix slips', () => {
    expect(run({ distance: '20 m' }).notes).toEqual([
      'distance is 20000 mm; usual are 5 to 40 mm (common practice, no source). Is the unit right?',
    ]);
    expect(run({ distance: '50 mm' }).notes).toEqual([]);
  });

  test('reads units in the form people write', () => {
    expect(
      rateFromTwoAccelerometers.run({ ...inputs(board), noise: { value: 0.01, unit: 'm/s²' } }).values,
    ).toEqual(run({}).values);
  });

  test('marks typical ranges in its question, and fills in none', () => {
    const { sentence } = rateFromTwoAccelerometers.run({});
    expect(sentence).toContain('typically 0.005 to 0.05 (common practice, no source)');
  });
});
