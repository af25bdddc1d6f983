import websocket from '@fastify/websocket';
import fastify, { type FastifyInstance, LogController } from 'fastify';
import { handleProtocols } from 'graphql-ws';
import { logAccess } from './access/access-log.ts';
import { authenticate } from './access/authenticate.ts';
import { refuseOtherSites } from './access/own-site.ts';
import { signIn } from './access/sign-in.ts';
import { atom } from './atom/atom.ts';
import { cite } from './cite/cite.ts';
import { exports } from './exports/exports.ts';
import { FeedAnswers } from './feeds/answers.ts';
import { feeds } from './feeds/feeds.ts';
import { oembed } from './feeds/oembed.ts';
import { feedPages } from './feeds/page-routes.ts';
import { MOST_MESSAGE, subscriptions } from './feeds/subscriptions.ts';
import { FeedWatch } from './feeds/watch.ts';
import { printedSchema, serviceSchema } from './graphql/schema.ts';
import { linkedRoutes } from './linked/linked-routes.ts';
import { collectRoutes, openApi } from './open-api/open-api.ts';
import { packs } from './pack/packs.ts';
import { desk } from './pages/desk.ts';
import { drawingRoutes } from './pages/drawing-routes.ts';
import { pages } from './pages/pages.ts';
import { photoRoutes } from './photos/photo-routes.ts';
import { viewerRoutes } from './photos/viewer-routes.ts';
import { boundConnections } from './server/connections.ts';
import { answerFailures } from './server/errors.ts';
import { Executor } from './server/executor.ts';
import { graphql } from './server/graphql-over-http.ts';
import { endConnectionsOnClose, health, Readiness } from './server/health.ts';
import { metricsRoute } from './server/metrics.ts';
import { observe } from './server/observe.ts';
import { type CheckedOptions, checkOptions, type ServiceOptions } from './server/options.ts';
import { limitRate, Rate } from './server/rate.ts';
import { refuseAddress, refuseExpectations, refuseUnreadable } from './server/refusals.ts';
import { readJsonBodies } from './server/request-body.ts';
import { secure } from './server/security.ts';
import { systemResolve, TIME } from './webhooks/post.ts';
import { WebhookSender } from './webhooks/sender.ts';

/**
 * The query service over an archive: GraphQL at `/graphql`, the start page at `/`, the explorer at
 * `/explorer`, answers to cite under `/cite`, what is new at `/atom.xml`, the schema at `/schema.graphql`, its other addresses at `/openapi.json`, files for other programs under `/exports`, feeds under `/feeds`, `/livez` and `/readyz`. It may listen before the archive is
 * open. Closing it ends connections once their answers are sent; the archive stays open for whoever opened it.
 * @throws RangeError for an option out of range
 */
