import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { displayPower, FOLLOWS_LIT } from '../../src/design-checks/display-power.ts';
import { expectToAskForEachInput, inputs } from './quantities.ts';

// No published case; worked by hand from the linear model: 5 + (105 - 5) × 0.2 = 25 mW.
const selfLit = {
  powerFull: '105 mW',
  powerIdle: '5 mW',
  litShare: '20 %',
  followsLit: '1',
  onShare: '10 %',
};
const run = (given: Record<string, string>) => displayPower.run(inputs({ ...selfLit, ...given }));

describe('display power', () => {
  test('of a self-lit display follows the lit share, of a backlit display it does not', () => {
    const { values } = run({ energy: '0.2405 Wh' });
    expect(values.powerOn.value).toBeCloseTo(25, 12);
    expect(values.averagePower.value).toBeCloseTo(2.5, 12);
    expect(values.lasts.value).toBeCloseTo(96.2, 9);
    const backlit = String(FOLLOWS_LIT.LiquidCrystalDisplay);
    expect(run({ followsLit: backlit }).values.powerOn.value).toBeCloseTo(105, 12);
  });

  test('knows displays by terms of the taxonomy', () => {
    const taxonomy = readFileSync(join(import.meta.dirname, '../../schema/taxonomy.yaml'), 'utf8');
    for (const label of Object.keys(FOLLOWS_LIT)) expect(taxonomy).toContain(`\n  ${label}: {`);
  });

  test('gives the same answer in mW or W, and never falls with more elements lit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99 }), (percent) => {
        const power = (value: number, powerFull: string) =>
          displayPower.run({ ...inputs({ ...selfLit, powerFull }), litShare: { value, unit: '%' } }).values
            .powerOn.value;
        expect(power(percent, '0.105 W')).toBeCloseTo(power(percent, '105 mW'), 9);
        expect(power(percent + 1, '105 mW')).toBeGreaterThan(power(percent, '105 mW'));
      }),
      { numRuns: 50 },
    );
  });

  test('judges what a dark picture saves', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ litShare: '70 %' }).verdict).toBe('neutral');
    expect(run({ followsLit: '0' }).verdict).toBe('speaks-against');
    expect(run({ litShare: '50 ± 10 %' }).verdict).toBe('neutral');
  });

  test('refuses idle power above full power, and leaves out of an interval what would put it there', () => {
    expect(() => run({ powerIdle: '250 mW', powerFull: '100 mW' })).toThrow(
      'display-power: input "powerIdle" (250 mW) is above "powerFull" (100 mW); a dark or still picture takes no more than a ' +
        'full one: one of the two is wrong, or they are swapped',
    );
    const { values, notes } = run({ powerIdle: '90 ± 20 mW', powerFull: '100 ± 20 mW' });
    expect(values.saved.low).toBe(0);
    // Idle 70 of full 120 mW with 20 % lit: by hand 100 (1 - (70 + 0.2 × 50)/120).
    expect(values.saved.high).toBeCloseTo(100 * (1 - 80 / 120), 9);
    expect(values.powerOn.high).toBeCloseTo(112, 9);
    expect(notes).toEqual([
      'powerIdle cannot be above powerFull: what would put it there is left out of both intervals.',
    ]);
  });

  test('asks for what is missing', () => expectToAskForEachInput(displayPower, inputs(selfLit)));
});
