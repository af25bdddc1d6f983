import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ClockCorrected } from '../../src/model/clock.ts';
import { shiftOf, Timeline } from '../../src/state/past/timeline.ts';

// The definition, calculated entry by entry: an entry counts from the latest instant, as corrected, of those up to itself.

const MINUTE = 60_000;
const START = Date.UTC(2026, 0, 1);
const at = (minutes: number) => new Date(START + minutes * MINUTE).toISOString();

interface Written {
  readonly minutes: number;
  readonly correction?: ClockCorrected;
}

const journals = fc.array(
  fc.record(
    {
      minutes: fc.integer({ min: 0, max: 12 }),
      correction: fc.record({
        first: fc.integer({ min: 1, max: 12 }),
        last: fc.integer({ min: 1, max: 12 }),
        shift: fc.integer({ min: -9, max: 9 }).map((minutes) => minutes * MINUTE),
      }),
    },
    { requiredKeys: ['minutes'] },
  ),
  { minLength: 1, maxLength: 12 },
);

function timelineOf(written: readonly Written[]): Timeline {
  const timeline = new Timeline();
  written.forEach(({ minutes, correction }, i) => {
    timeline.note({ sequence: i + 1, instant: at(minutes) }, correction);
    // Asking in between must not leave anything behind.
    timeline.sequenceAt(at(5));
  });
  return timeline;
}

function countsFrom(written: readonly Written[]): readonly number[] {
  const corrections = written.flatMap(({ correction }) => correction ?? []);
  const corrected = written.map(({ minutes }, i) => {
    const own = corrections.filter(({ first, last }) => first <= i + 1 && i + 1 <= last);
    return START + minutes * MINUTE + own.reduce((sum, { shift }) => sum + shift, 0);
  });
  return corrected.map((_, i) => Math.max(...corrected.slice(0, i + 1)));
}

describe('when entries count as written', () => {
  test('is the latest instant so far, as corrected, whatever clocks did', () => {
    fc.assert(
      fc.property(journals, (written) => {
        const timeline = timelineOf(written);
        const expected = countsFrom(written);
        for (const [i, instant] of expected.entries())
          expect(timeline.instantOf(i + 1)).toBe(new Date(instant).toISOString());
        for (let minutes = -10; minutes < 24; minutes++)
          expect(timeline.sequenceAt(at(minutes))).toBe(
            expected.filter((instant) => instant <= START + minutes * MINUTE).length,
          );
      }),
      { numRuns: 300 },
    );
  });

  test('a clock once ahead hides no later entry once it is corrected', () => {
    const written: Written[] = [{ minutes: 0 }, { minutes: 500_000 }, { minutes: 2 }, { minutes: 3 }];
    const before = timelineOf(written);
    expect(before.sequenceAt(at(3))).toBe(1);
    const shift = shiftOf(before, 2, 2, at(1), new Date(at(10)));
    const after = timelineOf([...written, { minutes: 4, correction: { first: 2, last: 2, shift } }]);
    expect([0, 1, 2, 3, 4].map((minutes) => after.sequenceAt(at(minutes)))).toEqual([1, 2, 3, 4, 5]);
  });

  test('refuses to correct entries that there are not, into the future, and what is so already', () => {
    const timeline = timelineOf([{ minutes: 0 }, { minutes: 1 }]);
    const shift = (first: number, last: number, minutes: number) => () =>
      shiftOf(timeline, first, last, at(minutes), new Date(at(5)));
    expect(shift(2, 3, 0)).toThrow('The journal has entries 1 to 2; 2 to 3 is no part of them');
    expect(shift(2, 1, 0)).toThrow('2 to 1 is no part of them');
    expect(shift(1, 2, 5)).toThrow(/Entry 2 would count as written at .*, which is in the future/u);
    expect(shift(2, 2, 1)).toThrow('counts as written at');
    expect(shift(1, 2, 4)()).toBe(4 * MINUTE);
  });
});
