import type { Domain } from '../base/domain.ts';
import { resolvers } from './resolvers.ts';
import { schema } from './schema.ts';

export const devices: Domain = {
  schema,
  resolvers,
  weights: { 'Device.kindCounts': 20, 'Device.specimen': 5, 'Device.specimens': 5, 'Query.devices': 50 },
};
