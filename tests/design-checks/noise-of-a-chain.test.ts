import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { noiseFactorOfChain, noiseOfAChain } from '../../src/design-checks/noise-of-a-chain.ts';
import { expectToAskForEachInput, inputs, reference } from './quantities.ts';

// Front end of a receiver: Pozar, Microwave Engineering, noise figure of cascaded components (printed: F = 1.80, 2.55 dB).
const { friis } = reference('signal');
const receiver = {
  gain: '10 dB',
  noiseFigure: '2 dB',
  linkLoss: '1 dB',
  followingNoiseFigure: '4 dB',
};
const dB = (value: number) => ({ value, unit: 'dB' });

describe('noise of a chain', () => {
  test('is that of the textbook receiver in both orders', () => {
    const [amplifier, filter, mixer] = friis.stages.map((stage: Record<string, number>) => ({
      gain: stage.gain_dB,
      noiseFigure: stage.noise_figure_dB,
    }));
    expect(noiseFactorOfChain([amplifier, filter, mixer])).toBeCloseTo(friis.noise_factor, 4);
    expect(noiseFactorOfChain([filter, amplifier, mixer])).toBeCloseTo(friis.filter_first.noise_factor, 4);
    const { values } = noiseOfAChain.run(inputs(receiver));
    expect(values.atSensor.value).toBeCloseTo(friis.noise_figure_dB, 4);
    expect(values.afterLink.value).toBeCloseTo(friis.filter_first.noise_figure_dB, 4);
    expect(values.bought).toMatchObject({ unit: 'dB', value: expect.closeTo(3.3957 - 2.5554, 3) });
  });

  test('supports the amplifier at the sensor when the link loses much, not when it loses nothing', () => {
    expect(noiseOfAChain.run(inputs({ ...receiver, linkLoss: '6 dB' })).verdict).toBe('supports');
    expect(noiseOfAChain.run(inputs(receiver)).verdict).toBe('neutral');
    expect(noiseOfAChain.run(inputs({ ...receiver, linkLoss: '0 dB' })).verdict).toBe('speaks-against');
    // An interval across the threshold settles nothing.
    expect(noiseOfAChain.run(inputs({ ...receiver, linkLoss: '2 ± 2 dB' })).verdict).toBe('neutral');
  });

  test('the interval holds every value that the inputs allow', () => {
    const spread = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(spread, spread, spread, spread), ([a, b, c, d]) => {
        const wide = noiseOfAChain.run(
          inputs({
            gain: '10 ± 1 dB',
            noiseFigure: '2 ± 1 dB',
            linkLoss: '1 ± 1 dB',
            followingNoiseFigure: '4 ± 1 dB',
          }),
        );
        const one = noiseOfAChain.run({
          gain: dB(10 + a),
          noiseFigure: dB(2 + b),
          linkLoss: dB(1 + c),
          followingNoiseFigure: dB(4 + d),
        });
        for (const [name, { value }] of Object.entries(one.values)) {
          expect(value).toBeGreaterThanOrEqual(wide.values[name].low - 1e-12);
          expect(value).toBeLessThanOrEqual(wide.values[name].high + 1e-12);
        }
      }),
      { numRuns: 100 },
    );
  });

  test('asks for what is missing', () => expectToAskForEachInput(noiseOfAChain, inputs(receiver)));
});
