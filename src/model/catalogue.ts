import { z } from 'zod';
import { bodySchema, type Device, deviceSchema } from './dossier.ts';
import {
  anyQuantity,
  country,
  instant,
  partId,
  partialDate,
  probability,
  quantity,
  slug,
  term,
  text,
} from './fields.ts';
import { figureSchema } from './figure.ts';
import { memberId } from './ids.ts';
import { listMappingSchema } from './list-mapping.ts';
import { pinSchema } from './net.ts';
import { PARAMETERS } from './taxonomy.ts';
import { VISIBILITIES, visibleFields } from './visibility.ts';

// Records that many dossiers share: makers, product lines, devices, parts, sources, published publications, named patterns, feeds, list mappings.

/** Of what is known through its devices and parts: left out, readers see it once they see one of these. */
const knownByItself = {
  ...visibleFields,
  visibility: visibleFields.visibility.describe(
    'Who may see it: all, even without a device or part (published), the desk alone (draft), or all from `embargoUntil` on (embargoed). Left out: whoever sees one of its devices or parts.',
  ),
};

export const makerSchema = z
  .strictObject({
    id: slug,
    name: text.describe('Name as the maker writes it.'),
    makes: z
      .array(z.enum(['devices', 'parts']))
      .min(1)
      .describe('Whether it makes devices, parts or both.'),
    country: country.optional(),
    invented: z.literal(true).optional().describe('Marks demo data: no such maker exists.'),
    note: text.optional(),
    ...knownByItself,
  })
  .describe('A maker of devices or parts.');
export type Maker = z.infer<typeof makerSchema>;

export const productLineSchema = z
  .strictObject({
    id: slug,
    name: text.describe('Name of the product line.'),
    maker: slug.describe('Id of the maker.'),
    note: text.optional(),
    ...knownByItself,
  })
  .describe('A product line whose devices succeed one another.');
export type ProductLine = z.infer<typeof productLineSchema>;

/** A device as a record of its own: known before anybody opened it, or beside the dossiers of its specimens. */
export const deviceRecordSchema = deviceSchema
  .extend({
    visibility: z
      .enum(VISIBILITIES)
      .default('published')
      .describe('Who may see it by itself; whoever sees one of its specimens sees it as well.'),
    embargoUntil: instant.optional(),
  })
  .describe('A device as a record of its own, opened or not.');
export type DeviceRecord = z.infer<typeof deviceRecordSchema>;

/** What a record says of a device, without who may see it. */
export function described({ visibility: _, embargoUntil: __, ...device }: DeviceRecord): Device {
  return device;
}

/** Each known parameter with its own dimension; the names come from schema/taxonomy.yaml. */
const parametersSchema = z
  .strictObject(
    Object.fromEntries(
      [...PARAMETERS].map(([name, { unit, text: isText, flag, is }]) => {
        const value = unit
          ? quantity(unit, is)
          : isText
            ? text.describe(is)
            : flag
              ? z.boolean().describe(is)
              : z.number().int().positive().describe(is);
        return [name, value.optional()] as const;
      }),
    ),
  )
  .describe('Parameters from the catalogue sheet; names are listed in schema/taxonomy.yaml.');

export const partSchema = z
  .strictObject({
    number: z
      .string()
      .regex(
        /^[A-Za-z0-9][A-Za-z0-9._+-]{0,39}$/u,
        'is not a valid part number: letters, digits and . _ + - only',
      )
      .describe('Part number in the catalogue.'),
    maker: slug.describe('Id of the maker.'),
    name: text.optional().describe('What the catalogue calls it, in a few words.'),
    categories: z.array(term).min(1).describe('What it is; several for a part with several functions.'),
    package: text.optional().describe('Package as the trade writes it, such as "LGA-14" or "WLCSP-36".'),
    pins: z.number().int().positive().optional().describe('Number of pins.'),
    pinout: z.array(pinSchema).optional().describe('Its pins, as far as they are known.'),
    body: bodySchema.optional().describe('Body size in mm.'),
    markings: z
      .array(text)
      .default([])
      .describe(
        'Markings it is known to carry. Letters and digits are literal; {lot:3} is three free characters, {date:YYWW} or {date:YWW} a date code, a line break separates lines.',
      ),
    introduced: partialDate.optional().describe('First delivered.'),
    discontinued: partialDate.optional().describe('Last delivered.'),
    relabels: partId.optional().describe('The part of another maker that this one is, under a new label.'),
    parameters: parametersSchema.default({}),
    note: text.optional(),
    ...visibleFields,
  })
  .describe('A catalogue entry.');
