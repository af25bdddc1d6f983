/**
 * What a token may begin with, over all of Unicode: the lexer has a table of first characters, which must leave out none.
 * The sets are those of ISO/IEC 39075:2024, 21.3 (from memory) by the classes of the Unicode standard: <identifier start> is
 * ID_Start or Pc, <whitespace> is what JavaScript's `\s` is.
 */
import { expect, test } from 'vitest';
import { tokenize } from '../../../src/gql/language/tokens.ts';

/** Every character of a class, surrogates left out. */
function all(character: RegExp): string[] {
  const found: string[] = [];
  for (let code = 0; code <= 0x10_ff_ff; code++) {
    if (code >= 0xd8_00 && code <= 0xdf_ff) continue;
    const text = String.fromCodePoint(code);
    if (character.test(text)) found.push(text);
  }
  return found;
}

test('a name begins with any letter', () => {
  const letters = all(/[\p{ID_Start}\p{Pc}]/u);
  expect(letters.length).toBeGreaterThan(130_000);
  const { tokens, strays } = tokenize(letters.join(' '));
  expect(strays).toEqual([]);
  expect(tokens.map(({ image }) => image).join(' ')).toBe(letters.join(' '));
});

test('any white space parts names', () => {
  const spaces = all(/\s/u);
  expect(spaces.length).toBeGreaterThan(20);
  const { tokens, strays } = tokenize(spaces.map((space) => `a${space}`).join(''));
  expect(strays).toEqual([]);
  expect(tokens.map(({ image }) => image)).toEqual(spaces.map(() => 'a'));
});

test('what is neither, nor a symbol, begins nothing', () => {
  const others = all(/[^\p{ID_Start}\p{Pc}\p{Nd}\s\x21-\x7e]/u).filter((_, i) => i % 97 === 0);
  for (const other of others) {
    const { tokens, strays } = tokenize(`a ${other}`);
    expect([tokens.length, strays]).toEqual([1, [{ offset: 2, length: other.length }]]);
  }
});
