import fc, { type Arbitrary } from 'fast-check';
import type { z } from 'zod';
import {
  definitionOf,
  fieldsOf,
  isQuantity,
  type Schema,
  sentenceOf,
} from '../../src/dossier/schema-walk.ts';
import { COMMON_LETTERS, STANDARD_LETTERS } from '../../src/model/designator.ts';
import {
  componentRef,
  country,
  currency,
  designator,
  ingressCode,
  instant,
  markingText,
  partId,
  pinRef,
  sha256,
  slug,
  text,
} from '../../src/model/fields.ts';
import { formatMarking } from '../../src/model/marking.ts';
import { formatQuantity, sameDimension } from '../../src/model/quantity.ts';

// Anything that a schema accepts, made by walking it, so that a field added to the model is tested from the start.

/** Text that YAML, JSON or a careless writer could take for something else. */
const NASTY = [
  'yes',
  'NO',
  'on',
  'true',
  'null',
  '~',
  '1e3',
  '1E30',
  '0x1f',
  '0o17',
  '2019',
  '2019-04-17',
  '12:30:45',
  '1_000',
  '.5',
  '.inf',
  '-',
  '- a',
  '?',
  '? a',
  ': a',
  'a: b',
  'a:',
  '#x',
  'a #b',
  '"q"',
  "it's",
  "'",
  '"',
  '{a',
  '[b',
  ']',
  '}',
  ',',
  'a, b',
  '*x',
  '&y',
  '!z',
  '!!str a',
  '%Y',
  '@',
  '`',
  '|',
  '>',
  '>-',
  '\\',
  '\\n',
  '<<',
  '=',
  '---',
  '...',
  'a\tb',
  'a\nb',
  'a\n\nb',
  'a\n  b',
  'a\n b\n  c',
  'a \nb',
  'a\r\nb',
  'a\rb',
  'x: |\n  y',
  '# a\nb',
  '- a\n- b',
  'a\u0085b',
  'a\u2028b',
  'a\u00a0b',
  '\ufeffa',
  'a\u0000b',
  'a\u0007b',
  'é',
  'e\u0301',
  '𝔘',
  '👩🏽‍🔬',
  'عربي',
  '中文',
  '{lot:3}',
  '__proto__',
  'caseback: dossier/1',
  'x'.repeat(200),
  'word '.repeat(40).trim(),
  `${'long words '.repeat(12)}\nand more`,
];

const anyText = fc.oneof(
  fc.constantFrom(...NASTY),
  fc.string({ unit: 'grapheme', minLength: 1, maxLength: 12 }),
  fc.string({ unit: 'binary', minLength: 1, maxLength: 6 }),
);
const word = fc.stringMatching(/^[a-z0-9]{1,6}$/u);
const anySlug = fc.oneof(
  fc.constantFrom('no', 'y', 'null', 'true', '1e3', '0', '007', '2019'),
  fc.array(word, { minLength: 1, maxLength: 3 }).map((words) => words.join('-')),
);
const anyDesignator = fc
  .tuple(
    fc.constantFrom(...Object.keys(STANDARD_LETTERS), ...Object.keys(COMMON_LETTERS), 'U$', 'SW_B'),
    fc.integer({ min: 1, max: 99_999 }),
    fc.constantFrom('', 'A'),
  )
  .map((parts) => parts.join(''));
const anyPin = fc.constantFrom('', '.4', '.B12', '.SDA', '.P0.18/NRESET', '.~{CS}', '.1E3');
const anyMarking = fc
  .array(
    fc.array(
      fc.array(
        anyText.map((one) => [...one.replace(/[\r\n]/gu, 'A')][0] ?? 'A'),
        { maxLength: 3 },
      ),
      { maxLength: 6 },
    ),
    {
      minLength: 1,
      maxLength: 3,
    },
  )
  .map((lines) =>
    formatMarking(lines.map((line) => line.map((options) => ({ options: [...new Set(options)] })))),
  );
