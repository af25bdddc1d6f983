import { isPartialDate } from '../../model/dates.ts';
import { convert, formatQuantity, type Quantity } from '../../model/quantity.ts';
import type { Resolvers } from './resolver-types.ts';

const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d{1,9})?)?(?:Z|[+-]\d{2}:\d{2})$/u;

function partialDate(value: unknown): string {
  if (typeof value === 'string' && isPartialDate(value)) return value;
  throw new TypeError(`${shown(value)} is not a date; write "2019", "2019-04" or "2019-04-17" (ISO 8601)`);
}

function dateTime(value: unknown): string {
  if (typeof value === 'string' && INSTANT.test(value) && !Number.isNaN(Date.parse(value))) return value;
  throw new TypeError(`${shown(value)} is not an instant; write "2026-12-15T09:00:00Z" (ISO 8601 with zone)`);
}

/** A value as a message shows it: never more than a few words of it. */
const shown = (value: unknown) => {
  const text = JSON.stringify(value) ?? 'undefined';
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
};

/** For each scalar of our own the check of a value that comes in; it throws TypeError. */
export const SCALARS: Readonly<Record<string, (value: unknown) => unknown>> = {
  PartialDate: partialDate,
  DateTime: dateTime,
  Json: (value) => value,
};

/** An amount as the model has it. */
export type QuantitySource = Quantity;

/** Amounts in words and in other units. */
export const quantities: Resolvers = {
  Quantity: {
    text: (quantity) => formatQuantity(quantity),
    in: (quantity, { unit }) => convert(quantity, unit),
  },
};
