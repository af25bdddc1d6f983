import { NUMBER_WORDS } from '../../model/number-words.ts';
import { unitCode } from '../../model/quantity.ts';

/** A number with a unit as a sentence states it: everything from `low` to `high` would make it right. */
export interface StatedQuantity {
  /** The words of the sentence: `about 2.8 V`. */
  readonly text: string;
  /** Offset of the first character of the number. */
  readonly start: number;
  readonly end: number;
  /** UCUM code. */
  readonly unit: string;
  /** The number stated; of a range, its middle. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Units that the trade writes as symbols after a number. Left out are those that are words or letters of their own (`a`, `in`, `K`). */
const SYMBOLS =
  'per\\s?cent|percent|%|°\\s?[CF]|pp[mb]|dBm|dB|hPa|mbar|bar|[mcµμk]?m[²³23]|mm\\^[23]|m/s²|m/s\\^2|[nµμu]V/√Hz|[kM]?bps|[kMG]?bit/s|[kM]B/s|[munµμk]?[AW][ \\u00a0\\u202f\\u2009]?[·⋅.∙•*-]?[ \\u00a0\\u202f\\u2009]?h(?:ours?)?|[munµμ]C|[munµμ]T|rpm|mils?|°/s|dps|[pnuµμmkMGc]?(?:Hz|Pa|Ohms?|Ω|Ω|lx|lm|cd|bit|m|g|s|A|V|W|F|H|N|J)|[kMG]i?B|B|bytes?|bits?|h|min|oz';

const PREFIXES: readonly (readonly [word: string, symbol: string])[] = [
  ['', ''],
  ['pico', 'p'],
  ['nano', 'n'],
  ['micro', 'u'],
  ['milli', 'm'],
  ['centi', 'c'],
  ['hecto', 'h'],
  ['kilo', 'k'],
  ['mega', 'M'],
  ['giga', 'G'],
];
const UNIT_WORDS: readonly (readonly [words: readonly string[], unit: string])[] = [
  [['metre', 'meter'], 'm'],
  [['gram', 'gramme'], 'g'],
  [['second'], 's'],
  [['volt'], 'V'],
  [['ampere-hour', 'amp-hour', 'ampere hour', 'amp hour'], 'A.h'],
  [['ampere', 'amp'], 'A'],
  [['watt-hour', 'watt hour'], 'W.h'],
  [['watt'], 'W'],
  [['hertz'], 'Hz'],
  [['ohm', 'hm'], 'Ohm'],
  [['farad'], 'F'],
  [['henry'], 'H'],
  [['pascal'], 'Pa'],
  [['bit'], 'bit'],
  [['byte'], 'By'],
];
const IRREGULAR: readonly (readonly [string, string])[] = [
  ['micron', 'um'],
  ['minute', 'min'],
  ['hour', 'h'],
  ['day', 'd'],
  ['degree Celsius', 'Cel'],
  ['degrees Celsius', 'Cel'],
  ['inch', '[in_i]'],
  ['inches', '[in_i]'],
  ['kilo', 'kg'],
];

/** Units in words, singular and plural, in lower case; the longest first, since an amp-hour begins as an amp. */
const WORDS: ReadonlyMap<string, string> = new Map(
  [
    ...UNIT_WORDS.flatMap(([words, unit]) =>
      words.flatMap((word) =>
        PREFIXES.flatMap(([prefix, symbol]) =>
          ['', 's'].map((plural) => [`${prefix}${word}${plural}`, `${symbol}${unit}`] as const),
        ),
      ),
    ),
    ...IRREGULAR.flatMap(([word, unit]) =>
      ['', 's'].map((plural) => [`${word.toLowerCase()}${plural}`, unit] as const),
    ),
  ].sort(([a], [b]) => b.length - a.length),
);

const escaped = (text: string) => text.replaceAll(/[.*+?^${}()|[\]\\]/gu, '\\$&');
const NUMBER = `(?i:\\d{1,3}(?:[,\\u202f\\u2009]\\d{3})+(?:\\.\\d+)?|\\d+(?:\\.\\d+)?|\\.\\d+|half an?|${[...NUMBER_WORDS.keys()].sort((a, b) => b.length - a.length).join('|')}|an?)`;
const UNIT = `(?:(?i:${[...WORDS.keys()].map(escaped).join('|')})(?![\\p{L}])|(?:${SYMBOLS})(?![\\p{L}\\d²³/]))`;
const STATED = new RegExp(
  `(?<![\\p{L}\\d.,-])(?<first>[-−]?${NUMBER})(?:\\s*(?<joint>-|–|to|and|or|±|\\+/-|x|×|by)\\s*(?<second>[-−]?${NUMBER}))?(?:\\s*(?:x|×|by)\\s*(?<third>${NUMBER}))?[\\s\\u00a0\\u202f\\u2009-]?(?<unit>${UNIT})`,
  'gu',
);

/** What stands before a number and says how it is meant, with what it makes of the number. */
const BEFORE: readonly (readonly [
  words: RegExp,
  bounds: (value: number, half: number) => [number, number],
])[] = [
  [/\b(?:no|not) (?:more|higher|longer|wider|thicker|heavier|larger) than\s*$/iu, upTo],
  [/\b(?:no|not) (?:less|fewer|lower|shorter) than\s*$/iu, from],
  [
    /\b(?:more than|over|above|exceed(?:s|ing)?|at least|upwards of|a minimum of|(?:longer|wider|thicker|heavier|larger|higher|greater) than)\s*$/iu,
    from,
  ],
  [
    /\b(?:less than|fewer than|under|below|at most|up to|within|a maximum of|(?:shorter|narrower|thinner|lighter|smaller|lower) than)\s*$/iu,
    upTo,
  ],
  [/(?:\b(?:nearly|almost|just under|barely|scarcely)\s*)$/iu, (value, half) => [value * 0.9, value + half]],
  [/(?:\b(?:just over|a little over)\s*)$/iu, (value, half) => [value - half, value * 1.1]],
  [
    /(?:\b(?:about|around|roughly|some|approximately|approx\.?|circa|close to|near|an estimated)\s*|[~≈])$/iu,
    (value, half) => [
      value - Math.max(half, Math.abs(value) * ABOUT),
      value + Math.max(half, Math.abs(value) * ABOUT),
    ],
  ],
];
/** How far "about" reaches, as a share of the number (chosen: common practice, no source). */
const ABOUT = 0.1;

function from(value: number): [number, number] {
  return [value, Infinity];
}
function upTo(value: number): [number, number] {
  return [-Infinity, value];
}

/**
 * Numbers with units that a sentence states, in digits or words, with the values that they allow: half a unit of the last digit
 * written, ten per cent after "about", one side only after "more than" or "up to"; both ends of a range.
 */
export function quantitiesIn(sentence: string): readonly StatedQuantity[] {
  return [...sentence.matchAll(STATED)].flatMap((match) => {
    const { first, joint, second, third, unit: written } = match.groups as Record<string, string | undefined>;
    const unit = unitOf(written as string);
    if (unit === undefined || first === undefined) return [];
    // "A second" is mostly no time, and "a" or "an" no number unless a unit in words follows.
    if (/^an?$/iu.test(first) && !isCertainlyUnit(written as string)) return [];
    // "The second", "one second amplifier": an ordinal unless a number in digits precedes.
    if (/^seconds?$/iu.test(written as string) && !/\d/u.test(first)) return [];
    const start = match.index;
    const end = start + match[0].length;
    const stated = (number: string, start = match.index): StatedQuantity => {
      const value = numberOf(number);
      const half = halfUnit(number);
      const [low, high] = boundsOf(sentence.slice(0, start), value, half);
      return { text: textOf(sentence, start, end), start, end, unit, value, low, high };
    };
    if (second === undefined) return [stated(first)];
    const [a, b] = [numberOf(first), numberOf(second)];
    if (isYear(first, sentence.slice(0, start)))
      return [stated(second, sentence.indexOf(second, start + first.length))];
    const text = textOf(sentence, start, end);
    if (joint === '±' || joint === '+/-')
      return [{ text, start, end, unit, value: a, low: a - b, high: a + b }];
    const isRange =
      a < b &&
      (['-', '–', 'to'].includes(joint as string) || /\bbetween\s*$/iu.test(sentence.slice(0, start)));
    if (!isRange)
      return [first, second, ...(third === undefined ? [] : [third])].map((number) => stated(number));
    return [
      { text, start, end, unit, value: (a + b) / 2, low: a - halfUnit(first), high: b + halfUnit(second) },
    ];
  });
}

/**
 * Numbers of a sentence that nothing has read: counts of what is no kind of component, and numbers with a unit that is not known.
 * Years, and numbers that are part of a name, are none of these.
 * @param taken spans that were read
 */
export function numbersLeft(
  sentence: string,
  taken: readonly { readonly start: number; readonly end: number }[],
): readonly { readonly text: string }[] {
  return [...sentence.matchAll(COUNTED)].flatMap((match) => {
    const { number, rest } = match.groups as { number: string; rest: string };
    const { index } = match;
    const isTaken = taken.some(({ start, end }) => start < index + number.length && index < end);
    // "IEC 60601" is a name.
    if (isTaken || /^(?:19|20)\d\d$/u.test(number) || /\p{Lu}{2,} $/u.test(sentence.slice(0, index)))
      return [];
    // "The two sit apart", "all four": of which ones, is said ahead.
    const isBack = /\b(?:the|all|these|those|both)\s+$/iu.test(sentence.slice(0, index));
    if (!/\d/u.test(number) && (rest === '' || isBack)) return [];
    return [{ text: `${number}${rest}`.trimEnd() }];
  });
}

/** A number and the words that it counts; of "one" alone one cannot know. */
const COUNTED = new RegExp(
  `(?<![\\p{L}\\d.,/_]|[\\p{L}\\d]-)(?<number>[-−]?\\d+(?:[.,]\\d+)*|${[...NUMBER_WORDS.keys()]
    .filter((word) => word !== 'zero' && word !== 'one')
    .sort((a, b) => b.length - a.length)
    .join(
      '|',
    )})(?<rest>(?:[\\s-]+(?!(?:of|in|on|at|is|are|was|and|or|to|the|a|an)\\b)[\\p{L}°µ%²³/√]+){0,2})(?![\\d])`,
  'giu',
);

/** The words that a message quotes: with the unit, and with what qualifies the number. */
function textOf(sentence: string, start: number, end: number): string {
  const before = sentence.slice(0, start);
  const qualified = BEFORE.map(([words]) => words.exec(before)?.[0]).find((found) => found !== undefined);
  return `${qualified ?? ''}${sentence.slice(start, end)}`.trim();
}

function boundsOf(before: string, value: number, half: number): [number, number] {
  const meant = BEFORE.find(([words]) => words.test(before));
  return meant ? meant[1](value, half) : [value - half, value + half];
}

/** "In 2017 to 0.232 Pa in 2022" has a year and no range. */
function isYear(number: string, before: string): boolean {
  return /^(?:19|20)\d\d$/u.test(number) && /\b(?:in|since|by|from|until|of)\s*$/iu.test(before);
}

function isCertainlyUnit(written: string): boolean {
  return WORDS.has(written.toLowerCase()) && written.length > 3;
}

function numberOf(text: string): number {
  const word = text.toLowerCase();
  if (/^half/u.test(word)) return 0.5;
  if (/^an?$/u.test(word)) return 1;
  return NUMBER_WORDS.get(word) ?? Number(text.replaceAll(/[,\u202f\u2009]/gu, '').replace('−', '-'));
}

/** Half a unit of the last digit written. */
function halfUnit(text: string): number {
  const decimals = /\.(\d+)$/u.exec(text)?.[1].length ?? 0;
  return /^half/iu.test(text) ? 0.05 : 0.5 * 10 ** -decimals;
}

function unitOf(written: string): string | undefined {
  const word = written.toLowerCase().replaceAll(/\s+/gu, ' ');
  if (/^per\s?cent$/u.test(word)) return '%';
  return (
    WORDS.get(word) ??
    unitCode(
      written
        .replaceAll(/\s/gu, '')
        .replace(/(?<=[AW]|[·⋅.∙•*-])hours?$/u, 'h')
        .replace(/(Ohm|mil)s$/u, '$1'),
    )
  );
}
