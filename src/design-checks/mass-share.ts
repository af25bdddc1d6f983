import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const massShare = defineCheck({
  name: 'mass-share',
  title: 'Share of a subsystem in mass and volume',
  required: {
    mass: {
      unit: 'g',
      above: 0,
      meaning: 'Mass of the subsystem, for example the battery.',
      typical: { low: 0.5, high: 15, note: 'common practice, no source' },
    },
    deviceMass: {
      unit: 'g',
      above: 0,
      meaning: 'Mass of the whole device, without strap if so stated.',
      typical: { low: 4, high: 60, note: 'common practice, no source' },
    },
  },
  optional: {
    volume: { unit: 'cm3', above: 0, meaning: 'Volume of the subsystem.' },
    deviceVolume: { unit: 'cm3', above: 0, meaning: 'Volume of the whole device.' },
  },
  outputs: {
    massShare: { unit: '%', meaning: 'Mass of the subsystem over that of the device.' },
    rest: { unit: 'g', meaning: 'Mass of all else.' },
  },
  furtherOutputs: {
    volumeShare: { unit: '%', meaning: 'Volume of the subsystem over that of the device.' },
    density: {
      unit: 'g/cm3',
      meaning: 'Density of the subsystem.',
      plausible: { high: 22.6, note: 'no metal is denser than osmium, 22.6 g/cm³ (from memory)' },
    },
  },
  formula: 'share = m/M and v/V; density = m/v',
  source: 'Balance of mass and volume',
  limits:
    'Masses weighed on one scale, adhesive counted where it stays. The verdict is on a device built around that subsystem and ' +
    'a rule of this check: supports from a quarter of the mass, speaks against up to a twentieth.',
  hazards: ['lithium-cell'],
  notAbove: [
    { lower: 'mass', upper: 'deviceMass', because: 'a part weighs no more than the whole' },
    { lower: 'volume', upper: 'deviceVolume', because: 'a part is no larger than the whole' },
  ],
  compute({ mass, deviceMass, volume, deviceVolume }) {
    return {
      massShare: (100 * mass) / deviceMass,
      rest: deviceMass - mass,
      volumeShare:
        volume === undefined || deviceVolume === undefined ? undefined : (100 * volume) / deviceVolume,
      density: volume === undefined ? undefined : mass / volume,
    };
  },
  judge({ massShare: share, rest, volumeShare }) {
    const volume = volumeShare ? ` and ${formatValue(volumeShare)} of the volume` : '';
    return {
      verdict: share.low >= 25 ? 'supports' : share.high <= 5 ? 'speaks-against' : 'neutral',
      sentence: `The subsystem makes ${formatValue(share)} of the mass${volume}; ${formatValue(rest)} are left for all else.`,
    };
  },
});
