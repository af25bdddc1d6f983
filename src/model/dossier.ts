import { z } from 'zod';
import { boardSchema, SIDES } from './board.ts';
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
  probability,
  quantity,
  sha256,
  slug,
  term,
  text,
} from './fields.ts';
import { memberId } from './ids.ts';
import { connectionSchema, netSchema, pinSchema } from './net.ts';
import { VISIBILITIES, visibleFields } from './visibility.ts';

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
    photo: slug
      .optional()
      .describe('Id of the photo that shows it; a region of that photo may say where, as "of: step-1".'),
  })
  .describe('One step of opening the specimen.');
export type Step = z.infer<typeof stepSchema>;

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

export const subsystemSchema = z
  .strictObject({ id: slug, kind: z.enum(SUBSYSTEM_KINDS), name: text.optional(), note: text.optional() })
  .describe('A group of components with one task.');
export type Subsystem = z.infer<typeof subsystemSchema>;

/** Size of a body in mm. Whatever is recorded of bodies beside these is told by everything that goes through {@link BODY_SIDES}. */
export const bodySchema = z.strictObject({
  length: z.number().positive(),
  width: z.number().positive(),
  height: z.number().positive().optional(),
});
export type Body = z.infer<typeof bodySchema>;
export const BODY_SIDES = Object.keys(bodySchema.shape) as readonly (keyof Body)[];

export const componentSchema = z
  .strictObject({
    id: designator,
    printed: z.boolean().default(false).describe('Whether the designator is printed on the board.'),
    board: slug.optional().describe('Id of its board; left out for parts of the enclosure.'),
    side: z.enum(SIDES).optional(),
    at: z.strictObject({ x: z.number(), y: z.number() }).optional().describe('Centre on its board, mm.'),
    rotation: z.number().min(0).lt(360).optional().describe('Degrees counter-clockwise, seen from its side.'),
    body: bodySchema
      .optional()
      .describe(
        'Body size as measured, mm: length along its own x and width along its own y, before it is turned.',
      ),
    package: text.optional().describe('Package as it looks, such as "LGA-14".'),
    pins: z.number().int().positive().optional().describe('Number of pins counted.'),
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

/** Withdrawal of an observation; it stays on record and counts for nothing. */
export const withdrawalSchema = z
  .strictObject({
    by: text.describe('Who withdrew it.'),
    on: instant.describe('When.'),
    reason: text.describe('Why.'),
  })
  .describe('Set when the observation was withdrawn: it stays on record and counts for nothing.');

export type Withdrawal = z.infer<typeof withdrawalSchema>;

export const suggestionSchema = z
  .strictObject({
    by: text.describe('The program that read it, with its version.'),
    marking: markingText.describe('What it suggested, before a person looked at it.'),
    region: text
      .optional()
      .describe(
        'The part of the photo that it read, such as "xywh=percent:12.5,30,8,6" (W3C Media Fragments).',
      ),
    turned: z
      .number()
      .min(0)
      .lt(360)
      .optional()
      .describe('How far that part was turned clockwise to be read, degrees.'),
  })
  .describe('What a program read on the photo. The marking beside it is what a person confirmed.');
export type Suggestion = z.infer<typeof suggestionSchema>;

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
    suggestion: suggestionSchema.optional(),
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
    ...visibleFields,
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

/** A place on a photo: from the left and from the top, in percent of its width and height. */
const photoSpot = z.tuple([z.number().min(-50).max(150), z.number().min(-50).max(150)]);

export const photoPointSchema = z
  .strictObject({
    at: photoSpot.describe('Where it is on the photo: from the left and from the top, in percent.'),
    mm: z
      .tuple([z.number(), z.number()])
      .describe('Where it is on the board, seen from its top side: x and y, mm.'),
    within: z
      .number()
      .positive()
      .optional()
      .describe('How well its position on the board is known: standard uncertainty in x and in y, mm.'),
  })
  .describe('A point of known position on a photo.');
export type PhotoPoint = z.infer<typeof photoPointSchema>;

/** A share of a photo's width or height, percent. Whether a region lies on its photo is a rule, since records are older than it. */
const photoShare = z.number();

export const photoRegionSchema = z
  .strictObject({
    of: text.describe(
      'Id of what the region shows: a component, board or subsystem, or a step of the teardown by its place, "step-1".',
    ),
    xywh: z
      .tuple([photoShare, photoShare, photoShare, photoShare])
      .optional()
      .describe('Left, top, width, height in percent of the photo (W3C Media Fragments, xywh=percent).'),
    polygon: z
      .array(z.tuple([photoShare, photoShare]))
      .min(3)
      .max(200)
      .optional()
      .describe(
        'In place of xywh, the corners of an outline one after the other: from the left and from the top, in percent of the photo.',
      ),
  })
  .refine(({ xywh, polygon }) => xywh !== undefined || polygon !== undefined, {
    message: 'has neither xywh nor polygon; give one of them',
  })
  .describe('A part of a photo that shows one thing.');
export type PhotoRegion = z.infer<typeof photoRegionSchema>;

export const photoSchema = z
  .strictObject({
    id: slug,
    sha256,
    file: text.optional().describe('File name beside the dossier.'),
    caption: text.optional(),
    credit: text.describe('Who took it.'),
    licence: text.describe('SPDX identifier or a plain sentence.'),
    board: slug.optional().describe('Id of the board that it shows.'),
    side: z.enum(SIDES).optional().describe('Side of the board that it shows.'),
    points: z
      .array(photoPointSchema)
      .min(2)
      .max(100)
      .optional()
      .describe(
        'Points of known position: two give the scale, four or more scale and tilt, so that positions and sizes can be measured on the photo.',
      ),
    regions: z.array(photoRegionSchema).default([]),
  })
  .describe('A photo, by its digest; the file itself may lie elsewhere.');
export type Photo = z.infer<typeof photoSchema>;

/** What may be said anew of a photo: all but which file it is. Lists may be left out as they may be given. */
export const photoChangeSchema = photoSchema
  .pick({ caption: true, credit: true, licence: true, board: true, side: true, points: true })
  .partial()
  .extend({ regions: photoSchema.shape.regions.unwrap().optional() });

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
