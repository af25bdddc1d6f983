import { z } from 'zod';
import { readYamlFile } from '../text/yaml-file.ts';

const termSchema = z.strictObject({
  under: z.string().optional(),
  offBoard: z.boolean().optional(),
  impliedBy: z.string().optional(),
  also: z.array(z.string()).default([]),
  is: z.string(),
});
const parameterSchema = z.strictObject({
  unit: z.string().optional(),
  text: z.literal(true).optional(),
  flag: z.literal(true).optional(),
  count: z.literal(true).optional(),
  is: z.string(),
});
const fileSchema = z.strictObject({
  terms: z.record(z.string(), termSchema),
  parameters: z.record(z.string(), parameterSchema),
});

/** What a part parameter holds: a quantity of a unit's dimension, text, a flag or a count. */
export type ParameterDefinition = z.infer<typeof parameterSchema>;

const file = fileSchema.parse(readYamlFile(new URL('../../schema/taxonomy.yaml', import.meta.url)));
const terms = new Map(Object.entries(file.terms));

/** Names of all component terms, in the order of schema/taxonomy.yaml. */
export const TERMS: readonly string[] = [...terms.keys()];

/** Part parameters by name. */
export const PARAMETERS: ReadonlyMap<string, ParameterDefinition> = new Map(Object.entries(file.parameters));

for (const [term, { impliedBy }] of terms) {
  if (impliedBy !== undefined && !terms.has(impliedBy))
    throw new Error(`schema/taxonomy.yaml: "${term}" is implied by "${impliedBy}", which is not a term`);
}

const lines = new Map(TERMS.map((term) => [term, lineOf(term)]));

function lineOf(term: string): readonly string[] {
  const line: string[] = [];
  for (let at: string | undefined = term; at !== undefined; at = terms.get(at)?.under) {
    if (!terms.has(at))
      throw new Error(`schema/taxonomy.yaml: "${line.at(-1)}" is under "${at}", which is not a term`);
    if (line.includes(at)) throw new Error(`schema/taxonomy.yaml: "${term}" is under itself`);
    line.push(at);
  }
  return line;
}

/** The term and everything above it, nearest first: `Accelerometer, InertialSensor, Sensor, Component`. */
export function lineage(term: string): readonly string[] {
  const line = lines.get(term);
  if (!line) throw new Error(`"${term}" is not a term of the component taxonomy`);
  return line;
}

/** Whether it belongs to the enclosure or lies off the boards: design files of boards do not show it. */
export function isOffBoard(term: string): boolean {
  return (
    lineage(term)
      .map((above) => terms.get(above)?.offBoard)
      .find((said) => said !== undefined) ?? false
  );
}

/** The term of which every one has one of this somewhere, as a radio has an antenna; with the term that says so. */
export function impliedBy(term: string): { readonly of: string; readonly by: string } | undefined {
  for (const of of lineage(term)) {
    const by = terms.get(of)?.impliedBy;
    if (by !== undefined) return { of, by };
  }
  return undefined;
}

/** The term in words: `pressure sensor`. */
export function termInWords(term: string): string {
  return term.replace(/(?<=[a-z])(?=[A-Z])/gu, ' ').toLowerCase();
}

/** A name with its article: `an accelerometer`, `a USB connector`, `an LED`. Letters read one by one go by the sound of the first. */
export function withArticle(name: string): string {
  const [first = ''] = name.split(/[\s-]/u);
  const isSpelt = SPELT.has(first.toLowerCase()) || /^\p{Lu}{2,}s?$/u.test(first);
  const isVowel = isSpelt
    ? /^[aefhilmnorsx]/iu.test(first)
    : /^(?:[aeio]|u(?!n[io]|s[eb]|ti)|hour|hono)/iu.test(first);
  return `${isVowel ? 'an' : 'a'} ${name}`;
}

/** Abbreviations that are read letter by letter (common usage, no source). */
const SPELT = new Set([
  'led',
  'rf',
  'nfc',
  'usb',
  'uv',
  'rtc',
  'fpc',
  'mcu',
  'emi',
  'esd',
  'lc',
  'rc',
  'sd',
  'dc',
  'ac',
  'ic',
  'pmic',
  'uwb',
]);

/** What people call a term, singular: the term in words, and other names of the trade. */
export function namesOf(term: string): readonly string[] {
  return [termInWords(term), ...(terms.get(term)?.also ?? [])];
}

const spelled = (name: string) => name.toLowerCase().replaceAll(/[\s-]/gu, '');
const byName = new Map<string, string>();
for (const term of TERMS) {
  for (const name of namesOf(term)) {
    const other = byName.get(spelled(name));
    if (other !== undefined && other !== term)
      throw new Error(`schema/taxonomy.yaml: "${name}" is a name of both "${other}" and "${term}"`);
    byName.set(spelled(name), term);
  }
}

/** The term that a name of the trade means, in any spelling of its words: `Loudspeaker` and `loud speaker` give `Speaker`. */
export function termCalled(name: string): string | undefined {
  return byName.get(spelled(name));
}

/** Whether a text is a term of the taxonomy. */
export function isTerm(text: string): boolean {
  return terms.has(text);
}

/** True when `term` is `above` or is under it. */
export function isUnder(term: string, above: string): boolean {
  return lines.get(term)?.includes(above) ?? false;
}

/** A term above all others of its kind: `Component`, and what has a place on a board without being one. */
export function isRoot(term: string): boolean {
  return terms.get(term)?.under === undefined;
}

/** Terms that say how a thing is packaged rather than what it does. */
export const PACKING: ReadonlySet<string> = new Set(['Module', 'IntegratedCircuit']);

/** The most specific of some terms, such as the two functions of a chip: those with none of the others under them. */
export function mostSpecific(terms: readonly string[]): readonly string[] {
  return terms.filter((term) => !terms.some((other) => other !== term && lineage(other).includes(term)));
}

/** Terms directly or further under `above`, without itself. */
export function termsUnder(above: string): readonly string[] {
  return TERMS.filter((term) => term !== above && isUnder(term, above));
}

/** The sentence that explains a term. */
export function meaningOf(term: string): string | undefined {
  return terms.get(term)?.is;
}

/** Child and parent of every term that has one, for engines that expand labels themselves. */
export const TERM_PARENTS: readonly (readonly [child: string, parent: string])[] = [...terms].flatMap(
  ([term, { under }]) => (under === undefined ? [] : [[term, under] as const]),
);
