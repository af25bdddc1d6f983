import { z } from 'zod';
import { boardSchema } from '../model/board.ts';
import * as catalogue from '../model/catalogue.ts';
import { DESIGNATOR as PRINTED } from '../model/designator.ts';
import * as dossier from '../model/dossier.ts';
import * as fields from '../model/fields.ts';
import { PART_NUMBER, SLUG } from '../model/identifiers.ts';
import { listMappingSchema } from '../model/list-mapping.ts';
import { connectionSchema, netSchema, pinSchema } from '../model/net.ts';
import { ARRAY, designators, writtenComponentSchema, writtenDossierSchema } from './component-arrays.ts';
import { type Schema, writtenForms } from './schema-walk.ts';

const inside = (pattern: RegExp) => pattern.source.replace(/^\^|\$$/gu, '');

const DESIGNATOR = `^(${inside(SLUG)}:)?${inside(PRINTED)}$`;

const PIN = `${DESIGNATOR.slice(0, -1)}(\\.[^:\\s]+)?$`;

/** Definitions with a name of their own, and what the model checks in code and JSON Schema can say as a pattern. */
const NAMED: readonly (readonly [
  id: string,
  schema: Schema | undefined,
  more?: { readonly pattern: string },
])[] = [
  ['Id', fields.slug],
  ['Text', fields.text],
  ['Date', fields.partialDate, { pattern: '^\\d{4}(-\\d{2}(-\\d{2})?)?$' }],
  ['Instant', fields.instant],
  ['Probability', fields.probability],
  ['Sha256', fields.sha256],
  ['Designators', designators, { pattern: `${DESIGNATOR}|${ARRAY.source}` }],
  ['ComponentReference', fields.componentRef, { pattern: DESIGNATOR }],
  ['PinReference', fields.pinRef, { pattern: PIN }],
  ['Marking', fields.markingText],
  ['PartId', fields.partId, { pattern: `^${inside(SLUG)}/${inside(PART_NUMBER)}$` }],
  ['Term', fields.term],
  ['IngressCode', fields.ingressCode, { pattern: '^IP[0-6X][0-9X][A-D]?[HMSW]*$' }],
  ['Country', fields.country],
  ['Currency', fields.currency],
  ['ValueAndUnit', writtenForms(fields.anyQuantity)[1]],
  ['Device', dossier.deviceSchema],
  ['Specimen', dossier.specimenSchema],
  ['Teardown', dossier.teardownSchema],
  ['Step', dossier.stepSchema],
  ['Board', boardSchema],
  ['Subsystem', dossier.subsystemSchema],
  ['Component', writtenComponentSchema],
  ['Pin', pinSchema],
  ['Net', netSchema],
  ['Connection', connectionSchema],
  ['Observation', dossier.observationSchema],
  ['Suggestion', dossier.suggestionSchema],
  ['Identification', dossier.identificationSchema],
  ['Candidate', dossier.candidateSchema],
  ['Photo', dossier.photoSchema],
  ['PhotoRegion', dossier.photoRegionSchema],
  ['Maker', catalogue.makerSchema],
  ['ProductLine', catalogue.productLineSchema],
  ['DeviceRecord', catalogue.deviceRecordSchema],
  ['Part', catalogue.partSchema],
  ['Source', catalogue.sourceSchema],
  ['Claim', catalogue.claimSchema],
  ['Publication', catalogue.publicationSchema],
  ['Pattern', catalogue.patternSchema],
  ['Feed', catalogue.feedSchema],
  ['ListMapping', listMappingSchema],
];

/** The published JSON Schemas (2020-12) by file name in schema/, as text. */
export function jsonSchemas(): ReadonlyMap<string, string> {
  const names = namedDefinitions();
  return new Map([
    [
      'dossier.schema.json',
      schemaText('dossier', writtenDossierSchema, 'Dossier of one opened specimen', names),
    ],
    [
      'catalogue.schema.json',
      schemaText('catalogue', catalogue.catalogueSchema, 'Catalogue of records that dossiers share', names),
    ],
  ]);
}

/** The descriptions that the model gives, with names; kept apart from zod's own registry, which others read too. */
function namedDefinitions(): typeof z.globalRegistry {
  const registry = z.registry<z.core.GlobalMeta>();
  const named = new Map(
    NAMED.flatMap(([id, schema, more]) => (schema ? [[schema, { id, ...more }] as const] : [])),
  );
  registry.get = (schema) => ({ ...z.globalRegistry.get(schema), ...named.get(schema) });
  return registry as typeof z.globalRegistry;
}

function schemaText(
  name: string,
  schema: z.ZodType,
  title: string,
  metadata: typeof z.globalRegistry,
): string {
  const { $schema, ...rest } = z.toJSONSchema(schema, { io: 'input', target: 'draft-2020-12', metadata });
  return `${JSON.stringify({ $schema, $id: `${name}.schema.json`, title, ...rest }, null, 2)}\n`;
}
