import type { Domain } from '../base/domain.ts';
import { resolvers } from './resolvers.ts';
import { schema } from './schema.ts';

/** The mutations. */
export const changes: Domain = {
  schema,
  resolvers,
  weights: { 'Mutation.importDossier': 1_000 },
};
