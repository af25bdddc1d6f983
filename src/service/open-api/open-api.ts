import type { FastifyInstance } from 'fastify';
import type { CheckedOptions } from '../server/options.ts';
import { openApiOf, type Route } from './document.ts';

/** Collects the routes of a service from now on. @returns the list that they go into */
export function collectRoutes(app: FastifyInstance): readonly Route[] {
  const routes: Route[] = [];
  app.addHook('onRoute', ({ method, url }) => {
    for (const one of [method].flat()) routes.push({ method: String(one), url });
  });
  return routes;
}

/** `GET /openapi.json`: the addresses of the service outside GraphQL and pages. */
export async function openApi(
  app: FastifyInstance,
  { routes, options }: { routes: readonly Route[]; options: CheckedOptions },
): Promise<void> {
  let made: object | undefined;
  app.get('/openapi.json', { config: { isForAll: true } }, () => {
    // Once all routes are there.
    made ??= openApiOf(routes, options.access.publicUrl);
    return made;
  });
}
