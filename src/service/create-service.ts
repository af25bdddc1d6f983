import fastify, { type FastifyInstance, LogController } from 'fastify';
import { authenticate } from './access/authenticate.ts';
import { refuseOtherSites } from './access/own-site.ts';
import { printedSchema } from './graphql/schema.ts';
import { pages } from './pages/pages.ts';
import { answerFailures } from './server/errors.ts';
import { graphql } from './server/graphql-over-http.ts';
import { endConnectionsOnClose, health, Readiness } from './server/health.ts';
import { checkOptions, type ServiceOptions } from './server/options.ts';
import { secure } from './server/security.ts';

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
  refuseOtherSites(app, options.access.publicUrl);
  authenticate(app, options);
  answerFailures(app);
  endConnectionsOnClose(app);
  const readiness = new Readiness(options.archive);
  app.register(health, { readiness });
  app.register(graphql, { readiness, options });
  app.register(pages, { readiness, schema: printedSchema() });
  return app;
}

/** Ids that do not repeat between runs of the service. */
function requestIds(): () => string {
  const run = Date.now().toString(36);
  let count = 0;
  return () => `${run}-${(++count).toString(36)}`;
}
