import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createService } from '../../src/service/create-service.ts';
import { DESCRIBED } from '../../src/service/open-api/described.ts';
import { plainPath } from '../../src/service/open-api/document.ts';
import { Metrics } from '../../src/service/server/metrics.ts';
import { type Served, serve } from './serving.ts';

// Outside check: the schema of OpenAPI 3.1, by @seriousme/openapi-schema-validator; and the router's own list of its routes.

let served: Served;
// biome-ignore lint/suspicious/noExplicitAny: JSON of a form that the validator holds
let document: any;
beforeAll(async () => {
  served = await serve({ metrics: new Metrics() });
  const response = await served.app.inject({ method: 'GET', url: '/openapi.json' });
  expect([response.statusCode, response.headers['content-type']]).toEqual([
    200,
    'application/json; charset=utf-8',
  ]);
  document = response.json();
});
afterAll(() => served.close());

test('is valid OpenAPI 3.1', async () => {
  const validator = new Validator();
  expect(await validator.validate(structuredClone(document))).toEqual({ valid: true });
  expect(validator.version).toBe('3.1');
  const broken = structuredClone(document);
  broken.paths['/livez'].get.responses = 7;
  expect((await new Validator().validate(broken)).valid).toBe(false);
});

/** Pages, their files, GraphQL, and forms to sign in. */
const PAGES =
  /^\/(?:graphql|explorer|docs(?:\/.*)?|assets\/.*|sign-.*|publications\/[^/]+\/sheet|feeds\/[^/.]+)?$/u;

test('every route of the service stands in it, but for GraphQL and pages', async () => {
  const app = createService({ archive: served.archive, metrics: new Metrics() });
  const urls: string[] = [];
  // Plugins are loaded once the service is to be ready, so that this sees every route of theirs.
  app.addHook('onRoute', ({ method, url }) => {
    if ([method].flat().includes('GET')) urls.push(url);
  });
  await app.ready();
  await app.close();
  const written = urls.map((url) => url.replaceAll(/:(\w+)(?:\(.*\))?/gu, '{$1}'));
  const programs = written.filter((url) => !PAGES.test(url) && url !== '*');
  expect(programs).toEqual(
    expect.arrayContaining(['/livez', '/metrics', '/atom.xml', '/cite/{id}.csl.json']),
  );
  expect(Object.keys(document.paths).toSorted()).toEqual([...new Set(programs)].toSorted());
});

test('nothing is described that the service does not have', () => {
  expect(Object.keys(DESCRIBED).filter((path) => !(path in document.paths))).toEqual([]);
});

test('each operation has an id of its own, and each parameter of its path', () => {
  // biome-ignore lint/suspicious/noExplicitAny: see above
  const paths = document.paths as Record<string, { get: any }>;
  const operations = Object.entries(paths).map(([path, { get }]) => [path, get] as const);
  expect(new Set(operations.map(([, { operationId }]) => operationId)).size).toBe(operations.length);
  for (const [path, { parameters = [] }] of operations) {
    const inPath = parameters.filter((one: { in: string }) => one.in === 'path');
    expect(inPath.map(({ name }: { name: string }) => `{${name}}`)).toEqual(path.match(/\{\w+\}/gu) ?? []);
  }
});

test('a path is written as OpenAPI has it', () => {
  expect(plainPath('/cite/:id(^(?:sha256:[0-9a-f]{64}|[a-z0-9-]+)).csl.json')).toBe('/cite/{id}.csl.json');
  expect(plainPath('/a/:one/b/:two(^\\)+)')).toBe('/a/{one}/b/{two}');
});
