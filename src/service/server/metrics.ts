import type { FastifyInstance } from 'fastify';
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import { hasRole } from '../../access/roles.ts';
import { CasebackError } from '../../model/problems.ts';

/** Seconds, from a look-up to the longest that a question may take. */
const SECONDS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60];
/** Units of work, see `cost.ts`. */
const WORK = [10, 100, 1_000, 10_000, 100_000];

export type OperationKind = 'query' | 'mutation' | 'none';

/** What a service counts, in the text format of Prometheus. Nothing of what the archive holds is in it, hidden or not. */
export class Metrics {
  readonly #registry = new Registry();
  readonly #requests = new Counter({
    name: 'caseback_http_requests_total',
    help: 'Requests answered, by route and status.',
    labelNames: ['method', 'route', 'status'],
    registers: [this.#registry],
  });
  readonly #seconds = new Histogram({
    name: 'caseback_http_request_duration_seconds',
    help: 'Time from a request to its answer, by kind of operation.',
    labelNames: ['operation'],
    buckets: SECONDS,
    registers: [this.#registry],
  });
  readonly #work = new Histogram({
    name: 'caseback_operation_cost',
    help: 'Work of operations as weighed before they run, in units of one plain field.',
    labelNames: ['operation'],
    buckets: WORK,
    registers: [this.#registry],
  });
  readonly #errors = new Counter({
    name: 'caseback_errors_total',
    help: 'Errors in answers, by code.',
    labelNames: ['code'],
    registers: [this.#registry],
  });
  readonly #open = new Gauge({
    name: 'caseback_http_requests_open',
    help: 'Requests that are being answered.',
    registers: [this.#registry],
  });
  readonly #webhookTries = new Counter({
    name: 'caseback_webhook_tries_total',
    help: 'Tries to deliver messages of webhooks, by what they came to.',
    labelNames: ['outcome'],
    registers: [this.#registry],
  });
  readonly #webhooksGivenUp = new Counter({
    name: 'caseback_webhook_messages_given_up_total',
    help: 'Messages of webhooks that were given up after their last try, or with their webhook.',
    registers: [this.#registry],
  });
  readonly #webhooksWaiting = new Gauge({
    name: 'caseback_webhook_messages_waiting',
    help: 'Messages of webhooks that wait to be delivered, where this process is the one that sends.',
    registers: [this.#registry],
  });

  constructor() {
    collectDefaultMetrics({ register: this.#registry });
  }

  began(): void {
    this.#open.inc();
  }

  answered(method: string, route: string, status: number, kind: OperationKind, seconds: number): void {
    this.#open.dec();
    this.#requests.inc({ method, route, status });
    this.#seconds.observe({ operation: kind }, seconds);
  }

  started(kind: OperationKind, work: number): void {
    this.#work.observe({ operation: kind }, work);
  }

  failed(code: string): void {
    this.#errors.inc({ code });
  }

  webhookTried(outcome: 'delivered' | 'failed'): void {
    this.#webhookTries.inc({ outcome });
  }

  webhookGivenUp(count: number): void {
    this.#webhooksGivenUp.inc(count);
  }

  webhooksWaiting(count: number): void {
    this.#webhooksWaiting.set(count);
  }

  get type(): string {
    return this.#registry.contentType;
  }

  text(): Promise<string> {
    return this.#registry.metrics();
  }
}

/** `GET /metrics`: for administrators, or for everybody who reaches an address that serves nothing else. */
export async function metricsRoute(
  app: FastifyInstance,
  { metrics, isOpen }: { metrics: Metrics; isOpen: boolean },
): Promise<void> {
  app.get('/metrics', async (request, reply) => {
    if (!isOpen && !hasRole(request.who.role, 'administrator'))
      throw new CasebackError(
        'NOT_ALLOWED',
        'Metrics are for administrators; sign in with a token of one, or ask the address of --metrics-port',
      );
    reply.type(metrics.type).header('cache-control', 'no-store');
    return metrics.text();
  });
}
