import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

/** J/K, exact in the SI since 2019. */
const BOLTZMANN = 1.380649e-23;

export const johnsonNoise = defineCheck({
  name: 'johnson-noise',
  title: 'Thermal noise of a source resistance against the noise of its amplifier',
  required: {
    resistance: {
      unit: 'Ohm',
      above: 0,
      meaning: 'Resistance of the sensor or of its contact.',
      typical: { low: 1000, high: 1000000, note: 'common practice, no source' },
    },
    temperature: {
      unit: 'K',
      above: 0,
      meaning: 'Temperature of the resistance.',
      typical: { low: 288, high: 313, note: 'common practice, no source' },
    },
    bandwidth: {
      unit: 'Hz',
      above: 0,
      meaning: 'Bandwidth of the reading (equivalent noise bandwidth).',
      typical: { low: 40, high: 250, note: 'common practice, no source' },
    },
    inputNoise: {
      unit: 'nV',
      above: 0,
      meaning: 'Input-referred noise of the amplifier, root mean square over the same bandwidth.',
      typical: { low: 300, high: 5000, note: 'common practice, no source' },
    },
  },
  outputs: {
    density: { unit: 'nV', meaning: 'Thermal noise of the resistance in a bandwidth of 1 Hz.' },
    thermalNoise: { unit: 'nV', meaning: 'Thermal noise of the resistance over the bandwidth.' },
    total: { unit: 'nV', meaning: 'Both noises together.' },
    amplifierOverThermal: { unit: 'dB', meaning: 'Noise of the amplifier against that of the resistance.' },
  },
  formula: 'e = √(4 k T R B); total = √(e² + amplifier²)',
  source: 'Johnson, Phys. Rev. 32 (1928) 97-109; Nyquist, Phys. Rev. 32 (1928) 110-113; k from the SI',
  limits:
    'A resistance in thermal balance; current noise of the amplifier and noise of an electrode contact come on top. ' +
    'The verdict is a rule of this check: a quiet amplifier is well spent when its own noise is not above that of ' +
    'the source (supports), and is the weak place when 10 dB above it (speaks against).',
  hazards: ['electrode', 'probing'],
  compute({ resistance, temperature, bandwidth, inputNoise }) {
    const density = Math.sqrt(4 * BOLTZMANN * temperature * resistance) * 1e9;
    const thermalNoise = density * Math.sqrt(bandwidth);
    return {
      density,
      thermalNoise,
      total: Math.hypot(thermalNoise, inputNoise),
      amplifierOverThermal: 20 * Math.log10(inputNoise / thermalNoise),
    };
  },
  judge({ thermalNoise, total, amplifierOverThermal }) {
    return {
      verdict:
        amplifierOverThermal.high <= 0
          ? 'supports'
          : amplifierOverThermal.low >= 10
            ? 'speaks-against'
            : 'neutral',
      sentence:
        `The source itself has ${formatValue(thermalNoise)} of thermal noise, with the amplifier ${formatValue(total)}; ` +
        `the amplifier stands at ${formatValue(amplifierOverThermal)} against the source.`,
    };
  },
});
