import { z } from 'zod';
import { slug, text } from './fields.ts';
import { visibleFields } from './visibility.ts';

// How lists of one origin are to be read: bills of materials and placement lists whose headings do not tell, or not all.

/** What a column of a list may hold. */
export const LIST_FIELDS = [
  'designator',
  'quantity',
  'value',
  'description',
  'footprint',
  'partNumber',
  'maker',
  'fitted',
  'notFitted',
  'side',
  'centreX',
  'centreY',
  'originX',
  'originY',
  'padX',
  'padY',
  'x',
  'y',
  'rotation',
  'height',
  'length',
  'width',
  'pins',
  'board',
  'marking',
  'note',
] as const;
export type ListField = (typeof LIST_FIELDS)[number];

/** Units of lengths in lists. */
export const LIST_LENGTH_UNITS = ['mm', 'mil', 'inch', 'um', 'cm'] as const;
/** Signs between whole numbers and fractions. */
export const DECIMAL_SIGNS = ['point', 'comma'] as const;

export const listMappingSchema = z
  .strictObject({
    id: slug,
    title: text.describe('Of which lists it is, as a heading.'),
    columns: z
      .array(
        z.strictObject({
          heading: text.describe(
            'The heading, as the lists have it; case, blanks and punctuation do not count.',
          ),
          field: z.enum([...LIST_FIELDS, 'aside']).describe('What the column holds; aside for nothing.'),
          unit: text.optional().describe('Unit of its bare numbers, such as mil or nF.'),
        }),
      )
      .min(1)
      .describe(
        'What the columns hold; a list that lacks one of them is refused, and others are read by their headings.',
      ),
    sheet: text.optional().describe('Sheet of a workbook, by name or number from 1.'),
    headingRow: z
      .number()
      .int()
      .min(1)
      .max(1_048_576)
      .optional()
      .describe('Line of the headings, or row of the sheet, from 1, where it is not found.'),
    decimal: z.enum(DECIMAL_SIGNS).optional().describe('Decimal sign of numbers in text.'),
    unit: z.enum(LIST_LENGTH_UNITS).optional().describe('Unit of lengths where a list does not say one.'),
    note: text.optional(),
    ...visibleFields,
  })
  .describe('A list mapping: which column of the lists of one origin holds what.');
export type ListMapping = z.infer<typeof listMappingSchema>;
