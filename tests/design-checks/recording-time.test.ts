import { describe, expect, test } from 'vitest';
import { recordingTime } from '../../src/design-checks/recording-time.ts';
import { expectToAskForEachInput, inputs } from './quantities.ts';

const motion = {
  memory: '2.16 MB',
  channels: '3',
  resolutionBits: '16 bit',
  sampleRate: '100 Hz',
  timeWanted: '30 min',
};
const run = (given: Record<string, string>) => recordingTime.run(inputs({ ...motion, ...given }));

describe('recording time', () => {
  test('of an audio disc: two channels of 16 bits at 44.1 kHz make 1411.2 kbit/s, 74 minutes 783 MB', () => {
    // Figures of IEC 60908 (compact disc digital audio), from memory.
    const { values } = run({
      channels: '2',
      sampleRate: '44.1 kHz',
      memory: '783.216 MB',
      timeWanted: '74 min',
    });
    expect(values.dataRate.value).toBe(1_411_200);
    expect(values.lasts.value).toBeCloseTo(74 / 60, 9);
    expect(values.margin.value).toBeCloseTo(1, 9);
  });

  test('takes kibibytes for what they are', () => {
    // 2.16 megabytes are 17.28 megabits: 3600 s at 4800 bit/s.
    expect(run({}).values.lasts.value).toBeCloseTo(1, 12);
    expect(run({ memory: '1 MiB' }).values.lasts.value).toBeCloseTo(1.048576 / 2.16, 9);
  });

  test("holds the memory against the processor's own", () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ ownMemory: '64 KiB' }).verdict).toBe('supports');
    expect(run({ ownMemory: '1 MiB' }).verdict).toBe('supports');
    expect(run({ ownMemory: '1.5 MB' }).verdict).toBe('neutral');
    expect(run({ ownMemory: '4 MiB' }).verdict).toBe('speaks-against');
    expect(run({ timeWanted: '2 h' }).verdict).toBe('neutral');
    expect(run({ timeWanted: '20 d' }).verdict).toBe('speaks-against');
  });

  test('asks for what is missing', () => expectToAskForEachInput(recordingTime, inputs(motion)));
});