export type Part = z.infer<typeof partSchema>;

/** Global id of a part: maker id, slash, part number. */
export function partIdOf(part: Pick<Part, 'maker' | 'number'>): string {
  return memberId(part.maker, part.number);
}

export const sourceSchema = z
  .strictObject({
    id: slug,
    kind: z.enum(['standard', 'filing', 'data-sheet', 'paper', 'press', 'correspondence', 'other']),
    title: text,
    url: z.url().optional(),
    licence: text.optional().describe('SPDX identifier or a plain sentence.'),
    accessed: partialDate.optional(),
    note: text.optional(),
    ...visibleFields,
  })
  .describe('Where a fact from outside the bench comes from.');
export type Source = z.infer<typeof sourceSchema>;

export const claimSchema = z
  .strictObject({
    id: slug.describe('Local id inside the publication.'),
    sentence: text.describe('One sentence, as published.'),
    supportedBy: z
      .array(text)
      .min(1)
      .describe(
        'Ids of what supports it: observations, identifications, components, devices, decisions (device id, colon, pattern id), other claims, sources; beside components also the parts, or terms of the taxonomy, that the sentence says they are.',
      ),
    figures: z
      .array(figureSchema)
      .optional()
      .describe(
        'Shares, counts, comparisons and trends that it states; they are calculated again for every audit.',
      ),
    probability: probability.optional(),
    by: text.optional().describe('Who judged.'),
    note: text.optional(),
    ...visibleFields,
  })
  .describe('One sentence of a publication with what supports it.');
export type Claim = z.infer<typeof claimSchema>;

/** Global id of a claim: publication id, slash, local id. */
export function claimIdOf(publication: { readonly id: string }, claim: { readonly id: string }): string {
  return memberId(publication.id, claim.id);
}

export const publicationSchema = z
  .strictObject({
    id: slug,
    kind: z.enum(['article', 'video', 'newsletter', 'figure']),
    title: text,
    published: partialDate.optional().describe('Left out while the publication is in the making.'),
    visibility: z.enum(VISIBILITIES).default('published'),
    embargoUntil: instant.optional(),
    claims: z.array(claimSchema).default([]),
    note: text.optional(),
  })
  .describe('An article, video or newsletter, and its claims.');
export type Publication = z.infer<typeof publicationSchema>;

export const patternSchema = z
  .strictObject({
    id: slug,
    name: text.describe('Plain words of the trade.'),
    idea: text.describe('The design idea in one sentence.'),
    scope: z
      .enum(['device', 'archive'])
      .default('device')
      .describe('Whether a match lies within one opened device or may span the archive.'),
    text: text.describe('The pattern, in the read-only subset of ISO/IEC 39075 (GQL).'),
    reasons: z.array(text).min(1).describe('Reasons a designer may have had.'),
    against: z.array(text).default([]).describe('What would be evidence against this reading.'),
    strength: probability
      .default(0.8)
      .describe('How often the shape means the idea, as judged by the editor.'),
    check: z
      .strictObject({
        name: slug.describe('Name of the design check.'),
        inputs: z
          .record(z.string(), z.union([text, z.number(), anyQuantity]))
          .default({})
          .describe(
            'Where each input of the check comes from: "sensor.accelerationNoise" (a figure of what a variable of the pattern binds), "Battery.capacity" (of the component of that term), "sum(Sensor.activeCurrent)" (of all of them), "device.mass", "specimen.boards", "count(a, b)", "distance(a, b)", or a figure such as "100 deg/s"; joined by + - * / and brackets, with "a ?? b" for b where a is not known.',
          ),
      })
      .optional()
      .describe('The arithmetic that supports it.'),
    note: text.optional(),
    ...visibleFields,
  })
  .describe('A named pattern.');
