import { writeFileSync } from 'node:fs';
import { jsonSchemas } from '../dossier/json-schema.ts';
import { printedSchema } from '../service/printed.ts';

/** Everything committed that follows from code, by file name in schema/. Tests hold the files equal to these. */
const files = new Map([...jsonSchemas(), ['api.graphql', printedSchema()]]);

for (const [name, text] of files) {
  writeFileSync(new URL(`../../schema/${name}`, import.meta.url), text);
  process.stderr.write(`schema/${name}\n`);
}
