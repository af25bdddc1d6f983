import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const volumeShare = defineCheck({
  name: 'volume-share',
  title: 'Share of a part, such as the battery, in the volume of the device',
  required: {
    volume: {
      unit: 'cm3',
      above: 0,
      meaning: 'Volume of the part: length × width × height of its body.',
      typical: { low: 0.2, high: 5, note: 'common practice, no source' },
    },
    deviceVolume: {
      unit: 'cm3',
      above: 0,
      meaning: 'Volume of the device: length × width × height.',
      typical: { low: 1, high: 20, note: 'common practice, no source' },
    },
  },
  optional: {
    energy: { unit: 'W.h', above: 0, meaning: 'Energy the part holds, if it is a battery.' },
  },
  outputs: {
    volumeShare: { unit: '%', meaning: 'Volume of the part over that of the device.' },
    rest: { unit: 'cm3', meaning: 'Volume of all else.' },
  },
  furtherOutputs: {
    energyPerVolume: {
      unit: 'W.h/L',
      meaning: 'Energy over the volume of the part.',
      plausible: {
        low: 50,
        high: 1000,
        note: 'rechargeable lithium cells hold some 200 to 700 W·h/l (common practice, no source)',
      },
    },
  },
  formula: 'share = v/V; energy per volume = E/v',
  source: 'Balance of volume',
  limits:
    'Boxes around part and device: a rounded shell holds less than its box, so the true share is higher. The verdict is on a ' +
    'device built around that part and a rule of this check: supports from a quarter of the volume, speaks against up to a ' +
    'twentieth.',
  hazards: ['lithium-cell'],
  notAbove: [{ lower: 'volume', upper: 'deviceVolume', because: 'a part is no larger than the whole' }],
  compute({ volume, deviceVolume, energy }) {
    return {
      volumeShare: (100 * volume) / deviceVolume,
      rest: deviceVolume - volume,
      energyPerVolume: energy === undefined ? undefined : (energy * 1000) / volume,
    };
  },
  judge({ volumeShare: share, rest, energyPerVolume }) {
    const holds = energyPerVolume ? ` It holds ${formatValue(energyPerVolume)}.` : '';
    return {
      verdict: share.low >= 25 ? 'supports' : share.high <= 5 ? 'speaks-against' : 'neutral',
      sentence: `The part takes ${formatValue(share)} of the volume; ${formatValue(rest)} are left for all else.${holds}`,
    };
  },
});
