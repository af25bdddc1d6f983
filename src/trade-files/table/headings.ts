import { z } from 'zod';
import { LIST_FIELDS } from '../../model/list-mapping.ts';
import { readYamlFile } from '../../text/yaml-file.ts';
import { type DesignComponent, LENGTH_UNITS, type LengthUnit } from '../board-design.ts';

// Headings and words of lists, from schema/trade-file-headings.yaml.

export const FIELDS = LIST_FIELDS;
export type Field = (typeof FIELDS)[number];

const words = z.array(z.string()).min(1);
const fileSchema = z.strictObject({
  fields: z.record(z.enum(FIELDS), z.strictObject({ is: z.string(), headings: words })),
  ambiguous: z.array(z.strictObject({ heading: z.string(), fields: z.array(z.enum(FIELDS)) })),
  aside: words,
  sides: z.strictObject({ top: words, bottom: words }),
  yes: words,
  no: words,
  notFittedTexts: words,
  totals: words,
});

const FILE = 'schema/trade-file-headings.yaml';
const file = fileSchema.parse(readYamlFile(new URL(`../../../${FILE}`, import.meta.url)));

/** What a heading may mean. */
export type HeadingMeaning =
  | {
      readonly kind: 'field';
      readonly field: Field;
      readonly unit?: LengthUnit;
      /** Of a column of values: unit of its bare numbers, such as nF. */
      readonly valueUnit?: string;
    }
  | { readonly kind: 'ambiguous'; readonly fields: readonly Field[] }
  | { readonly kind: 'aside' }
  | { readonly kind: 'unknown' };

/** A heading or word without case, spaces and punctuation: `Ref-Des.` as `refdes`, `Mfr #` as `mfrno`. */
export function plain(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/(?<=\p{L}\W?)#/gu, 'no')
    .replace(/[^\p{L}\p{N}✓✔]/gu, '');
}

const FIELD_HEADINGS = new Map<string, Field>();
for (const [field, { headings }] of Object.entries(file.fields) as [Field, { headings: string[] }][]) {
  for (const heading of headings) {
    const other = FIELD_HEADINGS.get(plain(heading));
    if (other !== undefined && other !== field)
      throw new Error(
        `${FILE}: "${heading}" is a heading of ${other} and of ${field}; list it under ambiguous`,
      );
    FIELD_HEADINGS.set(plain(heading), field);
  }
}
const AMBIGUOUS = new Map(file.ambiguous.map(({ heading, fields }) => [plain(heading), fields] as const));
const ASIDE = new Set(file.aside.map(plain));
const SIDES = new Map(
  (['top', 'bottom'] as const).flatMap((side) =>
    file.sides[side].map((word) => [plain(word), side] as const),
  ),
);
const YES = new Set(file.yes.map(plain));
const NO = new Set(file.no.map((word) => plain(word) || word));
const TOTALS = new Set(file.totals.map(plain));
const NOT_FITTED = new Set(file.notFittedTexts.map(plain));

/** Columns of places, and what of a component is there; the first that a list has count. */
export const PLACES = [
  ['centreX', 'centreY', 'body centre'],
  ['originX', 'originY', 'origin'],
  ['x', 'y', 'not said'],
  ['padX', 'padY', 'first pin'],
] as const satisfies readonly (readonly [Field, Field, NonNullable<DesignComponent['atIs']>])[];

export type Place = (typeof PLACES)[number];

/** Fields that hold lengths, so that their headings may carry a unit. */
export const LENGTHS: ReadonlySet<Field> = new Set([
  'centreX',
  'centreY',
  'originX',
  'originY',
  'padX',
  'padY',
  'x',
  'y',
  'height',
  'length',
  'width',
]);

const UNIT_WORDS: Readonly<Record<string, LengthUnit>> = {
  mm: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  millimetre: 'mm',
  millimetres: 'mm',
  millimètres: 'mm',
  mil: 'mil',
  mils: 'mil',
  thou: 'mil',
  inch: 'inch',
  inches: 'inch',
  in: 'inch',
  zoll: 'inch',
  um: 'um',
  µm: 'um',
  μm: 'um',
  micron: 'um',
  microns: 'um',
  cm: 'cm',
  // UCUM.
  '[in_i]': 'inch',
  '[mil_i]': 'mil',
};

