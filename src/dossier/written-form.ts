import { formatQuantity, parseQuantity, type Quantity } from '../model/quantity.ts';
import { same } from './document/same.ts';
import { defaultOf, definitionOf, fieldsOf, isQuantity, required, type Schema } from './schema-walk.ts';

/**
 * A record as files have it: fields in the order of the schema, quantities as text ("3.7 V"), and nothing that the
 * schema fills in by itself. Parsing it with the schema gives the record back.
 */
export function writtenForm(schema: Schema, value: unknown): unknown {
  const bare = required(schema);
  const def = definitionOf(bare);
  if (isQuantity(bare)) return quantityForm(value as Quantity);
  switch (def.type) {
    case 'object':
      return groupForm(bare, value as object);
    case 'record':
      return Object.fromEntries(
        Object.entries(value as object).map(([key, one]) => [key, writtenForm(def.valueType, one)]),
      );
    case 'array':
      return (value as readonly unknown[]).map((one) => writtenForm(def.element, one));
    case 'tuple':
      return (value as readonly unknown[]).map((one, i) => writtenForm(def.items[i], one));
    case 'union':
      return unionForm(def.options, value);
    case 'pipe':
      // A bare year is a number in YAML.
      return /^[1-9]\d*$/u.test(String(value)) ? Number(value) : value;
    default:
      return value;
  }
}

function groupForm(schema: Schema, value: object): object {
  const record = value as Readonly<Record<string, unknown>>;
  const entries = [...fieldsOf(schema)].flatMap(([name, field]) => {
    const one = Object.hasOwn(record, name) ? record[name] : undefined;
    return one === undefined || same(one, defaultOf(field)) ? [] : [[name, writtenForm(field, one)] as const];
  });
  return Object.fromEntries(entries);
}

/** Where plain text is allowed as well, a quantity is written as value and unit, or it would come back as text. */
function unionForm(options: readonly Schema[], value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  const groups = options.filter((option) => definitionOf(option).type === 'object' || isQuantity(option));
  const names = Object.keys(value);
  const fitting = groups.find((option) => {
    if (isQuantity(option)) return names.includes('unit');
    const fields = fieldsOf(option);
    return names.every((name) => fields.has(name));
  });
  if (!fitting || isQuantity(fitting)) return value;
  return writtenForm(fitting, value);
}

/** Text where it reads back to the very same quantity, else value and unit. */
function quantityForm(quantity: Quantity): unknown {
  const text = formatQuantity(quantity);
  return same(parseQuantity(text), quantity) ? text : quantity;
}
