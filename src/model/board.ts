import { z } from 'zod';
import { slug, text } from './fields.ts';

// Boards and their outlines. Lengths are plain numbers in mm.

const millimetres = z.number().nonnegative();

export const SIDES = ['top', 'bottom'] as const;
export const BOARD_KINDS = ['rigid', 'flex', 'rigid-flex', 'substrate', 'module'] as const;

const point = z.tuple([z.number(), z.number()]);
const ringSchema = z
  .array(
    z.union([
      point,
      z.strictObject({
        to: point.describe('The corner.'),
        through: point.describe('A point of the arc that leads to it from the corner before.'),
      }),
    ]),
  )
  .refine((ring) => ring.length >= (ring.every((corner) => Array.isArray(corner)) ? 3 : 2), {
    message: 'has too few corners; write at least 3, or 2 with an arc',
  })
  .describe('Corners in order: [x, y] after a straight edge, or { to, through } after an arc; mm.');
/** A closed line of straight edges and arcs. */
export type Ring = z.infer<typeof ringSchema>;

export const outlineSchema = z
  .union([
    z.strictObject({ length: millimetres, width: millimetres }),
    z.strictObject({
      points: ringSchema,
      holes: z
        .array(
          z.union([
            z.strictObject({ centre: point, diameter: z.number().positive() }),
            z.strictObject({ points: ringSchema }),
          ]),
        )
        .optional()
        .describe('Cut-outs inside the outline: round ones by centre and diameter, others by corners.'),
      breakaway: z
        .array(ringSchema)
        .optional()
        .describe('Pieces that are broken off before use; they count neither as length nor as area.'),
    }),
  ])
  .describe('Rectangle from (0, 0), or corners; mm, x to the right and y up, seen from the top side.');
export type Outline = z.infer<typeof outlineSchema>;

export const boardSchema = z
  .strictObject({
    id: slug,
    name: text.optional(),
    kind: z.enum(BOARD_KINDS),
    outline: outlineSchema.optional(),
    sides: z.array(z.enum(SIDES)).min(1).default(['top', 'bottom']).describe('Sides that carry components.'),
    layers: z.number().int().positive().optional().describe('Copper layers.'),
    stackedOn: slug.optional().describe('Id of the board that it lies on.'),
    fullyInventoried: z
      .boolean()
      .optional()
      .describe(
        'Whether every component of this board is listed, and what it connects to off the board, such as cell, motor and display: shields lifted, both sides looked at. Only then can what is not listed be absent.',
      ),
    fullyTraced: z
      .boolean()
      .optional()
      .describe(
        'Whether everything that the components of this board are joined to is listed, as nets or as connections traced to the end. Only then can a connection that is not listed be absent.',
      ),
    note: text.optional(),
  })
  .describe('A circuit board, flexible circuit, substrate or module carrier.');
export type Board = z.infer<typeof boardSchema>;
