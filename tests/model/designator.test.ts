import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  classOf,
  compareDesignators,
  parseDesignator,
  STANDARD_LETTERS,
} from '../../src/model/designator.ts';

// IEEE 315-1975, clause 22.4, as a list published after it has it; see the file.
const { letters: published, not_in_the_standard: others } = JSON.parse(
  readFileSync(new URL('../reference/class-letters.json', import.meta.url), 'utf8'),
) as { letters: Record<string, string>; not_in_the_standard: string[] };
const letters = STANDARD_LETTERS;
/** Letters of ours that the published list lacks: from memory of the standard. */
const FROM_MEMORY = ['CR', 'Y'];

test('the class letters are those of the standard, in its sense', () => {
  expect(
    Object.keys(STANDARD_LETTERS)
      .filter((one) => !FROM_MEMORY.includes(one))
      .sort(),
  ).toEqual(Object.keys(published).sort());
  // The meaning that the list prints has the word of ours, or the other way round.
  const words = (text: string) => text.toLowerCase().split(/[^a-z]+/u);
  const SAME: Readonly<Record<string, string>> = {
    cap: 'capacitor',
    res: 'resistor',
    conn: 'connector',
    ant: 'antenna',
    pkg: 'circuit',
    blower: 'fan',
  };
  for (const [letter, meaning] of Object.entries(published)) {
    const theirs = words(meaning).map((word) => SAME[word] ?? word);
    const ours = words(STANDARD_LETTERS[letter as keyof typeof STANDARD_LETTERS]);
    expect(
      ours.some((word) => theirs.includes(word)),
      `${letter}: ${meaning}`,
    ).toBe(true);
  }
  expect(STANDARD_LETTERS.M).toBe('meter');
});

test('what the standard does not have is in common use or unknown', () => {
  for (const letter of others) expect(classOf(letter)?.source ?? 'common use').toBe('common use');
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
