import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const rateFromTwoAccelerometers = defineCheck({
  name: 'rate-from-two-accelerometers',
  title: 'Rate of turn from two accelerometers a known distance apart',
  required: {
    distance: {
      unit: 'mm',
      above: 0,
      meaning: 'Distance of the two accelerometers on the board.',
      typical: { low: 5, high: 40, note: 'common practice, no source' },
    },
    noise: {
      unit: 'm/s2',
      above: 0,
      meaning: 'Root-mean-square noise of one reading.',
      typical: { low: 0.005, high: 0.05, note: 'common practice, no source' },
    },
    rateWanted: {
      unit: 'deg/s',
      above: 0,
      meaning: 'Rate of turn that the device is to measure.',
      typical: { low: 50, high: 1000, note: 'common practice, no source' },
    },
  },
  optional: {
    difference: { unit: 'm/s2', min: 0, meaning: 'Difference of the two readings along their line.' },
  },
  outputs: {
    floor: {
      unit: 'deg/s',
      meaning: 'Smallest rate that stands out of the noise at one standard deviation.',
    },
    margin: { unit: '1', meaning: 'Rate wanted over the floor.' },
  },
  furtherOutputs: { rate: { unit: 'deg/s', meaning: 'Rate of turn that the difference stands for.' } },
  formula: 'ω = √(Δa/d); floor: √(√2 σ/d), the noise of a difference being √2 times that of one reading',
  source: 'Rigid-body kinematics: centripetal accelerations along the line of the sensors differ by ω² d',
  limits:
    'A rigid board turning about an axis at right angles to the line of the sensors; independent noise, alignment ' +
    'and scale errors left out, so the true floor is higher. The sign of the turn is not known. ' +
    'The verdict is a rule of this check: supports from a margin of 3, speaks against below 1.',
  compute({ distance, noise, rateWanted, difference }) {
    const floor = rateOf(Math.SQRT2 * noise, distance);
    return {
      floor,
      margin: rateWanted / floor,
      rate: difference === undefined ? undefined : rateOf(difference, distance),
    };
  },
  judge({ floor, margin, rate }, { distance }) {
    const reading = rate ? ` The difference given stands for ${formatValue(rate)}.` : '';
    return {
      verdict: margin.low >= 3 ? 'supports' : margin.high < 1 ? 'speaks-against' : 'neutral',
      sentence:
        `At ${formatValue(distance)} apart the two accelerometers resolve rates from ${formatValue(floor)} on, ` +
        `a margin of ${formatValue(margin)} below the rate wanted.${reading}`,
    };
  },
});

/** Degrees a second from m/s² over a distance in mm. */
function rateOf(difference: number, distance: number): number {
  return (Math.sqrt(difference / (distance / 1000)) * 180) / Math.PI;
}
