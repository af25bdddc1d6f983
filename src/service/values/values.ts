import { isPartialDate } from '../../model/dates.ts';
import { convert, formatQuantity, type Quantity } from '../../model/quantity.ts';
import type { Domain } from '../base/domain.ts';

const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d{1,9})?)?(?:Z|[+-]\d{2}:\d{2})$/u;

function partialDate(value: unknown): string {
  if (typeof value === 'string' && isPartialDate(value)) return value;
  throw new TypeError(
    `${JSON.stringify(value)} is no date; write "2019", "2019-04" or "2019-04-17" (ISO 8601)`,
  );
}

function dateTime(value: unknown): string {
  if (typeof value === 'string' && INSTANT.test(value) && !Number.isNaN(Date.parse(value))) return value;
  throw new TypeError(
    `${JSON.stringify(value)} is no instant; write "2026-12-15T09:00:00Z" (ISO 8601 with zone)`,
  );
}

/** Scalars and quantities that every other part of the schema uses. */
export const values: Domain = {
  schema: `
"A date after ISO 8601 at the precision known: year (\`2019\`), year and month (\`2019-04\`) or day (\`2019-04-17\`)."
scalar PartialDate

"An instant after ISO 8601 with its zone, such as \`2026-12-15T09:00:00Z\`."
scalar DateTime

"A measured or stated amount."
type Quantity {
  "The number, in \`unit\`."
  value: Float!
  "Unit, as a code of UCUM (The Unified Code for Units of Measure), such as \`mA.h\`, \`mm\`, \`Cel\`."
  unit: String!
  "Half-width of the stated uncertainty, in \`unit\`."
  plusMinus: Float
  "Number, uncertainty and unit in one text, such as \`12.4 ± 0.1 mm\`."
  text: String!
  "The same amount in another unit that measures the same thing."
  in(
    "Unit wanted, as a UCUM code or as commonly written (\`mAh\`)."
    unit: String!
  ): Quantity!
}

"Length, width and, where known, height."
type Dimensions {
  "Longest side, a length with its unit."
  length: Quantity!
  "Second side, a length with its unit."
  width: Quantity!
  "Thickness, a length with its unit."
  height: Quantity
}

"Size of a package or body in millimetres."
type BodySize {
  "Longest side, mm."
  length: Float!
  "Second side, mm."
  width: Float!
  "Height above the board, mm."
  height: Float
}

"A place on a board: millimetres from its origin, x to the right and y up, seen from the top side."
type Point {
  "Distance to the right of the origin, mm."
  x: Float!
  "Distance above the origin, mm."
  y: Float!
}

"An amount of money."
type Money {
  "Amount, in units of the currency."
  amount: Float!
  "Currency, three letters after ISO 4217."
  currency: String!
}

"An amount with its unit, as an input."
input QuantityInput {
  "The number, in \`unit\`."
  value: Float!
  "Unit, as a UCUM code or as commonly written (\`mAh\`)."
  unit: String!
  "Half-width of the uncertainty, in \`unit\`."
  plusMinus: Float
}
`,
  scalars: { PartialDate: partialDate, DateTime: dateTime },
  resolvers: {
    Quantity: {
      text: (quantity: Quantity) => formatQuantity(quantity),
      in: (quantity: Quantity, { unit }: { unit: string }) => convert(quantity, unit),
    },
  },
};
