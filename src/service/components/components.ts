import type { Domain } from '../base/domain.ts';
import { resolvers } from './resolvers.ts';
import { schema } from './schema.ts';

export const components: Domain = { schema, resolvers, weights: { 'Query.components': 200 } };
