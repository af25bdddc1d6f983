import { z } from 'zod';
import { isPartialDate } from './dates.ts';
import { isIngressCode, PART_NUMBER, SHA256, SLUG } from './identifiers.ts';
import { parseLocalId, parseMemberId } from './ids.ts';
import { MarkingError, parseMarking } from './marking.ts';
import { parseQuantity, type Quantity, QuantityError, sameDimension, unitCode } from './quantity.ts';
import { TERMS } from './taxonomy.ts';
import { TEXT_SIZES } from './text-sizes.ts';

// Building blocks of the record schemas. Each carries the sentence that the published JSON Schema shows.

export const slug = z
  .string()
  .regex(SLUG, 'write lower-case words joined by hyphens, such as "tarn-sennit-3"')
  .describe('Id: lower-case words joined by hyphens.');

export const text = z.string().trim().min(1, 'is empty; leave the field out instead');

/** A bare year is a number to YAML; it is read as it is meant. */
export const partialDate = z
  .union([z.string(), z.number().int()])
  .transform(String)
  .refine(isPartialDate, 'is not a valid date; write "2019", "2019-04" or "2019-04-17" (ISO 8601)')
  .describe('Date after ISO 8601 at the precision known: year, year-month or day.');

export const instant = z.iso
  .datetime({
    offset: true,
    error: 'is not a valid instant; write "2026-12-15T09:00:00Z" (ISO 8601 with zone)',
  })
  .describe('Instant after ISO 8601 with zone.');

export const probability = z
  .number()
  .min(0, 'a probability lies between 0 and 1')
  .max(1, 'a probability lies between 0 and 1')
  .describe('Probability between 0 and 1.');

export const sha256 = z
  .string()
  .regex(
    SHA256,
    'is not a valid SHA-256; write the 64 characters in lower-case hexadecimal that "sha256sum FILE" gives',
  );

/** Whether a text is a reference designator, with or without a board before it. */
export const isDesignator = (written: string) => parseLocalId(written)?.form === 'component';
export const NO_DESIGNATOR =
  'is not a valid reference designator; write capital class letters and a number, such as "U3", "MK1", "SW2"';

/** What a component is called on its board. Records write the board before it where two boards have it. */
export const designator = z
  .string()
  .refine(isDesignator, NO_DESIGNATOR)
  .describe('Reference designator: class letters, after IEEE 315 or common use, and a number.');

export const componentRef = z
  .string()
  .refine(isDesignator, `${NO_DESIGNATOR}, or with its board "main:U3"`)
  .describe(
    'A component: its reference designator, with its board before a colon where two boards have it, main:C1.',
  );

/** A pin of a component, or the component where the pin is not known. */
export const pinRef = z
  .string()
  .refine((written) => {
    const form = parseLocalId(written)?.form;
    return form === 'pin' || form === 'component';
  }, 'is not a valid pin; write designator, dot, and number or name of the pin, such as "U3.4" or "main:U3.SDA"')
  .describe('A pin: designator, dot, number or name of the pin.');

export const markingText = z
  .string()
  // Longer ones are not taken apart; how long a marking may be is a rule, as for all texts.
  .max(TEXT_SIZES.many)
  .superRefine((written, context) => {
    try {
      parseMarking(written);
    } catch (error) {
      if (!(error instanceof MarkingError)) throw error;
      context.addIssue({ code: 'custom', message: error.message });
    }
  })
  .describe(
    'Marking as read: "?" for an unread character, "[8B]" for one of several, "\\\\" before a real ? or [.',
  );

export const partId = z
  .string()
  .refine((written) => {
    const id = parseMemberId(written);
    return id !== undefined && SLUG.test(id.record) && PART_NUMBER.test(id.member);
  }, 'is not a valid part id; write maker id, slash, part number, such as "quistle/QWR4T10"')
  .describe('Part: maker id, slash, part number.');

export const term = z.enum(TERMS as [string, ...string[]]).describe('Term of schema/taxonomy.yaml.');

export const ingressCode = z
  .string()
  .refine(isIngressCode, 'is not a valid ingress code; write for example "IP67" or "IPX4" (IEC 60529)')
  .describe('Ingress protection code after IEC 60529.');

export const country = z
  .string()
  .regex(/^[A-Z]{2}$/u, 'is not a valid country; write two capital letters after ISO 3166-1')
  .describe('Country, two letters after ISO 3166-1.');

export const currency = z
  .string()
  .regex(/^[A-Z]{3}$/u, 'is not a valid currency; write three capital letters after ISO 4217')
  .describe('Currency, three letters after ISO 4217.');

const quantityObject = z.strictObject({
  value: z.number().describe('The number.'),
  unit: z
    .string()
    .refine((unit) => unitCode(unit) !== undefined, 'is not a UCUM unit')
    .transform((unit) => unitCode(unit) as string)
    .describe('UCUM unit code.'),
  plusMinus: z.number().nonnegative().optional().describe('Half-width of the uncertainty, in the same unit.'),
});

/** A quantity written as text (`"3.7 V"`) or as value and unit, of the same dimension as `unit`. */
export function quantity(unit: string, what: string) {
  return z
    .union([z.string(), quantityObject])
    .transform((written, context): Quantity => {
      try {
        const read = typeof written === 'string' ? parseQuantity(written) : written;
        if (sameDimension(read.unit, unit)) return read;
        context.addIssue({
          code: 'custom',
          message: `is in ${read.unit}, which does not convert to ${unit}`,
        });
      } catch (error) {
        if (!(error instanceof QuantityError)) throw error;
        context.addIssue({ code: 'custom', message: error.message });
      }
      return z.NEVER;
    })
    .describe(`${what} A number with a unit that converts to ${unit}, such as "1 ${unit}".`);
}

/** A quantity of any dimension. */
export const anyQuantity = z
  .union([z.string(), quantityObject])
  .transform((written, context): Quantity => {
    if (typeof written !== 'string') return written;
    try {
      return parseQuantity(written);
    } catch (error) {
      if (!(error instanceof QuantityError)) throw error;
      context.addIssue({ code: 'custom', message: error.message });
      return z.NEVER;
    }
  })
  .describe('A number with a unit, such as "3.7 V".');
