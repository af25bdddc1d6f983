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
    rest: { unit: 'g', meaning: 'Mass of all else; below 0 one of the masses is wrong.' },
  },
  furtherOutputs: {
    volumeShare: { unit: '%', meaning: 'Volume of the subsystem over that of the device.' },
    density: { unit: 'g/cm3', meaning: 'Density of the subsystem.' },
  },
  formula: 'share = m/M and v/V; density = m/v',
  source: 'Balance of mass and volume',
  limits:
    'Masses weighed on one scale, adhesive counted where it stays. The verdict is on a device built around that subsystem and ' +
    'a rule of this check: supports from a quarter of the mass, speaks against up to a twentieth, or when the part outweighs the whole.',
  hazards: ['lithium-cell'],
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
    if (rest.high < 0) {
      return {
        verdict: 'speaks-against',
        sentence: `The part outweighs the whole by ${formatValue({ ...rest, value: -rest.value, low: -rest.high, high: -rest.low })}: one of the masses is wrong.`,
      };
    }
    const volume = volumeShare ? ` and ${formatValue(volumeShare)} of the volume` : '';
    return {
      verdict: share.low >= 25 && rest.low >= 0 ? 'supports' : share.high <= 5 ? 'speaks-against' : 'neutral',
      sentence: `The subsystem makes ${formatValue(share)} of the mass${volume}; ${formatValue(rest)} are left for all else.`,
    };
  },
});
