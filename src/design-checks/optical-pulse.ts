import type { CheckedValue } from './box.ts';
import { defineCheck } from './check.ts';
import { formatValue, shortNumber } from './format-value.ts';

/** Molar extinction of haemoglobin at one wavelength, 1/(cm M), with and without oxygen. */
interface Extinction {
  readonly oxygenated: number;
  readonly deoxygenated: number;
}

/** A published table of the extinction of haemoglobin, at the two wavelengths of a pulse oximeter. */
export interface ExtinctionTable {
  readonly red660: Extinction;
  readonly infrared940: Extinction;
}

/** After W. B. Gratzer and N. Kollias, as compiled by S. Prahl; see the source of the check. */
export const GRATZER_KOLLIAS: ExtinctionTable = {
  red660: { oxygenated: 319.6, deoxygenated: 3226.56 },
  infrared940: { oxygenated: 1214, deoxygenated: 693.44 },
};

/** After J. M. Schmitt and M. K. Moaveni, as compiled by S. Prahl; see the source of the check. */
export const SCHMITT_MOAVENI: ExtinctionTable = {
  red660: { oxygenated: 320, deoxygenated: 3200 },
  infrared940: { oxygenated: 1200, deoxygenated: 800 },
};

/** What the blood absorbs at a saturation from 0 to 1, 1/(cm M): a mixture adds up (Beer–Lambert). */
function absorbed(at: Extinction, saturation: number): number {
  return saturation * at.oxygenated + (1 - saturation) * at.deoxygenated;
}

/** Ratio of ratios, pulsing over steady light at 660 nm by the same at 940 nm, at a saturation from 0 to 1. */
export function ratioOfRatios(saturation: number, table = GRATZER_KOLLIAS): number {
  return absorbed(table.red660, saturation) / absorbed(table.infrared940, saturation);
}

/** The saturation from 0 to 1 that a ratio of ratios stands for, the nearer end where no mixture gives the ratio. */
export function saturationOf(ratio: number, { red660, infrared940 } = GRATZER_KOLLIAS): number {
  const red = red660.deoxygenated - red660.oxygenated;
  const infrared = infrared940.deoxygenated - infrared940.oxygenated;
  return share((red660.deoxygenated - ratio * infrared940.deoxygenated) / (red - ratio * infrared));
}

/** The empirical line that firmware often starts from, 110 - 25 R in per cent; a saturation from 0 to 1. Common practice, no source. */
export function saturationByLine(ratio: number): number {
  return share((110 - 25 * ratio) / 100);
}

function share(value: number): number {
  return Math.min(1, Math.max(0, value));
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
      beyond: 'sources of more are not known (common practice, no source)',
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
    saturation: {
      unit: '%',
      meaning: 'Saturation that the ratio stands for by Beer–Lambert alone, table of Gratzer and Kollias.',
    },
    saturationByOtherTable: { unit: '%', meaning: 'The same by the table of Schmitt and Moaveni.' },
    saturationByLine: {
      unit: '%',
      meaning: 'Saturation by the empirical line 110 - 25 R (common practice, no source).',
    },
  },
  formula:
    'R = (S e660,O + (1 - S) e660,H)/(S e940,O + (1 - S) e940,H), solved for S; pulse over noise = 20 log10(pulse/noise)',
  source:
    'Beer–Lambert; molar extinction of haemoglobin in water compiled by S. Prahl: after W. B. Gratzer and N. Kollias ' +
    '(omlc.org/spectra/hemoglobin/summary.html, 1998, year from memory), and the other table after J. M. Schmitt, Stanford ' +
    'technical report G558-15, and M. K. Moaveni, dissertation, University of Washington, 1970 ' +
    '(omlc.org/spectra/hemoglobin/moaveni.html)',
  limits:
    'Two narrow sources at 660 and 940 nm and no scattering. Tissue scatters, so real devices are calibrated against ' +
    'measurements on people: beside the empirical line 110 - 25 R (common practice, no source) Beer–Lambert is 5 points low ' +
    'at R = 0.4 and 11 points low at R = 1. Not for medical use. ' +
    'The verdict is a rule of this check: supports from 20 dB of pulse over noise, speaks against below 6 dB.',
  hazards: ['optical-radiation'],
  compute({ wavelengths, pulseShare, noiseShare, ratioOfRatios: ratio }) {
    const by = (saturation: (ratio: number) => number) =>
      ratio === undefined || wavelengths < 2 ? undefined : 100 * saturation(ratio);
    return {
      pulseOverNoise: 20 * Math.log10(pulseShare / noiseShare),
      unknowns: wavelengths,
      saturation: by((one) => saturationOf(one)),
      saturationByOtherTable: by((one) => saturationOf(one, SCHMITT_MOAVENI)),
      saturationByLine: by(saturationByLine),
    };
  },
  judge(
    { pulseOverNoise, saturation, saturationByOtherTable: other, saturationByLine: line },
    { wavelengths },
  ) {
    const stands = saturation && other && line ? ` ${saturationNote(saturation, other, line)}` : '';
    return {
      verdict: pulseOverNoise.low >= 20 ? 'supports' : pulseOverNoise.high < 6 ? 'speaks-against' : 'neutral',
      sentence:
        `The pulse stands ${formatValue(pulseOverNoise)} above what else varies. ` +
        `${wavelengthNote(wavelengths.value)}${stands} ${NOT_MEDICAL}`,
    };
  },
});

/** What the ratio stands for, by both tables, and how far the usual line lies from it. */
function saturationNote(saturation: CheckedValue, other: CheckedValue, line: CheckedValue): string {
  const points = line.value - saturation.value;
  return (
    `The ratio stands for ${formatValue(saturation)} by Beer–Lambert alone with the table of Gratzer and Kollias, ` +
    `${formatValue(other)} with that of Schmitt and Moaveni. The empirical line 110 - 25 R (common practice, no source) gives ` +
    `${formatValue(line)}, ${shortNumber(Math.abs(points))} points ${points < 0 ? 'less' : 'more'}: tissue scatters, and devices ` +
    'are calibrated for it on people.'
  );
}

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
