import { z } from 'zod';
import { partId, partialDate, slug, term } from './fields.ts';

// Figures that a published sentence states, in a form that can be calculated again on request.

const subject = z
  .union([
    z.strictObject({ pattern: slug.describe('Id of a named pattern.') }),
    z.strictObject({ decision: slug.describe('Id of the named pattern behind a design decision.') }),
    z.strictObject({ category: term }),
    z.strictObject({ maker: slug.describe('Id of a maker of parts.') }),
    z.strictObject({ part: partId }),
  ])
  .describe('What devices have: one of pattern, decision, category, maker or part.');

const where = z
  .strictObject({
    bodySite: z.string().optional(),
    maker: slug.optional(),
    productLine: slug.optional(),
    from: partialDate.optional(),
    to: partialDate.optional(),
  })
  .default({})
  .describe('Which opened devices it is about; all when left out.');

export type FigureWhere = z.infer<typeof where>;

const share = z.number().min(0).max(1);
const number = z.number().int().nonnegative();

const bounded = ({ atLeast, atMost }: { readonly atLeast?: unknown; readonly atMost?: unknown }) =>
  atLeast !== undefined || atMost !== undefined;
const UNBOUNDED = {
  message: 'says neither atLeast nor atMost; give at least one, so that it states something',
};

export const figureSchema = z
  .union([
    z
      .strictObject({ share: subject, where, atLeast: share.optional(), atMost: share.optional() })
      .refine(bounded, UNBOUNDED)
      .describe('Share of the opened devices that have it, 0 to 1.'),
    z
      .strictObject({ count: subject, where, atLeast: number.optional(), atMost: number.optional() })
      .refine(bounded, UNBOUNDED)
      .describe('Number of the opened devices that have it.'),
    z
      .strictObject({
        compare: term.describe('Kind of component that is counted.'),
        devices: z.tuple([slug, slug]).describe('Ids of the two devices.'),
        says: z.enum(['more', 'as-many', 'fewer']).describe('What the first has beside the second.'),
      })
      .describe('Number of components of a kind in one device beside another.'),
    z
      .strictObject({
        trend: subject,
        where,
        per: z.enum(['year', 'half-year', 'quarter']).default('year'),
        says: z.enum(['rising', 'falling']),
      })
      .describe('Direction of the share of devices that have it, over their release dates.'),
  ])
  .describe('A figure that the sentence states: a share, a count, a comparison or a trend.');
export type Figure = z.infer<typeof figureSchema>;
