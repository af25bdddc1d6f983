import { expect, test } from 'vitest';
import { LONGEST_HOLD, PAUSES, pauseAfter, retryAfter } from '../../../src/service/webhooks/retries.ts';

test('messages are tried as the example schedule of Standard Webhooks 1.0.0 has it: "Time since start"', () => {
  const since = [
    '00:00:05',
    '00:05:05',
    '00:35:05',
    '02:35:05',
    '07:35:05',
    '17:35:05',
    '31:35:05',
    '51:35:05',
    '75:35:05',
  ];
  let ms = 0;
  const reached = PAUSES.map((pause) => {
    ms += pause;
    const two = (value: number) => String(Math.floor(value)).padStart(2, '0');
    return `${two(ms / 3_600_000)}:${two((ms / 60_000) % 60)}:${two((ms / 1_000) % 60)}`;
  });
  expect(reached).toEqual(since);
});

test('a pause is drawn up to a tenth longer, and there is none after the last', () => {
  expect(pauseAfter(1, 0)).toBe(5_000);
  expect(pauseAfter(1, 1)).toBe(5_500);
  expect(pauseAfter(PAUSES.length, 0)).toBe(24 * 3_600_000);
  expect(pauseAfter(PAUSES.length + 1, 0)).toBeUndefined();
});

test('Retry-After is in seconds or an HTTP-date (RFC 9110, section 10.2.3, its own examples), bounded', () => {
  const now = Date.UTC(1999, 11, 31, 23, 59, 0);
  expect(retryAfter('Fri, 31 Dec 1999 23:59:59 GMT', now)).toBe(59_000);
  expect(retryAfter('120', now)).toBe(120_000);
  expect(retryAfter('Fri, 31 Dec 1999 23:58:00 GMT', now)).toBe(0);
  expect(retryAfter('99999999999', now)).toBe(LONGEST_HOLD);
  for (const wrong of [undefined, '', 'soon', '-5', '1.5', '1e3'])
    expect(retryAfter(wrong, now), wrong).toBeUndefined();
});
