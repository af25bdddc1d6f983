import { codegen } from '@graphql-codegen/core';
import * as typescript from '@graphql-codegen/typescript';
import * as resolvers from '@graphql-codegen/typescript-resolvers';
import { parse, printSchema } from 'graphql/index.js';
import { readSchema } from '../../api-schema/read-schema.ts';

/** The file that the types are written to, beside this one. */
export const TYPES_FILE = 'resolver-types.ts';

/**
 * What the resolvers of a type get as their source: file and exported type. Others are plain objects of their fields.
 */
const MAPPERS: Readonly<Record<string, readonly string[]>> = {
  './context.ts': ['Query'],
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
    'Feed',
    'ListMapping',
    'Decision',
  ],
  './component-sources.ts': ['Component', 'Identification', 'Candidate'],
  './specimens/sources.ts': [
    'Specimen',
    'Teardown',
    'TeardownStep',
    'Board',
    'Subsystem',
    'PhysicalLink',
    'Net',
    'NetPin',
    'PowerFeed',
    'SignalPath',
    'SharedBus',
    'Pin',
    'Observation',
    'Photo',
    'PhotoRegion',
    'Picture',
  ],
  './comparison/comparison.ts': ['Comparison'],
  './comparison/generations.ts': ['Generations', 'Generation', 'GenerationStep'],
  './comparison/similarity.ts': ['SimilarDevice', 'DeviceCluster', 'CircuitDistance'],
  './identification/identification.ts': [
    'Candidates',
    'Disagreement',
    'PossiblePart',
    'CandidateSet',
    'MarkingReading',
  ],
  './identification/photo-reading.ts': [
    'PhotoReading',
    'OtherPhotoReading',
    'CandidatesIfConfirmed',
    'PartIfConfirmed',
  ],
  './patterns/patterns.ts': [
    'PatternDevice',
    'PatternDeviceConnection',
    'PatternMatch',
    'PatternNearMatch',
    'PatternBinding',
  ],
  './trends/trends.ts': ['Trend'],
  './charts/charts.ts': ['Chart'],
  './packs/packs.ts': ['Pack'],
  './exports/exports.ts': ['ExportFile'],
  './structures/structures.ts': ['Structure'],
  './evidence/evidence.ts': ['ClaimPhoto', 'Impact', 'Difference', 'Correction'],
  './history/history.ts': ['ArchiveDifference'],
};

/** Sources that are not called after their type. */
const SOURCES: Readonly<Record<string, string>> = { Query: 'Root' };

/** Types of the schema and of its resolvers, for TypeScript with erasable syntax only. Run by `npm run generate`. */
export async function generatedTypes(): Promise<string> {
  const mappers = Object.entries(MAPPERS).flatMap(([file, names]) =>
    names.map((name) => [name, `${file}#${SOURCES[name] ?? `${name}Source`}`] as const),
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
      scalars: { PartialDate: 'string', DateTime: 'string', PatternValue: 'unknown', Json: 'unknown' },
      strictScalars: true,
      avoidOptionals: { field: false, inputValue: false, object: false, defaultValue: true },
      disableDescriptions: true,
      makeResolverTypeCallable: true,
      noSchemaStitching: true,
    },
  });
  return `// Written by "npm run generate" from schema/api; do not edit.\n${text}`;
}
