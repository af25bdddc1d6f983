import {
  type Context,
  context,
  propagation,
  type Span,
  SpanKind,
  SpanStatusCode,
  trace,
} from '@opentelemetry/api';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { tracer } from '../../telemetry/spans.ts';
import type { Started } from './executor.ts';
import type { Metrics, OperationKind } from './metrics.ts';

/** What is known of a request while it is answered. */
interface Observed {
  readonly span: Span;
  /** Where spans below that of the request belong. */
  readonly within: Context;
  kind: OperationKind;
  name?: string | undefined;
  work: number;
}

/** Milliseconds from which on a request is worth a line in the log. */
const SLOW = 1_000;
const observed = new WeakMap<FastifyRequest, Observed>();

/**
 * Observes every request: a span (OpenTelemetry's conventions for HTTP and GraphQL servers), metrics, and one line in the log for
 * a slow one, with the name of its operation, its work and its time; never its text, its variables or who asked.
 */
export function observe(app: FastifyInstance, metrics: Metrics | undefined): void {
  app.addHook('onRequest', (request, _reply, done) => {
    const from = propagation.extract(context.active(), request.headers);
    const { method } = request;
    const attributes = { 'http.request.method': method, 'http.route': request.routeOptions.url ?? 'none' };
    const span = tracer.startSpan(
      `${method} ${attributes['http.route']}`,
      { kind: SpanKind.SERVER, attributes },
      from,
    );
    observed.set(request, { span, within: trace.setSpan(from, span), kind: 'none', work: 0 });
    metrics?.began();
    done();
  });
  const ended = (request: FastifyRequest, status: number, milliseconds: number) => {
    const seen = observed.get(request);
    if (!seen) return;
    observed.delete(request);
    const { span, kind, name, work } = seen;
    const { url = 'none' } = request.routeOptions;
    span.setAttribute('http.response.status_code', status);
    if (status >= 500) span.setStatus({ code: SpanStatusCode.ERROR });
    span.end();
    metrics?.answered(request.method, url, status, kind, milliseconds / 1_000);
    if (milliseconds >= SLOW) {
      const facts = { requestId: request.id, operation: name ?? null, kind, route: url, work };
      request.log.warn({ ...facts, milliseconds: Math.round(milliseconds), status }, 'slow request');
    }
  };
  app.addHook('onResponse', (request, reply, done) => {
    ended(request, reply.statusCode, reply.elapsedTime);
    done();
  });
  // nginx's number for a client that left before its answer; no standard has one.
  app.addHook('onRequestAbort', (request, done) => {
    ended(request, 499, 0);
    done();
  });
}

/** Does the work of a request as part of its span. */
export function within<T>(request: FastifyRequest, work: () => T): T {
  const seen = observed.get(request);
  return seen ? context.with(seen.within, work) : work();
}

/** Notes the operation that a request turned out to hold. */
export function noteOperation(
  request: FastifyRequest,
  { isQuery, name, work }: Started,
  metrics?: Metrics,
): void {
  const kind = isQuery ? 'query' : 'mutation';
  metrics?.started(kind, work);
  const seen = observed.get(request);
  if (!seen) return;
  Object.assign(seen, { kind, name, work });
  seen.span.setAttributes({
    'graphql.operation.type': kind,
    'caseback.cost': work,
    ...(name !== undefined && { 'graphql.operation.name': name }),
  });
}
