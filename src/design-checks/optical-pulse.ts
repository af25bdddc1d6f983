import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

/** Molar extinction of haemoglobin, 1/(cm M), with and without oxygen. */
interface Extinction {
  readonly oxygenated: number;
  readonly deoxygenated: number;
}

// Compilation by S. Prahl (Oregon Medical Laser Center) after Gratzer and Kollias, haemoglobin in water.
const AT_660_NM: Extinction = { oxygenated: 319.6, deoxygenated: 3226.56 };
const AT_940_NM: Extinction = { oxygenated: 1214.0, deoxygenated: 693.44 };

/** What the blood absorbs at a saturation from 0 to 1, 1/(cm M): a mixture adds up (Beer–Lambert). */
function absorbed(at: Extinction, saturation: number): number {
  return saturation * at.oxygenated + (1 - saturation) * at.deoxygenated;
}

/** Ratio of ratios, pulsing over steady light at 660 nm by the same at 940 nm, at a saturation from 0 to 1. */
export function ratioOfRatios(saturation: number): number {
  return absorbed(AT_660_NM, saturation) / absorbed(AT_940_NM, saturation);
}

/** The saturation from 0 to 1 that a ratio of ratios stands for; outside that range no mixture gives the ratio. */
export function saturationOf(ratio: number): number {
  const red = AT_660_NM.deoxygenated - AT_660_NM.oxygenated;
  const infrared = AT_940_NM.deoxygenated - AT_940_NM.oxygenated;
  return (AT_660_NM.deoxygenated - ratio * AT_940_NM.deoxygenated) / (red - ratio * infrared);
}

const NOT_MEDICAL = 'This is arithmetic on a design and no medical advice.';

export const opticalPulse = defineCheck({
  name: 'optical-pulse',
  title: 'What light of one, two or three wavelengths can show about a pulse',
  required: {
    wavelengths: {
      unit: '1',
      min: 1,
      max: 8,
      whole: true,
      meaning: 'Number of different wavelengths sent, ambient light left out.',
      typical: { low: 1, high: 4, note: 'common practice, no source' },
    },
    pulseShare: {
      unit: '%',
      above: 0,
      max: 100,
      meaning: 'Part of the received light that pulses.',
      typical: { low: 0.1, high: 5, note: 'common practice, no source' },
    },
    noiseShare: {
      unit: '%',
      above: 0,
      max: 100,
      meaning: 'Noise and stray light that vary, as a part of the received light.',
      typical: { low: 0.005, high: 0.5, note: 'common practice, no source' },
    },
  },
  optional: {
    ratioOfRatios: {
      unit: '1',
      min: ratioOfRatios(1),
      max: ratioOfRatios(0),
      meaning: 'Pulsing over steady light at 660 nm, divided by the same at 940 nm; needs two wavelengths.',
      typical: { low: 0.3, high: 1.1, note: 'common practice, no source' },
    },
  },
  outputs: {
    pulseOverNoise: { unit: 'dB', meaning: 'Pulsing light against what else varies.' },
    unknowns: {
      unit: '1',
      meaning: 'Absorbing substances that so many wavelengths can distinguish at most.',
    },
  },
  furtherOutputs: {
    saturation: { unit: '%', meaning: 'Saturation that the ratio stands for by Beer–Lambert alone.' },
  },
  formula:
    'R = (S e660,O + (1 - S) e660,H)/(S e940,O + (1 - S) e940,H), solved for S; pulse over noise = 20 log10(pulse/noise)',
  source:
    'Beer–Lambert; molar extinction of haemoglobin compiled by S. Prahl (Oregon Medical Laser Center) after Gratzer and Kollias',
  limits:
    'Two narrow sources at 660 and 940 nm and no scattering. Tissue scatters, so real devices are calibrated against ' +
    'measurements on people and this saturation is off by several per cent. Not for medical use. ' +
    'The verdict is a rule of this check: supports from 20 dB of pulse over noise, speaks against below 6 dB.',
  compute({ wavelengths, pulseShare, noiseShare, ratioOfRatios: ratio }) {
    return {
      pulseOverNoise: 20 * Math.log10(pulseShare / noiseShare),
      unknowns: wavelengths,
      saturation: ratio === undefined || wavelengths < 2 ? undefined : 100 * saturationOf(ratio),
    };
  },
  judge({ pulseOverNoise, saturation }, { wavelengths }) {
    const stands = saturation
      ? ` The ratio stands for ${formatValue(saturation)} by Beer–Lambert alone, without calibration.`
      : '';
    return {
      verdict: pulseOverNoise.low >= 20 ? 'supports' : pulseOverNoise.high < 6 ? 'speaks-against' : 'neutral',
      sentence:
        `The pulse stands ${formatValue(pulseOverNoise)} above what else varies. ` +
        `${wavelengthNote(wavelengths.value)}${stands} ${NOT_MEDICAL}`,
    };
  },
});

/** One equation for each wavelength: as many absorbing substances can be distinguished, if their spectra differ there. */
function wavelengthNote(wavelengths: number): string {
  if (wavelengths === 1) {
    return 'One wavelength shows the rate of the pulse and cannot tell oxygenated from deoxygenated blood.';
  }
  if (wavelengths === 2) {
    return (
      'Two wavelengths on different sides of about 800 nm can show the saturation as well, but no third absorber, ' +
      'and movement looks like blood.'
    );
  }
  return (
    `${wavelengths === 3 ? 'Three' : wavelengths} wavelengths can in addition separate a further absorber or movement, ` +
    'if their spectra differ at these wavelengths; they may as well serve the pulse on different skins.'
  );
}