/** Units of values, with a prefix: `nF`, `kΩ`, `uH`. */
const VALUE_UNIT = /^([fpnuµμmkMG]?)(F|H|Hz|Ω|Ω|[oO]hms?|R)$/u;

/** A unit of values as it is recorded, `µF` for `uF` and `kΩ` for `kohm`; undefined for what is none. */
export function valueUnitNamed(word: string): string | undefined {
  const match = VALUE_UNIT.exec(word.trim());
  if (!match) return undefined;
  const [, prefix = '', unit = ''] = match;
  return `${prefix.replace(/[uμ]/u, 'µ')}${/^(?:F|H|Hz)$/u.test(unit) ? unit : 'Ω'}`;
}

/** The unit that a word names, in any case. */
export function unitNamed(word: string): LengthUnit | undefined {
  const lower = word.toLowerCase();
  return Object.hasOwn(UNIT_WORDS, lower) ? UNIT_WORDS[lower] : undefined;
}

const UNIT_BEHIND = new RegExp(
  `^(.*?)[\\s_./([-]+(${Object.keys(UNIT_WORDS)
    .filter((word) => !word.startsWith('['))
    .toSorted((a, b) => b.length - a.length)
    .join('|')})\\s*[)\\]]?$`,
  'iu',
);

/** What a heading means, by the synonyms and with its unit. */
export function headingMeaning(heading: string): HeadingMeaning {
  const whole = plain(heading);
  const field = FIELD_HEADINGS.get(whole);
  if (field) return { kind: 'field', field };
  const behind = heading.length <= 80 ? UNIT_BEHIND.exec(heading.normalize('NFKC').trim()) : null;
  const measured = behind ? FIELD_HEADINGS.get(plain(behind[1] ?? '')) : undefined;
  if (measured && LENGTHS.has(measured)) {
    return { kind: 'field', field: measured, unit: unitNamed(behind?.[2] ?? '') as LengthUnit };
  }
  const ofValues =
    heading.length <= 80 ? /^(.+?)\s*[([]\s*([^()[\]]+?)\s*[)\]]$/u.exec(heading.trim()) : null;
  const valueUnit = ofValues ? valueUnitNamed(ofValues[2] as string) : undefined;
  if (valueUnit !== undefined && FIELD_HEADINGS.get(plain(ofValues?.[1] ?? '')) === 'value')
    return { kind: 'field', field: 'value', valueUnit };
  const fields = AMBIGUOUS.get(whole);
  if (fields) return { kind: 'ambiguous', fields };
  return ASIDE.has(whole) || whole === '' ? { kind: 'aside' } : { kind: 'unknown' };
}

/** All synonyms, for messages that name near ones. */
export function knownHeadings(): readonly string[] {
  return Object.values(file.fields).flatMap(({ headings }) => headings);
}

/** What a field holds, in a sentence. */
export function meaningOfField(field: Field): string {
  return file.fields[field].is;
}

/** The side that a word names. */
export function sideNamed(word: string): 'top' | 'bottom' | undefined {
  return SIDES.get(plain(word));
}

/** Yes or no as a cell says it. */
export function yesOrNo(word: string): boolean | undefined {
  const tidied = plain(word) || word.trim();
  return YES.has(tidied) ? true : NO.has(tidied) ? false : undefined;
}

/** Whether a cell is the word of a row of totals. */
export function isTotal(text: string): boolean {
  return text.length < 60 && TOTALS.has(plain(text));
}

/** Whether a whole text says that the component is left out: `DNP`. */
export function saysNotFitted(text: string): boolean {
  return NOT_FITTED.has(plain(text));
}

/** Factor from a unit to mm. */
export function millimetresPer(unit: LengthUnit): number {
  return LENGTH_UNITS[unit];
}
