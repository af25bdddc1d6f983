import { defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const recordingTime = defineCheck({
  name: 'recording-time',
  title: 'How long a memory holds recordings, and whether the memory of the processor would have done',
  required: {
    memory: {
      unit: 'kBy',
      above: 0,
      meaning: 'Size of the separate memory.',
      typical: { low: 500, high: 32000, note: 'common practice, no source' },
    },
    channels: {
      unit: '1',
      min: 1,
      whole: true,
      meaning: 'Number of channels or axes recorded.',
      typical: { low: 1, high: 9, note: 'common practice, no source' },
    },
    resolutionBits: {
      unit: 'bit',
      min: 1,
      whole: true,
      meaning: 'Bits of one sample as kept.',
      typical: { low: 8, high: 24, note: 'common practice, no source' },
    },
    sampleRate: {
      unit: 'Hz',
      above: 0,
      meaning: 'Samples a second on each channel.',
      typical: { low: 1, high: 100, note: 'common practice, no source' },
    },
    timeWanted: {
      unit: 'h',
      above: 0,
      meaning: 'Time that recordings must be held until they are fetched.',
      typical: { low: 8, high: 168, note: 'common practice, no source' },
    },
  },
  optional: {
    ownMemory: {
      unit: 'kBy',
      above: 0,
      meaning: "The processor's own memory, all of it, its program included.",
    },
  },
  outputs: {
    dataRate: { unit: 'bit/s', meaning: 'Data rate of all channels, not packed.' },
    lasts: { unit: 'h', meaning: 'Time until the separate memory is full.' },
    margin: { unit: '1', meaning: 'That time over the time wanted.' },
  },
  furtherOutputs: {
    ownLasts: { unit: 'h', meaning: "Time until the processor's own memory would be full at the latest." },
    ownMargin: { unit: '1', meaning: 'That time over the time wanted.' },
  },
  formula: 'data rate = channels × rate × bits; time = size/data rate',
  source: 'Definition of a data rate: bits over time',
  limits:
    'Raw samples without packing, headers or a file system; a device that keeps only results needs far less. The verdict is on ' +
    'memory added for recordings and a rule of this check: supports when the memory holds the time wanted and that of the processor ' +
    'would not (or is not known), speaks against when its own would hold it twice over, or the memory holds under a tenth of it.',
  compute({ memory, channels, resolutionBits, sampleRate, timeWanted, ownMemory }) {
    const dataRate = channels * sampleRate * resolutionBits;
    const hours = (kilobytes: number) => (kilobytes * 8000) / dataRate / 3600;
    const own = ownMemory === undefined ? undefined : hours(ownMemory);
    return {
      dataRate,
      lasts: hours(memory),
      margin: hours(memory) / timeWanted,
      ownLasts: own,
      ownMargin: own === undefined ? undefined : own / timeWanted,
    };
  },
  judge({ dataRate, lasts, margin, ownLasts, ownMargin }, { timeWanted }) {
    const against = (ownMargin?.low ?? 0) >= 2 || margin.high < 0.1;
    const supports = margin.low >= 1 && (ownMargin?.high ?? 0) < 1;
    const own = ownLasts
      ? ` The processor's own memory would be full after ${formatValue(ownLasts)} at the latest.`
      : '';
    return {
      verdict: against ? 'speaks-against' : supports ? 'supports' : 'neutral',
      sentence:
        `At ${formatValue(dataRate)} the memory is full after ${formatValue(lasts)}, ` +
        `${formatValue(margin)} times the ${formatValue(timeWanted)} wanted.${own}`,
    };
  },
});
