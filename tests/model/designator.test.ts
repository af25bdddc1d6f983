import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { compareDesignators, DESIGNATOR_CLASSES, parseDesignator } from '../../src/model/designator.ts';

// IEEE 315-1975 clause 22 / ASME Y14.44 class letters, as gathered in tests/reference/identifiers.json.
const { letters } = JSON.parse(
  readFileSync(new URL('../reference/identifiers.json', import.meta.url), 'utf8'),
).reference_designators as { letters: Record<string, string> };

test('the class letters are those of the standard, in its sense', () => {
  expect(DESIGNATOR_CLASSES).toEqual(letters);
});

test('class letters, number and suffix are separated', () => {
  const parts = fc.tuple(
    fc.constantFrom(...Object.keys(letters)),
    fc.integer({ min: 1, max: 99_999 }),
    fc.constantFrom('', 'A', 'B', 'Z'),
  );
  fc.assert(
    fc.property(parts, ([kind, number, suffix]) => {
      expect(parseDesignator(`${kind}${number}${suffix}`)).toEqual({ letters: kind, number, suffix });
    }),
  );
});

test.each(['', 'U', '3', 'u3', 'U0', 'U03', 'ZZ1', 'IC7', 'U 3', 'U3AB', 'U123456'])(
  '"%s" is not a valid reference designator',
  (written) => {
    expect(parseDesignator(written)).toBeUndefined();
  },
);

test('lists run by class, then by number, not by spelling', () => {
  expect(['U10', 'U9', 'C2', 'C14A', 'C14', 'BT1'].sort(compareDesignators)).toEqual([
    'BT1',
    'C2',
    'C14',
    'C14A',
    'U9',
    'U10',
  ]);
});
