import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  classOf,
  compareDesignators,
  parseDesignator,
  STANDARD_LETTERS,
} from '../../src/model/designator.ts';

// IEEE 315-1975 clause 22 / ASME Y14.44 class letters, as gathered in tests/reference/identifiers.json.
const { letters } = JSON.parse(
  readFileSync(new URL('../reference/identifiers.json', import.meta.url), 'utf8'),
).reference_designators as { letters: Record<string, string> };

// M is a meter in the standard (IEEE 315-1975, clause 22.4) and a motor in common use, which the file of check values has.
test('the class letters are those of the standard, in its sense', () => {
  const { M: _, ...others } = letters;
  expect(STANDARD_LETTERS).toMatchObject(others);
  expect(STANDARD_LETTERS.M).toBe('meter');
});

test('letters in common use are told apart from those of the standard', () => {
  expect(classOf('U')).toEqual({ meaning: 'integrated circuit', source: 'IEEE 315' });
  expect(classOf('M')).toEqual({ meaning: 'motor', source: 'common use' });
  expect(classOf('U$')).toEqual({ meaning: 'integrated circuit', source: 'IEEE 315' });
  expect(classOf('SW')).toEqual({ meaning: 'switch', source: 'common use' });
  expect(classOf('QQ')).toBeUndefined();
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

test.each(['ANT', 'U$5', 'SW1', 'MOD1', 'JMP12', 'BAT+', 'U03', 'TP_SDA'])(
  '"%s" is one, whatever its letters',
  (written) => {
    expect(parseDesignator(written)).toBeDefined();
  },
);

test.each(['', '3', 'u3', 'U 3', 'U.3', 'U:3', 'U/3', `U${'1'.repeat(20)}`])(
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
