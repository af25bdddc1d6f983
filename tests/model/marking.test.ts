import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatMarking, isCertain, MarkingError, parseMarking } from '../../src/model/marking.ts';

const sure = (character: string) => ({ options: [character] });

describe('a marking is read character by character', () => {
  test('a question mark is an unread character', () => {
    expect(parseMarking('A?1')).toEqual([[sure('A'), { options: [] }, sure('1')]]);
  });

  test('brackets hold rival readings, likeliest first, each once', () => {
    expect(parseMarking('[8B8]')).toEqual([[{ options: ['8', 'B'] }]]);
  });

  test('a closing bracket may be one of the rivals', () => {
    expect(parseMarking('[1\\]\\\\]')).toEqual([[{ options: ['1', ']', '\\'] }]]);
  });

  test('a backslash makes the next character stand for itself', () => {
    expect(parseMarking('\\?\\[\\\\')).toEqual([[sure('?'), sure('['), sure('\\')]]);
  });

  test('line breaks part lines, whichever the editor writes', () => {
    expect(parseMarking('AB\r\nC')).toEqual(parseMarking('AB\nC'));
    expect(parseMarking('AB\nC')).toHaveLength(2);
  });

  test('letters that look alike in two encodings are one character', () => {
    expect(parseMarking('É')).toEqual(parseMarking('É'));
  });

  test.each(['[8B', '[]', 'A\\'])('refuses "%s"', (written) => {
    expect(() => parseMarking(written)).toThrow(MarkingError);
  });
});

test('certain and doubtful markings are distinguished', () => {
  expect(isCertain(parseMarking('QX\\?7'))).toBe(true);
  expect(isCertain(parseMarking('QX?7'))).toBe(false);
  expect(isCertain(parseMarking('QX[7T]'))).toBe(false);
});

test('what is written out reads back as the same marking', () => {
  // Any single character of NFC text, the special ones often, but no line break.
  const character = fc.oneof(
    fc.constantFrom(...'?[]\\A8B-. é→'),
    fc
      .string({ unit: 'binary', minLength: 1, maxLength: 1 })
      .map((one) => [...one.normalize('NFC')][0] ?? 'A')
      .filter((one) => !/[\r\n]/u.test(one) && !/[\p{M}\u1100-\u11ff]/u.test(one)),
  );
  const read = fc.oneof(
    fc.constant<string[]>([]),
    character.map((one) => [one]),
    fc.uniqueArray(character, { minLength: 2, maxLength: 4 }),
  );
  const line = fc.array(
    read.map((options) => ({ options })),
    { maxLength: 8 },
  );
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 3 }), (marking) => {
      expect(parseMarking(formatMarking(marking))).toEqual(marking);
    }),
    { numRuns: 400 },
  );
});
