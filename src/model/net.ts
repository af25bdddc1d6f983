import { z } from 'zod';
import { pinRef, quantity, slug, text } from './fields.ts';

// What joins components: pins, nets, traced connections.

export const MEDIA = [
  'trace',
  'flex',
  'wire',
  'contact',
  'rf-feed',
  'optical-path',
  'adhesive',
  'screw',
] as const;
export const BUSES = [
  'I2C',
  'I3C',
  'SPI',
  'QSPI',
  'UART',
  'I2S',
  'PDM',
  'USB',
  'MIPI-DSI',
  'SDIO',
  'SWD',
  'JTAG',
  'GPIO',
  'analogue',
  'power',
  'rf',
] as const;
export const NET_KINDS = ['ground', 'power', 'signal'] as const;
/** Electrical types of a pin, as design tools tell them apart. */
export const PIN_DIRECTIONS = [
  'input',
  'output',
  'bidirectional',
  'open-drain',
  'passive',
  'power-input',
  'power-output',
  'not-connected',
] as const;
/** What a pin is for. */
export const PIN_FUNCTIONS = [
  'ground',
  'supply-input',
  'supply-output',
  'switched-output',
  'switch-node',
  'battery',
  'feedback',
  'bypass',
  'enable',
  'reference',
  'clock',
  'data',
  'chip-select',
  'interrupt',
  'reset',
  'crystal',
  'antenna',
  'analogue-input',
  'analogue-output',
  'drive-output',
  'debug',
  'gate',
  'drain',
  'source',
  'anode',
  'cathode',
  'not-connected',
  'other',
] as const;

/** Name or number of a pin, as printed in a pinout: `4`, `A12`, `SDA`, `P0.18/NRESET`. */
const pinLabel = z
  .string()
  .regex(/^[^\s:]{1,40}$/u, 'is not a valid pin; write its number or name without spaces');

export const pinSchema = z
  .strictObject({
    number: z
      .union([pinLabel, z.number().int().nonnegative()])
      .transform(String)
      .optional()
      .describe('Number after the package drawing, such as 4 or B3.'),
    name: pinLabel.optional().describe('Name after the pinout, such as SDA or VDD.'),
    direction: z.enum(PIN_DIRECTIONS).optional(),
    function: z.enum(PIN_FUNCTIONS).optional().describe('What it is for; else its name tells.'),
    output: text
      .optional()
      .describe('For a chip with several supplies: which of its outputs this is, such as "buck 1".'),
  })
  .refine(({ number, name }) => number !== undefined || name !== undefined, {
    message: 'has neither number nor name; give at least one',
  })
  .describe('One pin.');
export type Pin = z.infer<typeof pinSchema>;

export const connectionSchema = z
  .strictObject({
    between: z.tuple([text, text]).describe('Ids of the two components or boards that it joins.'),
    medium: z.enum(MEDIA),
    bus: z.enum(BUSES).optional().describe('Bus or kind of signal, when known.'),
    lines: z.number().int().positive().optional().describe('Number of conductors.'),
    pins: z
      .array(z.tuple([pinLabel, pinLabel]))
      .optional()
      .describe('For mated connectors: pairs of pins that meet, in the order of "between".'),
    basis: z.array(slug).default([]).describe('Observations that show it.'),
    note: text.optional(),
  })
  .describe('A connection between two components or boards, without direction.');
export type Connection = z.infer<typeof connectionSchema>;

export const netSchema = z
  .strictObject({
    id: slug,
    label: text.optional().describe('Name as a design file or the board has it, such as "3V3" or "SDA".'),
    kind: z.enum(NET_KINDS),
    voltage: quantity('V', 'Voltage of a supply, nominal for a cell.').optional(),
    bus: z.enum(BUSES).optional().describe('Bus or kind of signal, when known.'),
    pins: z
      .array(pinRef)
      .min(1)
      .describe(
        'What it joins: pins by number or name, U3.4 or main:U3.SDA; U3 alone where the pin is not known.',
      ),
    complete: z
      .boolean()
      .optional()
      .describe(
        'Whether everything that it joins is listed. Only then can it be said that nothing else hangs on it.',
      ),
    medium: z.enum(MEDIA).optional().describe('What carries it, where it is not a trace.'),
    basis: z.array(slug).default([]).describe('Observations that show it.'),
    note: text.optional(),
  })
  .describe('A net: the pins that one conductor joins. Nets of two boards meet in mated connectors.');
export type Net = z.infer<typeof netSchema>;
