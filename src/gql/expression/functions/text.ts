/** Functions of character strings (ISO/IEC 39075:2024, 20.22 and 20.24; feature GF05). Characters are code points. */
import type { Value } from '../value.ts';
import type { FunctionDefinition } from './define.ts';

const text = { name: 'text', type: 'string' } as const;

function characterLength(name: string): FunctionDefinition {
  return {
    name,
    parameters: [text],
    result: 'number',
    doc: 'How many characters a text has.',
    standard: '20.22',
    fn: ([value]) => [...(value as string)].length,
  };
}

function part(
  name: string,
  doc: string,
  cut: (characters: readonly string[], n: number) => readonly string[],
) {
  return {
    name,
    parameters: [text, { name: 'count', type: 'number' }],
    result: 'string',
    doc,
    standard: '20.24',
    fn: ([value, count]) => {
      const n = Math.trunc(count as number);
      return n < 0 ? null : cut([...(value as string)], n).join('');
    },
  } satisfies FunctionDefinition as FunctionDefinition;
}

function trimming(name: string, doc: string, start: boolean, end: boolean): FunctionDefinition {
  return {
    name,
    parameters: [text, { name: 'characters', type: 'string', optional: true }],
    result: 'string',
    doc,
    standard: 'GF05',
    fn: ([value, characters]) =>
      trimmed(value as string, (characters as string | undefined) ?? ' ', start, end),
  };
}

/** The text without the given characters at its start, its end, or both. */
function trimmed(value: string, characters: string, start: boolean, end: boolean): string {
  const set = new Set(characters);
  const all = [...value];
  let from = 0;
  let to = all.length;
  while (start && from < to && set.has(all[from]!)) from++;
  while (end && to > from && set.has(all[to - 1]!)) to--;
  return all.slice(from, to).join('');
}

const FORMS: ReadonlySet<string> = new Set(['NFC', 'NFD', 'NFKC', 'NFKD']);

export const TEXT_FUNCTIONS: readonly FunctionDefinition[] = [
  characterLength('CHAR_LENGTH'),
  characterLength('CHARACTER_LENGTH'),
  part('LEFT', 'The first characters of a text.', (characters, n) => characters.slice(0, n)),
  part('RIGHT', 'The last characters of a text.', (characters, n) => (n === 0 ? [] : characters.slice(-n))),
  {
    name: 'UPPER',
    parameters: [text],
    result: 'string',
    doc: 'The text in upper case.',
    standard: '20.24',
    fn: ([value]) => (value as string).toUpperCase(),
  },
  {
    name: 'LOWER',
    parameters: [text],
    result: 'string',
    doc: 'The text in lower case.',
    standard: '20.24',
    fn: ([value]) => (value as string).toLowerCase(),
  },
  trimming('BTRIM', 'The text without the given characters (or spaces) at both ends.', true, true),
  trimming('LTRIM', 'The text without the given characters (or spaces) at its start.', true, false),
  trimming('RTRIM', 'The text without the given characters (or spaces) at its end.', false, true),
  {
    name: 'NORMALIZE',
    parameters: [text, { name: 'form', type: 'string', optional: true }],
    result: 'string',
    doc: 'The text in a Unicode normalization form: NFC (when none is given), NFD, NFKC or NFKD.',
    standard: '20.24',
    fn: ([value, form]) => {
      const name = ((form as string | undefined) ?? 'NFC').toUpperCase();
      return FORMS.has(name) ? (value as string).normalize(name) : null;
    },
  },
];

/** 20.24 <trim function>: the trim character string is one character. */
export function trim(source: Value, character: Value, side: 'LEADING' | 'TRAILING' | 'BOTH'): Value {
  if (typeof source !== 'string' || typeof character !== 'string' || [...character].length !== 1) return null;
  return trimmed(source, character, side !== 'TRAILING', side !== 'LEADING');
}
