import { z } from 'zod';

/** Any schema of the model, seen from outside. */
export type Schema = z.core.$ZodType;
type Definition = z.core.$ZodTypes['_zod']['def'];

/** A schema without what only says that a field may be left out. */
export function required(schema: Schema): Schema {
  const def = definitionOf(schema);
  return def.type === 'optional' || def.type === 'default' ? required(def.innerType) : schema;
}

/** What a field holds when it is left out; undefined when nothing. */
export function defaultOf(schema: Schema): unknown {
  const def = definitionOf(schema);
  if (def.type === 'optional') return defaultOf(def.innerType);
  return def.type === 'default' ? def.defaultValue : undefined;
}

/** The forms that may be written for a schema: the branches of unions, before any transformation. */
export function writtenForms(schema: Schema): readonly Schema[] {
  const bare = required(schema);
  const def = definitionOf(bare);
  if (def.type === 'union') return def.options.flatMap(writtenForms);
  return def.type === 'pipe' ? writtenForms(def.in) : [bare];
}

/** True for a quantity: written as text or as value and unit, held as value and unit. */
export function isQuantity(schema: Schema): boolean {
  return definitionOf(required(schema)).type === 'pipe' && fieldsOf(schema).has('unit');
}

/** Fields of a group, by name, over all forms that are groups. */
export function fieldsOf(schema: Schema): ReadonlyMap<string, Schema> {
  return new Map(
    writtenForms(schema).flatMap((form) => {
      const def = definitionOf(form);
      return def.type === 'object' ? Object.entries(def.shape) : [];
    }),
  );
}

/** The schema one step below: of a field, or of a place in a list. */
export function below(schema: Schema, step: PropertyKey): Schema | undefined {
  for (const form of writtenForms(schema)) {
    const found = belowForm(definitionOf(form), step);
    if (found) return found;
  }
  return undefined;
}

function belowForm(def: Definition, step: PropertyKey): Schema | undefined {
  if (def.type === 'object' && typeof step === 'string' && Object.hasOwn(def.shape, step))
    return def.shape[step];
  if (def.type === 'record' && typeof step === 'string') return def.valueType;
  if (def.type === 'array' && typeof step === 'number') return def.element;
  if (def.type === 'tuple' && typeof step === 'number') return def.items[step];
  return undefined;
}

/** The schema at a path; undefined where there is none. */
export function schemaAt(root: Schema, path: readonly PropertyKey[]): Schema | undefined {
  return path.reduce<Schema | undefined>((at, step) => at && below(at, step), root);
}

/** True where text, and neither a number nor a flag, is asked for. */
export function wantsText(schema: Schema): boolean {
  const forms = writtenForms(schema).map(definitionOf);
  return !isQuantity(schema) && forms.some(isText) && !forms.some(({ type }) => type === 'number');
}

function isText(def: Definition): boolean {
  if (def.type === 'literal') return def.values.some((value) => typeof value === 'string');
  return def.type === 'string' || def.type === 'enum';
}

/** The sentence that describes a field. */
export function sentenceOf(schema: Schema): string | undefined {
  const own = z.globalRegistry.get(schema)?.description;
  if (own !== undefined) return own;
  const def = definitionOf(schema);
  return def.type === 'optional' || def.type === 'default' ? sentenceOf(def.innerType) : undefined;
}

/** zod types the definition of a schema of unknown kind loosely; the kinds of the model are all in this union. */
export function definitionOf(schema: Schema): Definition {
  return (schema as z.core.$ZodTypes)._zod.def;
}
