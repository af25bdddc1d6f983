import type { Domain } from '../base/domain.ts';
import { resolvers } from './resolvers.ts';
import { schema } from './schema.ts';

export const parts: Domain = {
  schema,
  resolvers,
  weights: { 'Query.parts': 50, 'Part.components': 200, 'Part.specimens': 10 },
};
