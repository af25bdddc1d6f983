import { serverAudits } from 'graphql-http';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Served, serve } from './serving.ts';

// Outside check: the audits of the graphql-http package, which follow the GraphQL over HTTP specification
// (graphql.github.io/graphql-over-http). Every MUST, SHOULD and MAY passes; no exception is made.
let served: Served;
let url: string;

beforeAll(async () => {
  served = await serve();
  url = `${await served.app.listen({ host: '127.0.0.1', port: 0 })}/graphql`;
});
afterAll(() => served.close());

describe('GraphQL over HTTP', () => {
  for (const audit of serverAudits({ url: () => url, fetchFn: fetch })) {
    test(`${audit.id} ${audit.name}`, async () => {
      const result = await audit.fn();
      expect('reason' in result ? result.reason : undefined).toBeUndefined();
      expect(result.status).toBe('ok');
    });
  }
});
