import type { Domain } from '../base/domain.ts';
import { resolvers } from './resolvers.ts';
import { schema } from './schema.ts';

export const specimens: Domain = { schema, resolvers, weights: { 'Specimen.kindCounts': 20 } };
