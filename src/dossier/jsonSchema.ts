import { z } from 'zod';
import { catalogueSchema } from '../model/catalogue.ts';
import { dossierSchema } from '../model/dossier.ts';

/** The published JSON Schemas (2020-12) by file name in schema/, as text. */
export function jsonSchemas(): ReadonlyMap<string, string> {
  return new Map([
    ['dossier.schema.json', schemaText(dossierSchema, 'Dossier of one opened specimen')],
    ['catalogue.schema.json', schemaText(catalogueSchema, 'Catalogue of records that dossiers share')],
  ]);
}

function schemaText(schema: z.ZodType, title: string): string {
  const { $schema, ...rest } = z.toJSONSchema(schema, {
    io: 'input',
    reused: 'ref',
    target: 'draft-2020-12',
  });
  return `${JSON.stringify({ $schema, title, ...rest }, null, 2)}\n`;
}