const calendarDay = fc
  .date({ min: new Date('1000-01-01'), max: new Date('2999-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));
const anyDate = fc
  .tuple(calendarDay, fc.constantFrom(4, 7, 10))
  .map(([date, precision]) => date.slice(0, precision));

/** Strings with a form of their own, known by the check that gives them the form. */
const FORMED: readonly (readonly [Schema, Arbitrary<string>])[] = [
  [slug, anySlug],
  [designator, anyDesignator],
  [componentRef, anyDesignator],
  [pinRef, fc.tuple(anyDesignator, anyPin).map((parts) => parts.join(''))],
  [markingText, anyMarking],
  [partId, fc.tuple(anySlug, fc.constantFrom('QWR4T10', '1E3', 'Q.4-1_a+')).map((parts) => parts.join('/'))],
  [sha256, fc.constantFrom('0'.repeat(64), '12345678'.repeat(8), 'ab'.repeat(32))],
  [instant, fc.constantFrom('2026-12-15T09:00:00Z', '2026-12-15T09:00:00.250+02:00')],
  [country, fc.constantFrom('NO', 'DE', 'JP')],
  [currency, fc.constantFrom('EUR', 'JPY')],
  [ingressCode, fc.constantFrom('IP67', 'IPX4')],
  [text, anyText],
];

const UNITS = [
  'V',
  'mV',
  'A',
  'uA',
  'mA.h',
  'W',
  'W.h',
  'mm',
  '[in_i]',
  'nm',
  'g',
  '[oz_av]',
  'Cel',
  '%',
  '1',
  'Ohm',
  'Hz',
  'MHz',
  'bit',
  'By',
  'kBy',
  'bit/s',
  'dB',
  '[g]',
  'm/s2',
  'deg/s',
  'Pa',
  'hPa',
];
const number = fc.oneof(fc.integer({ min: 0, max: 1000 }), fc.double({ min: 1e-9, max: 1e24, noNaN: true }));

function quantityIn(unit: string | undefined): Arbitrary<unknown> {
  const units = UNITS.filter((one) => unit === undefined || sameDimension(one, unit));
  return fc
    .tuple(
      number,
      fc.boolean(),
      fc.constantFrom(...units),
      fc.option(number, { nil: undefined }),
      fc.boolean(),
    )
    .map(([size, negative, code, plusMinus, asText]) => {
      const value = (negative ? -size : size) + 0;
      const quantity = plusMinus === undefined ? { value, unit: code } : { value, unit: code, plusMinus };
      return asText ? formatQuantity(quantity) : quantity;
    });
}

/** Input that the schema accepts, apart from rules that span fields. */
export function accepted(schema: Schema): Arbitrary<unknown> {
  const def = definitionOf(schema);
  if (isQuantity(schema) && def.type === 'pipe')
    return quantityIn(/such as "1 ([^"]+)"/u.exec(sentenceOf(schema) ?? '')?.[1]);
  switch (def.type) {
    case 'optional':
    case 'default':
      return fc.option(accepted(def.innerType), { nil: undefined, freq: 3 });
    case 'object': {
      const fields = Object.fromEntries(
        [...fieldsOf(schema)].map(([name, field]) => [name, accepted(field)]),
      );
      const isPin = ['number', 'name', 'direction'].every((name) => name in fields);
      return fc
        .record(fields)
        .map((record) => namingSomething(withoutUndefined(record)))
        .map((record) => (isPin && !('number' in record) ? { name: 'SDA', ...record } : record));
    }
    case 'record':
      return fc.dictionary(fc.oneof(word, anyText), accepted(def.valueType), { maxKeys: 3 });
    case 'array':
      return fc.array(accepted(def.element), {
        minLength: isRing(def.element) ? 3 : (bounds(schema).least ?? 0),
        maxLength: isRing(def.element) ? 5 : 3,
      });
    case 'tuple':
      return fc.tuple(...def.items.map((item) => accepted(item)));
    case 'union':
      return fc.oneof(...def.options.map((option) => accepted(option)));
    case 'enum':
      return fc.constantFrom(...Object.values(def.entries));
    case 'literal':
      return fc.constantFrom(...def.values);
    case 'boolean':
      return fc.boolean();
    case 'number':
      return numbers(schema);
    case 'string':
      return strings(schema);
    case 'unknown':
      return fc.oneof(fc.integer(), fc.boolean(), fc.constant('a'));
    case 'pipe':
      return anyDate;
    default:
      throw new Error(`no values known for ${def.type}`);
  }
}

/** Whether a list is the corners of a closed line: points, and arcs to points. */
function isRing(element: Schema): boolean {
  const def = definitionOf(element);
  return def.type === 'union' && fieldsOf(element).has('through');
}

interface Bounds {
  least?: number;
  above?: number;
  most?: number;
  under?: number;
  whole?: true;
}

/** The limits that a schema's checks set: of a number, or of the length of a list. */
function bounds(schema: Schema): Bounds {
  const limits: Bounds = {};
  for (const check of (definitionOf(schema) as { checks?: z.core.$ZodCheck[] }).checks ?? []) {
    const def = (check as z.core.$ZodChecks)._zod.def;
    if (def.check === 'min_length') limits.least = def.minimum;
    else if (def.check === 'greater_than') limits[def.inclusive ? 'least' : 'above'] = Number(def.value);
    else if (def.check === 'less_than') limits[def.inclusive ? 'most' : 'under'] = Number(def.value);
    else if (def.check === 'number_format') limits.whole = true;
  }
  return limits;
}

function numbers(schema: Schema): Arbitrary<number> {
  const { least, above, most, under, whole } = bounds(schema);
  const min = least ?? above ?? -1e6;
  const max = most ?? under ?? 1e6;
  const integer = fc.integer({
    min: above === undefined ? Math.ceil(min) : Math.floor(min) + 1,
    max: under === undefined ? Math.floor(max) : Math.ceil(max) - 1,
  });
  if (whole) return integer;
  const minExcluded = above !== undefined;
  const maxExcluded = under !== undefined;
  return fc.oneof(
    integer,
    fc.double({ min, max, minExcluded, maxExcluded, noNaN: true }).map((value) => value + 0),
  );
}

function strings(schema: Schema): Arbitrary<string> {
  const def = definitionOf(schema);
  const checks = new Set(def.type === 'string' ? def.checks : []);
  for (const [formed, values] of FORMED) {
    const own = definitionOf(formed);
    if (own === def) return values;
    if (own.type === 'string' && own.checks?.some((check) => checks.has(check))) return values;
  }
  const format = (def as { format?: string }).format;
  if (format === 'url') return fc.constantFrom('https://example.org/a?b=c#d', 'https://example.org/%20x');
  if (format === 'datetime') return FORMED.find(([one]) => one === instant)?.[1] ?? anyText;
  if (def.type === 'string' && def.checks?.length) return fc.constantFrom('QWR4T10', '1E3', '0', 'Q.4-1_a+');
  return anyText;
}

/** A candidate names a part, a category or a maker; the schema says so in a rule of its own. */
function namingSomething(record: object): object {
  const isCandidate = 'probability' in record && !('sentence' in record);
  return isCandidate && Object.keys(record).length === 1 ? { ...record, category: 'Component' } : record;
}

function withoutUndefined(record: object): object {
  return Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined));
}
