import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { certainlyBefore, dateRange, isPartialDate, yearOf } from '../../src/model/dates.ts';

describe('dates after ISO 8601 at the precision known', () => {
  // Leap years after ISO 8601-1:2019, 3.1.1.21: 2000 is one, 1900 is none.
  test.each(['2019', '2019-04', '2019-04-17', '2020-02-29', '2000-02-29', '2019-12-31'])('%s', (date) => {
    expect(isPartialDate(date)).toBe(true);
  });
  test.each([
    '',
    '19',
    '2019-4',
    '2019-13',
    '2019-00',
    '2019-04-31',
    '2019-02-29',
    '1900-02-29',
    '2019/04',
    '17.4.2019',
    '2019-04-17T00:00',
  ])('"%s" is none', (date) => {
    expect(isPartialDate(date)).toBe(false);
  });
});

test('a month or a year means all of its days', () => {
  expect(dateRange('2019')).toEqual({ first: '2019-01-01', last: '2019-12-31' });
  expect(dateRange('2020-02')).toEqual({ first: '2020-02-01', last: '2020-02-29' });
  expect(dateRange('2019-04-17')).toEqual({ first: '2019-04-17', last: '2019-04-17' });
  expect(yearOf('2019-04')).toBe(2019);
});

test('only dates whose ranges do not overlap have a certain order', () => {
  expect(certainlyBefore('2018', '2019-01-01')).toBe(true);
  expect(certainlyBefore('2019', '2019-06')).toBe(false);
  expect(certainlyBefore('2019-06', '2019')).toBe(false);
  expect(certainlyBefore('2019-05-31', '2019-06')).toBe(true);
});

test('every calendar day is a date, and days keep their order', () => {
  const day = fc
    .date({ min: new Date('1900-01-01'), max: new Date('2099-12-31'), noInvalidDate: true })
    .map((date) => date.toISOString().slice(0, 10));
  fc.assert(
    fc.property(day, day, (a, b) => {
      expect(isPartialDate(a)).toBe(true);
      expect(certainlyBefore(a, b)).toBe(Date.parse(a) < Date.parse(b));
    }),
  );
});
