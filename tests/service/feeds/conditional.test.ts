import { expect, test } from 'vitest';
import { httpDate, precondition } from '../../../src/service/feeds/conditional.ts';

// RFC 9110, sections 5.6.1, 5.6.7, 8.8.3 and 13; section numbers stand beside each.

const MODIFIED = Date.UTC(1994, 9, 29, 19, 43, 31);
const asked = (headers: Record<string, string>) =>
  precondition(headers, { etag: '"xyzzy"', modified: MODIFIED });

test('an entity tag is compared weakly in If-None-Match, alone, in a list, and by * (13.1.2, 8.8.3.2)', () => {
  for (const field of [
    '"xyzzy"',
    'W/"xyzzy"',
    '"r2d2xxxx", "xyzzy", "c3piozzzz"',
    'W/"r2d2xxxx",W/"xyzzy"',
    '*',
    // Empty members of a list are to be taken (5.6.1.2).
    ', "a",,\t"xyzzy" ,',
    // A comma may stand in a tag (8.8.3, etagc).
    '"a,b", "xyzzy"',
  ])
    expect(asked({ 'if-none-match': field }), field).toBe(304);
  for (const field of [
    '"xyzz"',
    '"XYZZY"',
    'xyzzy',
    '"a, \\"xyzzy\\""',
    'w/"xyzzy"',
    '"xyzzy" "a"',
    '',
    '"a,xyzzy"',
  ])
    expect(asked({ 'if-none-match': field }), field).toBeUndefined();
});

test('If-Match wants strong comparison: a weak tag never matches (13.1.1)', () => {
  expect(asked({ 'if-match': '"xyzzy"' })).toBeUndefined();
  expect(asked({ 'if-match': '*' })).toBeUndefined();
  expect(asked({ 'if-match': 'W/"xyzzy"' })).toBe(412);
  expect(asked({ 'if-match': '"a", "b"' })).toBe(412);
});

test('dates are compared to the second, and what is no HTTP-date is ignored (13.1.3, 13.1.4)', () => {
  expect(asked({ 'if-modified-since': 'Sat, 29 Oct 1994 19:43:31 GMT' })).toBe(304);
  expect(asked({ 'if-modified-since': 'Sat, 29 Oct 1994 19:43:32 GMT' })).toBe(304);
  expect(asked({ 'if-modified-since': 'Sat, 29 Oct 1994 19:43:30 GMT' })).toBeUndefined();
  expect(asked({ 'if-modified-since': '2030-01-01T00:00:00Z' })).toBeUndefined();
  expect(asked({ 'if-unmodified-since': 'Sat, 29 Oct 1994 19:43:31 GMT' })).toBeUndefined();
  expect(asked({ 'if-unmodified-since': 'Sat, 29 Oct 1994 19:43:30 GMT' })).toBe(412);
  expect(asked({ 'if-unmodified-since': 'yesterday' })).toBeUndefined();
});

test('entity tags go before dates, and wanting another representation before having this one (13.2.2)', () => {
  const late = 'Sat, 29 Oct 2044 19:43:31 GMT';
  const early = 'Sat, 29 Oct 1984 19:43:31 GMT';
  expect(asked({ 'if-none-match': '"other"', 'if-modified-since': late })).toBeUndefined();
  expect(asked({ 'if-none-match': '"xyzzy"', 'if-modified-since': early })).toBe(304);
  expect(asked({ 'if-match': '"xyzzy"', 'if-unmodified-since': early })).toBeUndefined();
  expect(asked({ 'if-match': '"other"', 'if-none-match': '"xyzzy"' })).toBe(412);
});

test('where there is no modification date, conditions about it are ignored (13.1.3, 13.1.4)', () => {
  const late = 'Sat, 29 Oct 2044 19:43:31 GMT';
  for (const name of ['if-modified-since', 'if-unmodified-since'])
    expect(precondition({ [name]: late }, { etag: '"a"' })).toBeUndefined();
});

test('the three forms of a date are read (5.6.7, its own examples), and near misses are not', () => {
  const example = Date.UTC(1994, 10, 6, 8, 49, 37);
  expect(httpDate('Sun, 06 Nov 1994 08:49:37 GMT')).toBe(example);
  expect(httpDate('Sunday, 06-Nov-94 08:49:37 GMT')).toBe(example);
  expect(httpDate('Sun Nov  6 08:49:37 1994')).toBe(example);
  // More than 50 years ahead is the century before.
  const now = Date.UTC(2026, 5, 1);
  expect(httpDate('Sunday, 06-Nov-76 08:49:37 GMT', now)).toBe(Date.UTC(1976, 10, 6, 8, 49, 37));
  expect(httpDate('Sunday, 06-Nov-75 08:49:37 GMT', now)).toBe(Date.UTC(2075, 10, 6, 8, 49, 37));
  for (const wrong of [
    'Sun, 06 Nov 1994 08:49:37',
    'sun, 06 nov 1994 08:49:37 gmt',
    'Sun, 31 Feb 1994 08:49:37 GMT',
    'Sun, 06 Nov 1994 24:49:37 GMT',
    '06 Nov 1994 08:49:37 GMT',
    '0',
  ])
    expect(httpDate(wrong), wrong).toBeUndefined();
});
