import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const sampling = defineCheck({
  name: 'sampling',
  title: 'Whether the sample rate is enough for the band and the bus enough for the data',
  required: {
    highestFrequency: {
      unit: 'Hz',
      above: 0,
      meaning: 'Highest frequency of interest in the signal.',
      typical: { low: 4, high: 20, note: 'common practice, no source' },
    },
    sampleRate: {
      unit: 'Hz',
      above: 0,
      meaning: 'Samples a second on each channel.',
      typical: { low: 10, high: 1000, note: 'common practice, no source' },
    },
    channels: {
      unit: '1',
      min: 1,
      whole: true,
      meaning: 'Number of channels or axes read.',
      typical: { low: 1, high: 9, note: 'common practice, no source' },
    },
    resolutionBits: {
      unit: 'bit',
      min: 1,
      whole: true,
      meaning: 'Bits of one sample on the bus.',
      typical: { low: 12, high: 24, note: 'common practice, no source' },
    },
    dataRateMax: {
      unit: 'bit/s',
      above: 0,
      meaning: 'Data rate that the bus can carry, or the radio alone.',
      typical: { low: 100000, high: 2000000, note: 'common practice, no source' },
    },
  },
  optional: {
    radioDataRateMax: {
      unit: 'bit/s',
      above: 0,
      meaning: 'Data rate that the radio can carry, beside that of the bus, if all data are sent at once.',
    },
    memory: { unit: 'kBy', above: 0, meaning: 'Memory that the samples are kept in.' },
  },
  outputs: {
    minimumRate: { unit: 'Hz', meaning: 'Rate that the sample rate must exceed.' },
    overSampling: { unit: '1', meaning: 'Sample rate over that rate.' },
    dataRate: { unit: 'bit/s', meaning: 'Data rate of all channels without overhead.' },
    share: { unit: '%', meaning: 'Share of the capacity of the bus.' },
  },
  furtherOutputs: {
    radioShare: { unit: '%', meaning: 'Share of the capacity of the radio.' },
    memoryLasts: { unit: 'h', meaning: 'Time until the memory is full.' },
  },
  formula: 'rate > 2 f; data rate = channels × rate × bits; memory lasts size/data rate',
  source: 'Shannon, Communication in the Presence of Noise, Proc. IRE 37 (1949) 10-21',
  limits:
    'A signal without power above the highest frequency; filters need room, addresses and acknowledgements of the bus ' +
    'are left out. The verdict is a rule of this check: supports when the rate is above the minimum and at most 80 % of the ' +
    'capacity is used, speaks against when the rate is too low or the capacity exceeded.',
  compute({ highestFrequency, sampleRate, channels, resolutionBits, dataRateMax, radioDataRateMax, memory }) {
    const dataRate = channels * sampleRate * resolutionBits;
    return {
      minimumRate: 2 * highestFrequency,
      overSampling: sampleRate / (2 * highestFrequency),
      dataRate,
      share: (100 * dataRate) / dataRateMax,
      radioShare: radioDataRateMax === undefined ? undefined : (100 * dataRate) / radioDataRateMax,
      memoryLasts: memory === undefined ? undefined : (memory * 8000) / dataRate / 3600,
    };
  },
  judge({ minimumRate, overSampling, dataRate, share, radioShare, memoryLasts }) {
    const fits = overSampling.low > 1 && Math.max(share.high, radioShare?.high ?? 0) <= 80;
    const fails = overSampling.high <= 1 || Math.max(share.low, radioShare?.low ?? 0) > 100;
    const sent = radioShare ? ` and ${formatValue(radioShare)} of that of the radio` : '';
    const lasts = memoryLasts ? ` The memory is full after ${formatValue(memoryLasts)}.` : '';
    return {
      verdict: fits ? 'supports' : fails ? 'speaks-against' : 'neutral',
      sentence:
        `The band wants more than ${formatValue(minimumRate)}; the sample rate is ${formatValue(overSampling)} times that. ` +
        `The data make ${formatValue(dataRate)}, ${formatValue(share)} of the capacity${sent}.${lasts}`,
    };
  },
});