export type NamedPattern = z.infer<typeof patternSchema>;

/** An address of the web as browsers name it in `Origin`: scheme, host and port (RFC 6454), `https` outside this machine. */
const webOrigin = z.union([
  z.literal('*'),
  z
    .string()
    .regex(
      /^(?:https:\/\/[a-z0-9.-]+(?::\d{1,5})?|http:\/\/(?:localhost|127\.0\.0\.1|\[::1\])(?::\d{1,5})?)$/u,
      'is not a valid origin; write scheme and host in small letters, such as "https://desk.example.org", or "*" for all',
    ),
]);

export const feedSchema = z
  .strictObject({
    id: slug,
    title: text.describe('What it shows, as a heading.'),
    question: text.describe('A GraphQL document with one query, which is asked anew for every state.'),
    variables: z
      .record(z.string(), z.unknown())
      .default({})
      .describe('Values of the variables that the question declares.'),
    rows: z
      .string()
      .regex(
        /^[A-Z_a-z]\w*(?:\.[A-Z_a-z]\w*)*$/u,
        'is not a valid path; write names joined by dots, such as "trend.periods"',
      )
      .optional()
      .describe(
        'Path of the list in the answer whose items are the rows of its table. Left out: the first list of the first field.',
      ),
    maxAge: z
      .number()
      .int('is in whole seconds')
      .min(0, 'is at least 0 seconds')
      .max(604_800, 'is at most 604800 seconds, a week')
      .default(60)
      .describe('Seconds for which a copy may be shown without asking again (RFC 9111, max-age).'),
    origins: z
      .array(webOrigin)
      .default([])
      .describe('Origins whose pages may read it and frame its page; "*" stands for all.'),
    note: text.optional(),
    ...visibleFields,
  })
  .describe('A feed: a stored question with an address of its own, for dashboards and content systems.');
export type Feed = z.infer<typeof feedSchema>;

/** Collections of a catalogue file and the schema of their records. */
export const CATALOGUE = {
  makers: makerSchema,
  productLines: productLineSchema,
  devices: deviceRecordSchema,
  parts: partSchema,
  sources: sourceSchema,
  publications: publicationSchema,
  patterns: patternSchema,
  feeds: feedSchema,
  listMappings: listMappingSchema,
} as const;
export type Collection = keyof typeof CATALOGUE;
export const COLLECTIONS = Object.keys(CATALOGUE) as readonly Collection[];
export type CatalogueRecord<C extends Collection = Collection> = z.infer<(typeof CATALOGUE)[C]>;

/** Global id of a record of any collection. */
export function recordId(collection: Collection, record: CatalogueRecord): string {
  return collection === 'parts' ? partIdOf(record as Part) : (record as { id: string }).id;
}

export const catalogueSchema = z
  .strictObject({
    caseback: z.literal('catalogue/1').describe('Says that this file is a catalogue, and in which version.'),
    makers: z.array(makerSchema).default([]),
    productLines: z.array(productLineSchema).default([]),
    devices: z.array(deviceRecordSchema).default([]),
    parts: z.array(partSchema).default([]),
    sources: z.array(sourceSchema).default([]),
    publications: z.array(publicationSchema).default([]),
    patterns: z.array(patternSchema).default([]),
    feeds: z.array(feedSchema).default([]),
    listMappings: z.array(listMappingSchema).default([]),
  })
  .describe('A file of records that many dossiers share.');
export type Catalogue = z.infer<typeof catalogueSchema>;
