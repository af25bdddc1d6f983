import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { isGtin, isIngressCode, PART_NUMBER, SLUG, splitFccId } from '../../src/model/identifiers.ts';

const reference = JSON.parse(readFileSync(new URL('../reference/identifiers.json', import.meta.url), 'utf8'));

// GS1 General Specifications, check digit calculation; 6291041500213 is the example of GS1's own guide.
describe('trade item numbers', () => {
  test.each(reference.gtin.valid as string[])('%s', (number) => expect(isGtin(number)).toBe(true));
  test.each(reference.gtin.invalid as string[])('"%s" is none', (number) =>
    expect(isGtin(number)).toBe(false),
  );
});

// 47 CFR 2.926: grantee code, then a product code of at most 14 characters.
describe('FCC identifiers', () => {
  test.each(reference.fcc_id.valid as string[])('%s', (id) => expect(splitFccId(id)).toBeDefined());
  test.each(reference.fcc_id.invalid as string[])('"%s" is none', (id) =>
    expect(splitFccId(id)).toBeUndefined(),
  );
  test.each(reference.fcc_id.split as { id: string; grantee: string; product: string }[])(
    '$id is of grantee $grantee',
    ({ id, grantee, product }) => expect(splitFccId(id)).toEqual({ grantee, product }),
  );
});

// IEC 60529, clause 4.
describe('ingress codes', () => {
  test.each(reference.ip_code.valid as string[])('%s', (code) => expect(isIngressCode(code)).toBe(true));
  test.each(reference.ip_code.invalid as string[])('"%s" is none', (code) =>
    expect(isIngressCode(code)).toBe(false),
  );
});

describe('ids of the archive', () => {
  test.each(['a', 'tarn-sennit-3', '3d'])('%s', (id) => expect(SLUG.test(id)).toBe(true));
  test.each(['', 'A', 'tarn loop', '-a', 'a-', 'a--b', 'a_b', 'é'])('"%s" is none', (id) =>
    expect(SLUG.test(id)).toBe(false),
  );
  test.each(['QWR4T10', 'Q.4-1_a+'])('%s may be a part number', (id) =>
    expect(PART_NUMBER.test(id)).toBe(true),
  );
  test.each(['', '-Q', 'Q 4', 'Q/4', 'Q'.repeat(41)])('"%s" may not', (id) =>
    expect(PART_NUMBER.test(id)).toBe(false),
  );
});
