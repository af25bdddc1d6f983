import { codegen } from '@graphql-codegen/core';
import * as typescript from '@graphql-codegen/typescript';
import * as resolvers from '@graphql-codegen/typescript-resolvers';
import { parse, printSchema } from 'graphql/index.js';
import { readSchema } from './schema.ts';

/** The file that the types are written to, beside this one. */
export const TYPES_FILE = 'resolver-types.ts';

/** What the resolvers of a type get as their source: file and exported type. Others are plain objects of their fields. */
const MAPPERS: Readonly<Record<string, readonly string[]>> = {
  './context.ts': ['Query:Root'],
  './scalars.ts': ['Quantity'],
  './sources.ts': [
    'Device',
    'Maker',
    'ProductLine',
    'Part',
    'Publication',
    'Claim',
    'Source',
    'Pattern',
    'Decision',
  ],
  './component-sources.ts': ['Component', 'Identification', 'Candidate'],
  './specimens/sources.ts': [
    'Specimen',
    'Teardown',
    'TeardownStep',
    'Board',
    'Subsystem',
    'Link',
    'Observation',
    'Photo',
  ],
  './comparison/comparison.ts': ['Comparison'],
  './comparison/generations.ts': ['Generations', 'Generation', 'GenerationStep'],
  './comparison/similarity.ts': ['SimilarDevice'],
  './identification/identification.ts': ['Candidates', 'PossiblePart', 'MarkingReading'],
  './patterns/patterns.ts': [
    'PatternDevice',
    'PatternDeviceConnection',
    'PatternMatch',
    'PatternNearMatch',
    'PatternBinding',
  ],
  './structures/structures.ts': ['RecurringStructure'],
  './evidence/evidence.ts': ['Impact', 'Difference'],
};

/** Types of the schema and of its resolvers, for TypeScript with erasable syntax only. Run by `npm run generate`. */
export async function generatedTypes(): Promise<string> {
  const mappers = Object.entries(MAPPERS).flatMap(([file, names]) =>
    names.map((name) => {
      const [type, source = `${name}Source`] = name.split(':');
      return [type, `${file}#${source}`] as const;
    }),
  );
  const text = await codegen({
    filename: TYPES_FILE,
    documents: [],
    schema: parse(printSchema(readSchema())),
    plugins: [{ typescript: {} }, { resolvers: {} }],
    pluginMap: { typescript, resolvers },
    config: {
      contextType: './context.ts#Context',
      mappers: Object.fromEntries(mappers),
      enumType: 'string-literal',
      enumsAsTypes: true,
      immutableTypes: true,
      useTypeImports: true,
      skipTypename: true,
      maybeValue: 'T | null | undefined',
      scalars: { PartialDate: 'string', DateTime: 'string' },
      strictScalars: true,
      avoidOptionals: { field: false, inputValue: false, object: false, defaultValue: true },
      disableDescriptions: true,
      makeResolverTypeCallable: true,
      noSchemaStitching: true,
    },
  });
  return `// Written by "npm run generate" from schema/api; do not edit.\n${text}`;
}
