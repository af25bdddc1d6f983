import { printSchema } from 'graphql/index.js';
import { buildServiceSchema } from './base/build.ts';
import { DOMAINS } from './domains.ts';

/** The schema as text, as it stands in schema/api.graphql and at `/schema.graphql`. */
export function printedSchema(): string {
  return `# What the query service promises. Written by "npm run generate"; do not edit.\n\n${printSchema(buildServiceSchema(DOMAINS))}\n`;
}
