import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { oneLine, plainText, steeringCharacter } from '../../src/text/plain-text.ts';

// Unicode Standard Annex 9 (UAX #9), section 2, "Directional Formatting Characters": LRE, RLE, PDF, LRO, RLO (table 2, 2.1 and
// 2.2) and LRI, RLI, FSI, PDI (2.4); LRM, RLM and ALM (2.6) are implicit marks.
const EXPLICIT = '\u202A\u202B\u202C\u202D\u202E\u2066\u2067\u2068\u2069';
const IMPLICIT = '\u200E\u200F\u061C';

describe('characters that steer', () => {
  test('every control code of ECMA-48 (C0 and C1, and DEL) but tab and line end', () => {
    for (let code = 0; code < 0xa0; code++) {
      const isControl = code < 0x20 || code === 0x7f || code >= 0x80;
      const isWanted = code === 0x09 || code === 0x0a;
      const character = String.fromCharCode(code);
      const expected = isControl && !isWanted;
      expect([code, steeringCharacter(`a${character}b`) !== undefined]).toEqual([code, expected]);
      expect([code, plainText(`a${character}b`) !== `a${character}b`]).toEqual([code, expected]);
    }
  });

  test('explicit bidirectional formatting, and not the implicit marks', () => {
    for (const character of EXPLICIT) {
      expect(steeringCharacter(character)).toBe(`U+${character.charCodeAt(0).toString(16).toUpperCase()}`);
      expect(plainText(character)).toMatch(/^\\u20[26][0-9a-e]$/u);
    }
    for (const character of IMPLICIT) expect(steeringCharacter(character)).toBeUndefined();
  });

  test('a line end of two characters is none, a carriage return by itself is', () => {
    expect(steeringCharacter('a\r\nb')).toBeUndefined();
    expect(plainText('a\r\nb\rc')).toBe('a\r\nb\\u000dc');
  });

  // RFC 8259, section 7, and YAML 1.2.2, section 5.7 (escape sequence "u"): both write such a character as \uXXXX.
  test('JSON and quoted YAML read back what they held', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary-ascii' }),
        fc.constantFrom(...EXPLICIT, '\u009B', '\u0085'),
        (text, one) => {
          const json = JSON.stringify({ text: `${text}${one}` });
          expect(JSON.parse(plainText(json))).toEqual({ text: `${text}${one}` });
          expect(parse(plainText(json))).toEqual({ text: `${text}${one}` });
        },
      ),
    );
  });
});

test('one line of a long text', () => {
  expect(oneLine('  a\n  b ', 10)).toBe('a b');
  expect(oneLine('x'.repeat(2_000_000), 10)).toBe(`${'x'.repeat(9)}…`);
  expect(oneLine('0123456789', 10)).toBe('0123456789');
});