export function createService(serviceOptions: ServiceOptions): FastifyInstance {
  const options = checkOptions(serviceOptions);
  const app = fastify({
    logger: options.logger,
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: options.limits.bodyBytes,
    requestTimeout: options.limits.requestTime,
    http: {
      // Refused by a hook of ours, with a code.
      requireHostHeader: false,
      headersTimeout: Math.min(options.limits.requestTime, HEADERS_TIME),
      connectionsCheckingInterval: 1_000,
      // Who offers another protocol than WebSocket is answered in this one (RFC 9110, section 7.8).
      shouldUpgradeCallback: ({ headers }) => headers.upgrade?.toLowerCase() === 'websocket',
    },
    // An id that is too long to be one is not found, like any other that there is not.
    routerOptions: { maxParamLength: LONGEST_ADDRESS },
    frameworkErrors: refuseAddress,
    clientErrorHandler: refuseUnreadable,
    trustProxy: trusted(options.trustProxy),
    schemaController: { compilersFactory: { buildValidator: noSchemas, buildSerializer: noSchemas } },
    // Answered by a hook of ours, with a code.
    return503OnClosing: false,
    genReqId: requestIds(),
    requestIdHeader: false,
    // Our log lines carry the id of their request themselves; a logger for each request would cost more.
    childLoggerFactory: (logger) => logger,
    forceCloseConnections: 'idle',
  });
  // A form on a foreign page can send plain text without asking first; only JSON may reach us.
  app.removeContentTypeParser('text/plain');
  logAccess(app, options.access.log);
  boundConnections(app, options);
  refuseExpectations(app);
  observe(app, options.metrics);
  endConnectionsOnClose(app);
  secure(app, options);
  refuseOtherSites(app, options.access.publicUrl);
  const gate = authenticate(app, options);
  const rate = new Rate(options.rate);
  limitRate(app, rate, options);
  readJsonBodies(app, options.limits, ({ who }) => who.role !== 'reader' && !options.readOnly);
  answerFailures(app);
  const readiness = new Readiness(options.archive);
  const routes = collectRoutes(app);
  app.register(health, { readiness });
  app.register(openApi, { routes, options });
  const executor = new Executor(serviceSchema(), options.limits, options.introspection);
  const answers = new FeedAnswers({ executor, limits: options.limits }, options.limits.answerBytes);
  const watch = new FeedWatch(() => readiness.archive(), answers);
  app.register(feeds, { readiness, options, rate, watch });
  app.register(feedPages, { readiness, options, rate, watch });
  app.register(oembed, { readiness, options, rate, watch });
  sendWebhooks(app, options, readiness, watch);
  const listen = subscriptions({ readiness, options, rate, executor, watch, gate });
  app.register(websocket, { options: { maxPayload: MOST_MESSAGE, handleProtocols } });
  app.register(graphql, { readiness, options, rate, executor, listen });
  const { metrics } = options;
  if (metrics) app.register(metricsRoute, { metrics, isOpen: false });
  app.register(cite, { readiness, options, rate, executor });
  app.register(atom, { readiness, options });
  app.register(signIn, { gate, options });
  app.register(packs, { readiness, options, rate });
  app.register(exports, { readiness, rate, publicUrl: options.access.publicUrl });
  app.register(linkedRoutes, { readiness, options, rate });
  app.register(photoRoutes, { readiness, options, rate });
  app.register(viewerRoutes, { readiness, options, rate });
  app.register(drawingRoutes, { readiness, time: options.limits.time, rate });
  app.register(pages, { readiness, schema: printedSchema, time: options.limits.time });
  if (options.desk) app.register(desk, { bundle: options.desk, readiness, time: options.limits.time });
  return app;
}

/** Tells webhooks of what changes for as long as the service runs; one that takes no changes notes nothing, and so tells nothing. */
function sendWebhooks(
  app: FastifyInstance,
  { webhooks, readOnly, posting, access, metrics }: CheckedOptions,
  readiness: Readiness,
  watch: FeedWatch,
): void {
  if (!webhooks || readOnly) return;
  const sender = new WebhookSender({
    webhooks,
    watch,
    archive: () => readiness.archive(),
    accounts: access.accounts,
    publicUrl: access.publicUrl,
    posting: { resolve: systemResolve, time: TIME, ...posting },
    metrics,
    log: app.log,
  });
  webhooks.onChange = () => sender.wake();
  app.addHook('onReady', async () => sender.start());
  app.addHook('preClose', () => sender.stop());
}

/** Which of the addresses that a request came through are proxies of ours; the first is that of the connection. */
function trusted(
  proxies: CheckedOptions['trustProxy'],
): string[] | ((address: string, hop: number) => boolean) {
  return typeof proxies === 'number' ? (_address, hop) => hop < proxies : [...proxies];
}

/** No route has a schema of Fastify's; what would compile one takes longer to load than Fastify itself. */
function noSchemas(): never {
  throw new Error('a route has a schema of Fastify, and the service brings nothing that compiles one');
}

/** Characters of an address: more than Node takes. */
const LONGEST_ADDRESS = 20_000;

/** How long the headers of a request may take to come in, milliseconds. */
const HEADERS_TIME = 20_000;

/** Ids that do not repeat between runs of the service. */
function requestIds(): () => string {
  const run = Date.now().toString(36);
  let count = 0;
  return () => `${run}-${(++count).toString(36)}`;
}
