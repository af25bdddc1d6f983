import { z } from 'zod';
import { HAZARDS } from './cautions.ts';
import {
  anyQuantity,
  componentRef,
  country,
  currency,
  designator,
  ingressCode,
  instant,
  markingText,
  partId,
  partialDate,
  pinRef,
  probability,
  quantity,
  sha256,
  slug,
  term,
  text,
} from './fields.ts';
import { memberId } from './ids.ts';

// One opened specimen, one dossier (design, section 4). Inside it short local ids are used; `ids.ts` makes
// the global ones. Lengths on boards are plain numbers in mm; everything else carries its unit.

export const BODY_SITES = [
  'wrist',
  'finger',
  'ear',
  'chest',
  'head',
  'ankle',
  'eyewear',
  'badge',
  'clothing',
  'other',
] as const;
export const SIDES = ['top', 'bottom'] as const;
export const BOARD_KINDS = ['rigid', 'flex', 'rigid-flex', 'substrate', 'module'] as const;
/** What a record of a specimen may come from. */
export const RECORD_SOURCES = ['bench', 'design-files'] as const;
export const SUBSYSTEM_KINDS = [
  'sensing',
  'processing',
  'power',
  'radio',
  'display',
  'haptics',
  'audio',
  'storage',
  'interconnect',
  'antenna',
  'enclosure',
] as const;
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
  'analog',
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
  'analog-input',
  'analog-output',
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
export const OBSERVATION_KINDS = [
  'marking',
  'package',
  'body-size',
  'pin-count',
  'trace',
  'position',
  'appearance',
  'measurement',
  'probe',
  'x-ray',
  'condition',
] as const;
/** Plain words for how far an identification has come; a probability is always given with it. */
export const IDENTIFICATION_STATES = ['proposed', 'favoured', 'settled', 'withdrawn'] as const;
export const VISIBILITIES = ['published', 'draft', 'embargoed'] as const;

const millimetres = z.number().nonnegative();
const sizeSchema = z.strictObject({
  length: quantity('mm', 'Longest side.'),
  width: quantity('mm', 'Second side.'),
  height: quantity('mm', 'Thickness.').optional(),
});

export const deviceSchema = z
  .strictObject({
    id: slug,
    name: text.describe('Name of the model.'),
    maker: slug.describe('Id of the maker.'),
    productLine: slug.optional().describe('Id of the product line.'),
    released: partialDate.describe('First sold.'),
    bodySite: z.enum(BODY_SITES).describe('Where it is worn.'),
    mass: quantity('g', 'Mass with its cell, without strap or case.').optional(),
    dimensions: sizeSchema.optional(),
    price: z
      .strictObject({ amount: z.number().nonnegative(), currency })
      .optional()
      .describe('Price at release.'),
    ingress: ingressCode.optional(),
    regulatoryIds: z
      .array(z.strictObject({ scheme: z.enum(['fcc', 'gtin', 'ce', 'ised', 'other']), id: text }))
      .default([])
      .describe('Identifiers under which authorities or trade know it.'),
    succeeds: z
      .array(slug)
      .default([])
      .describe('Ids of the devices that it follows; empty for a first one.'),
    invented: z.literal(true).optional().describe('Marks demo data: no such device exists.'),
    note: text.optional(),
  })
  .describe('A model, as sold.');
export type Device = z.infer<typeof deviceSchema>;

export const specimenSchema = z
  .strictObject({
    id: slug.describe('Local id, such as "a".'),
    revision: text.optional().describe('Hardware revision, as printed or reported.'),
    bought: partialDate.optional(),
    region: country.optional(),
    serial: text.optional().describe('Serial number or part of it, if it may be shown.'),
    condition: z.enum(['intact', 'worn', 'damaged-before', 'damaged-in-opening']).default('intact'),
    note: text.optional(),
  })
  .describe('The unit that was opened.');
export type Specimen = z.infer<typeof specimenSchema>;

export const stepSchema = z
  .strictObject({
    do: text.describe('What is done, in a sentence.'),
    tool: text.optional(),
    minutes: z.number().positive().optional().describe('Bench time in minutes.'),
    destructive: z.boolean().default(false).describe('Whether the specimen cannot be put back as it was.'),
    hazards: z
      .array(z.enum(HAZARDS as [string, ...string[]]))
      .default([])
      .describe('Hazards; the cautions follow from them.'),
  })
  .describe('One step of opening the specimen.');

