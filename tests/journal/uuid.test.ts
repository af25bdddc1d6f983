import { validate, version } from 'uuid';
import { expect, test } from 'vitest';
import { millisecondsOf, nextUuid, uuidVersion7 } from '../../src/journal/uuid.ts';

// RFC 9562, appendix A.6: Tuesday, February 22, 2022 2:22:22.00 PM GMT-05:00, with rand_a 0xCC3 and rand_b
// 0b01, 0x8C4DC0C0C07398F.
const EXAMPLE = '017f22e2-79b0-7cc3-98c4-dc0c0c07398f';
const INSTANT = Date.parse('2022-02-22T14:22:22.000-05:00');

test('gives the example of RFC 9562, whatever bits were in place of time, version and variant', () => {
  for (const rest of ['0000000000000cc318c4dc0c0c07398f', 'fffffffffffffcc3d8c4dc0c0c07398f']) {
    const random = Buffer.from(rest, 'hex');
    expect(uuidVersion7(INSTANT, random)).toBe(EXAMPLE);
  }
});

test('the instant can be read from an id, and from nothing else', () => {
  expect(millisecondsOf(EXAMPLE)).toBe(INSTANT);
  for (const now of [0, Date.parse('2026-03-01T10:00:00.123Z'), 2 ** 48 - 1])
    expect(millisecondsOf(uuidVersion7(now))).toBe(now);
  // RFC 9562, appendix A.3: a version 4.
  expect(millisecondsOf('919108f7-52d1-4320-9bac-f847db4148a8')).toBeUndefined();
  expect(millisecondsOf('')).toBeUndefined();
});

test('ids differ within one millisecond', () => {
  expect(new Set(Array.from({ length: 1_000 }, () => uuidVersion7(INSTANT))).size).toBe(1_000);
});

test('ids given in one process are in order, within one millisecond and over several', () => {
  const instants = [...Array(2_000).fill(INSTANT), ...Array(500).fill(INSTANT + 1), INSTANT + 5];
  const ids = instants.map((instant) => nextUuid(instant));
  expect(ids).toEqual(ids.toSorted());
  expect(new Set(ids).size).toBe(ids.length);
  expect(ids.map(millisecondsOf)).toEqual(instants);
  expect(ids.every((id) => validate(id) && version(id) === 7)).toBe(true);
});
