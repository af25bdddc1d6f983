import { globSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { codegen } from '@graphql-codegen/core';
import * as operations from '@graphql-codegen/typescript-operations';
import {
  type DocumentNode,
  type GraphQLSchema,
  Kind,
  parse,
  print,
  printSchema,
  separateOperations,
  validate,
} from 'graphql/index.js';
import { readSchema } from '../api-schema/read-schema.ts';

/** Where the code of the pages lies. */
const WEB = join(import.meta.dirname, '../web');

/**
 * The questions of the pages, each file `NAME.graphql` with its types as `NAME.graphql.ts` beside it, by path from the folder of the
 * pages. So a change of the schema that breaks a page fails the types.
 * @throws Error for a question that the schema does not answer
 */
export async function typedQuestions(): Promise<ReadonlyMap<string, string>> {
  const schema = readSchema();
  const files = globSync('**/*.graphql', { cwd: WEB }).sort();
  const written = new Map<string, string>();
  for (const file of files)
    written.set(`${file}.ts`, await typed(file, parse(readFileSync(join(WEB, file), 'utf8')), schema));
  return written;
}

async function typed(file: string, document: DocumentNode, schema: GraphQLSchema): Promise<string> {
  const mistakes = validate(schema, document);
  if (mistakes.length > 0)
    throw new Error(`src/web/${file}: ${mistakes.map(({ message }) => message).join('; ')}`);
  const types = await codegen({
    filename: `${file}.ts`,
    documents: [{ document, location: file }],
    schema: parse(printSchema(schema)),
    plugins: [{ operations: {} }],
    pluginMap: { operations },
    config: {
      enumsAsTypes: true,
      enumType: 'string-literal',
      immutableTypes: true,
      skipTypename: true,
      useTypeImports: true,
      disableDescriptions: true,
      scalars: {
        PartialDate: 'string',
        DateTime: 'string',
        PatternValue: 'unknown',
        Json: 'unknown',
        ID: 'string',
      },
      strictScalars: true,
      mergeFragmentTypes: true,
    },
  });
  const questions = Object.entries(separateOperations(document)).map(([name, own]) => {
    const [{ operation }] = own.definitions.filter((one) => one.kind === Kind.OPERATION_DEFINITION);
    const kind = operation.charAt(0).toUpperCase() + operation.slice(1);
    const text = print(own).replaceAll(/\s+/gu, ' ');
    return `export const ${name}: Question<${name}${kind}, ${name}${kind}Variables> = {\n  text: ${JSON.stringify(text)},\n};`;
  });
  const ask = relative(join(WEB, file, '..'), join(WEB, 'api/ask.ts')).replaceAll('\\', '/');
  return [
    `// Written by "npm run generate" from ${file}; do not edit.`,
    `import type { Question } from '${ask.startsWith('.') ? ask : `./${ask}`}';`,
    '',
    types.trim(),
    '',
    ...questions,
    '',
  ].join('\n');
}
