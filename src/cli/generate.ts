import { writeFileSync } from 'node:fs';
import { typedQuestions } from '../desk/typed-questions.ts';
import { jsonSchemas } from '../dossier/json-schema.ts';
import { generatedTypes, TYPES_FILE } from '../service/graphql/generate-types.ts';

/** Everything committed that follows from other files, by path from here. Tests hold the files equal to these. */
const files = new Map([
  ...[...jsonSchemas()].map(([name, text]) => [`../../schema/${name}`, text] as const),
  [`../service/graphql/${TYPES_FILE}`, await generatedTypes()],
  ...[...(await typedQuestions())].map(([path, text]) => [`../web/${path}`, text] as const),
]);

for (const [path, text] of files) {
  writeFileSync(new URL(path, import.meta.url), text);
  process.stderr.write(`${path.replace(/^(?:\.\.\/)+/u, '')}\n`);
}