export const teardownSchema = z
  .strictObject({
    on: partialDate.describe('When it was opened.'),
    by: text.describe('Who opened it.'),
    recordedFrom: z
      .enum(RECORD_SOURCES)
      .optional()
      .describe(
        'What the record comes from; the bench when left out. Design files show the boards alone: not the enclosure, walls and windows, what lies off the boards, how boards lie on each other, or what a bought module holds inside.',
      ),
    place: text.optional(),
    hazards: z.array(z.enum(HAZARDS as [string, ...string[]])).default([]),
    steps: z.array(stepSchema).default([]),
    note: text.optional(),
  })
  .describe('The event of opening.');
export type Teardown = z.infer<typeof teardownSchema>;

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

export const subsystemSchema = z
  .strictObject({ id: slug, kind: z.enum(SUBSYSTEM_KINDS), name: text.optional(), note: text.optional() })
  .describe('A group of components with one task.');
export type Subsystem = z.infer<typeof subsystemSchema>;

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

export const componentSchema = z
  .strictObject({
    id: designator,
    printed: z.boolean().default(false).describe('Whether the designator is printed on the board.'),
    board: slug.optional().describe('Id of its board; left out for parts of the enclosure.'),
    side: z.enum(SIDES).optional(),
    at: z.strictObject({ x: z.number(), y: z.number() }).optional().describe('Centre on its board, mm.'),
    rotation: z.number().min(0).lt(360).optional().describe('Degrees counter-clockwise, seen from its side.'),
    body: z
      .strictObject({
        length: z.number().positive(),
        width: z.number().positive(),
        height: z.number().positive().optional(),
      })
      .optional()
      .describe(
        'Body size as measured, mm: length along its own x and width along its own y, before it is turned.',
      ),
    package: text.optional().describe('Package as it looks, such as "LGA-14".'),
    pins: z.number().int().positive().optional().describe('Terminals counted.'),
    pinout: z.array(pinSchema).optional().describe('Its pins, as far as number, name or function are known.'),
    value: text.optional().describe('Value as printed or listed, such as "4.7 kOhm" or "100 nF".'),
    fitted: z
      .boolean()
      .optional()
      .describe('false: the place is empty, nothing is soldered there. Then it counts as no component.'),
    marking: markingText.optional(),
    reading: probability.optional().describe('How sure the reading of the marking is.'),
    appears: term
      .optional()
      .describe('What it plainly is to the eye, such as Connector; left out for a chip.'),
    subsystem: slug.optional().describe('Id of its subsystem.'),
    inside: componentRef.optional().describe('The module or package that holds it.'),
    note: text.optional(),
  })
  .describe('A placed component: what was seen of it.');
export type Component = z.infer<typeof componentSchema>;

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

/** Withdrawal of an observation; it stays on record and counts for nothing. */
export const withdrawalSchema = z
  .strictObject({
    by: text.describe('Who withdrew it.'),
    on: instant.describe('When.'),
    reason: text.describe('Why.'),
  })
  .describe('Set when the observation was withdrawn: it stays on record and counts for nothing.');

export type Withdrawal = z.infer<typeof withdrawalSchema>;

export const observationSchema = z
  .strictObject({
    id: slug,
    about: z.array(text).min(1).describe('Ids of the components, boards or other things it is about.'),
    kind: z.enum(OBSERVATION_KINDS),
    text: text.optional().describe('What was seen, in words.'),
    marking: markingText.optional(),
    value: anyQuantity.optional().describe('What was measured.'),
    leadsTo: z.array(text).optional().describe('For a trace: ids of what it leads to.'),
    photo: slug.optional().describe('Id of the photo that shows it.'),
    method: text.optional().describe('How it was looked at, such as "microscope, raking light".'),
    on: partialDate.optional(),
    by: text.optional(),
    corrects: slug.optional().describe('Id of the earlier observation that this one corrects.'),
    cites: z
      .array(text)
      .optional()
      .describe('Ids of published sentences (`publication/claim`) or sources that support it.'),
    withdrawn: withdrawalSchema.optional(),
    note: text.optional(),
  })
  .describe('Something seen or measured. It is never changed; a later observation corrects it.');
