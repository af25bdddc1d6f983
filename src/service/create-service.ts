import fastify, { type FastifyInstance, LogController } from 'fastify';
import { checkOptions, type ServiceOptions } from './base/options.ts';
import { DOMAINS } from './domains.ts';
import { answerFailures } from './http/failures.ts';
import { graphql } from './http/graphql.ts';
import { endConnectionsOnClose, health } from './http/health.ts';
import { Readiness } from './http/readiness.ts';
import { secure } from './http/security.ts';
import { pages } from './pages/pages.ts';
import { printedSchema } from './printed.ts';

/**
 * The query service over an archive: GraphQL at `/graphql`, the start page at `/`, the explorer at
 * `/explorer`, the schema at `/schema.graphql`, `/livez` and `/readyz`. It may listen before the archive is
 * open. Closing it ends connections once their answers are sent; the archive stays open for whoever opened it.
 * @throws RangeError for an option out of range
 */
export function createService(serviceOptions: ServiceOptions): FastifyInstance {
  const options = checkOptions(serviceOptions);
  const app = fastify({
    logger: options.logger,
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: options.limits.bodyBytes,
    genReqId: requestIds(),
    requestIdHeader: false,
    // Our log lines carry the id of their request themselves; a logger for each request would cost more.
    childLoggerFactory: (logger) => logger,
    forceCloseConnections: 'idle',
  });
  // A form on a foreign page can send plain text without asking first; only JSON may reach us.
  app.removeContentTypeParser('text/plain');
  secure(app, options);
  answerFailures(app);
  endConnectionsOnClose(app);
  const readiness = new Readiness(options.archive);
  app.register(health, { readiness });
  app.register(graphql, { readiness, options, domains: DOMAINS });
  app.register(pages, { readiness, options, schema: printedSchema() });
  return app;
}

/** Ids that do not repeat between runs of the service. */
function requestIds(): () => string {
  const run = Date.now().toString(36);
  let count = 0;
  return () => `${run}-${(++count).toString(36)}`;
}
