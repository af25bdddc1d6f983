import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import formats from 'ajv-formats';

// The JSON schema of the IIIF Presentation API 3.0 that IIIF's own validator uses: see tests/fixtures/README.md.

const fixture = (name: string) =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../fixtures', name), 'utf8')) as Record<string, unknown>;

const ajv = new Ajv({ strict: false, allErrors: true });
// The package's types have its function under a name of its own.
(formats as unknown as (ajv: Ajv) => void)(ajv);

const presentation = ajv.compile(fixture('iiif/iiif_3_0.json'));

/** What the schema has against a document, a line each; none for a valid one. */
export function againstPresentation(document: unknown): readonly string[] {
  if (presentation(document)) return [];
  return (presentation.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}