export type Observation = z.infer<typeof observationSchema>;

export const candidateSchema = z
  .strictObject({
    part: partId.optional(),
    category: term.optional().describe('For a component known only by its kind.'),
    maker: slug.optional().describe('For a maker known without the part.'),
    probability,
  })
  .refine(
    ({ part, category, maker }) => part !== undefined || category !== undefined || maker !== undefined,
    {
      message: 'names neither part, category nor maker; give at least one',
    },
  )
  .describe('One thing the component may be.');
export type Candidate = z.infer<typeof candidateSchema>;

export const identificationSchema = z
  .strictObject({
    component: componentRef,
    candidates: z
      .array(candidateSchema)
      .min(1)
      .describe('Rival candidates; what their probabilities leave to 1 stays unknown.'),
    state: z.enum(IDENTIFICATION_STATES).default('proposed'),
    basis: z.array(slug).default([]).describe('Observations that support it.'),
    cites: z
      .array(text)
      .optional()
      .describe('Ids of published sentences (`publication/claim`) or sources that support it.'),
    by: text.optional(),
    on: partialDate.optional(),
    reason: text.optional(),
  })
  .describe('A conclusion about what a component is.');
export type Identification = z.infer<typeof identificationSchema>;

/** Maximum weight of one judgement, decibans: a million to one. */
const MAX_DECIBANS = 60;

export const judgementSchema = z
  .strictObject({
    component: componentRef,
    part: partId.describe('Id of the part it is evidence for or against.'),
    decibans: z
      .number()
      .min(-MAX_DECIBANS)
      .max(MAX_DECIBANS)
      .describe('Weight: 10 makes the part ten times as likely as it was, -10 a tenth.'),
    by: text.describe('Who judged.'),
    reason: text.describe('Why.'),
    on: partialDate.optional().describe('When.'),
  })
  .describe("An editor's own judgement, weighed as one more piece of evidence.");
export type EditorJudgement = z.infer<typeof judgementSchema>;

export const photoSchema = z
  .strictObject({
    id: slug,
    sha256,
    file: text.optional().describe('File name beside the dossier.'),
    caption: text.optional(),
    credit: text.describe('Who took it.'),
    licence: text.describe('SPDX identifier or a plain sentence.'),
    regions: z
      .array(
        z.strictObject({
          of: text.describe('Id of what the region shows.'),
          xywh: z
            .tuple([z.number(), z.number(), z.number(), z.number()])
            .describe(
              'Left, top, width, height in percent of the photo (W3C Media Fragments, xywh=percent).',
            ),
        }),
      )
      .default([]),
  })
  .describe('A photo, by its digest; the file itself may lie elsewhere.');
export type Photo = z.infer<typeof photoSchema>;

export const dossierSchema = z
  .strictObject({
    caseback: z.literal('dossier/1').describe('Says that this file is a dossier, and in which version.'),
    visibility: z.enum(VISIBILITIES).default('published').describe('Who may see it: all, or the desk only.'),
    embargoUntil: instant.optional(),
    device: z
      .union([slug, deviceSchema])
      .describe('The device, or the id of one that another dossier describes.'),
    specimen: specimenSchema,
    teardown: teardownSchema,
    boards: z.array(boardSchema).default([]),
    subsystems: z.array(subsystemSchema).default([]),
    components: z.array(componentSchema).default([]),
    connections: z.array(connectionSchema).default([]),
    nets: z.array(netSchema).optional(),
    observations: z.array(observationSchema).default([]),
    identifications: z.array(identificationSchema).default([]),
    judgements: z.array(judgementSchema).optional(),
    photos: z.array(photoSchema).default([]),
    note: text.optional(),
  })
  .describe('One opened specimen: what was seen, and what was concluded from it.');
export type Dossier = z.infer<typeof dossierSchema>;

/** Id of the device that a dossier is about. */
export function deviceIdOf(dossier: Pick<Dossier, 'device'>): string {
  return typeof dossier.device === 'string' ? dossier.device : dossier.device.id;
}

/** Global id of the specimen: device id, slash, local id. */
export function specimenIdOf(dossier: Pick<Dossier, 'device' | 'specimen'>): string {
  return memberId(deviceIdOf(dossier), dossier.specimen.id);
}
