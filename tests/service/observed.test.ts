import { AsyncLocalStorage } from 'node:async_hooks';
import {
  type Context,
  type ContextManager,
  context,
  ROOT_CONTEXT,
  type Span,
  type SpanOptions,
  type Tracer,
  trace,
} from '@opentelemetry/api';
import { afterAll, describe, expect, test } from 'vitest';
import { Metrics } from '../../src/service/server/metrics.ts';
import { BY, serve } from './serving.ts';

let isRegistered = false;

/** A tracer provider and a context manager with no more than the API asks for (opentelemetry.io/docs/specs/otel/trace/api). */
interface Seen {
  readonly name: string;
  readonly parent: Seen | undefined;
  readonly attributes: Record<string, unknown>;
  ended: boolean;
}

class Contexts implements ContextManager {
  readonly #storage = new AsyncLocalStorage<Context>();
  active = () => this.#storage.getStore() ?? ROOT_CONTEXT;
  with: ContextManager['with'] = (given, work, self, ...args) =>
    this.#storage.run(given, () => work.call(self as ThisParameterType<typeof work>, ...args));
  bind: ContextManager['bind'] = (_given, target) => target;
  enable = () => this;
  disable = () => this;
}

const all: Seen[] = [];

/** Spans of a test; a tracer keeps the provider that it once found, so there is one for the file. */
function register(): readonly Seen[] {
  all.length = 0;
  if (isRegistered) return all;
  isRegistered = true;
  const spans = new WeakMap<object, Seen>();
  const start = (name: string, options: SpanOptions = {}, within: Context = context.active()): Span => {
    const above = trace.getSpan(within);
    const seen: Seen = {
      name,
      parent: above && spans.get(above),
      attributes: { ...options.attributes },
      ended: false,
    };
    all.push(seen);
    const span = {
      spanContext: () => ({ traceId: '0'.repeat(31) + 1, spanId: '0'.repeat(15) + 1, traceFlags: 1 }),
      setAttribute: (key: string, value: unknown) => Object.assign(seen.attributes, { [key]: value }),
      setAttributes: (values: object) => Object.assign(seen.attributes, values),
      setStatus: () => span,
      end: () => {
        seen.ended = true;
      },
    } as unknown as Span;
    spans.set(span, seen);
    return span;
  };
  const startActiveSpan = (name: string, options: SpanOptions, work: (span: Span) => unknown) => {
    const span = start(name, options);
    return context.with(trace.setSpan(context.active(), span), () => work(span));
  };
  context.setGlobalContextManager(new Contexts());
  trace.setGlobalTracerProvider({ getTracer: () => ({ startSpan: start, startActiveSpan }) as Tracer });
  return all;
}

afterAll(() => {
  trace.disable();
  context.disable();
});

const SECRET = 'tarn-sennit-1';
const QUERY = `query Named($id: ID!) { device(id: $id) { name } findPattern(text: "MATCH (s:Sensor) RETURN s") { totalCount } }`;

describe('spans', () => {
  test('a request, its phases, its pattern search and the append of a change, each under the one above, all ended', async () => {
    const spans = register();
    const { ask, answer, archive, close } = await serve({ audience: 'desk' });
    await ask(QUERY, { id: SECRET });
    const told = (name: string) => spans.find((one) => one.name === name);
    const request = told('POST /graphql');
    expect(request?.attributes).toMatchObject({
      'http.request.method': 'POST',
      'http.route': '/graphql',
      'http.response.status_code': 200,
      'graphql.operation.type': 'query',
      'graphql.operation.name': 'Named',
    });
    for (const name of ['graphql.parse', 'graphql.validate', 'graphql.execute'])
      expect([name, told(name)?.parent?.name]).toEqual([name, 'POST /graphql']);
    expect(told('pattern.search')?.parent?.name).toBe('graphql.execute');
    await archive.withdrawObservation('tarn-sennit-1/a', 'none', BY, 'desk').catch(() => undefined);
    const { observations } = await ask('{ observations: search(text: "marking") { totalCount } }');
    expect(observations).toBeDefined();
    await answer('{ wrong }');
    expect(spans.every(({ ended }) => ended)).toBe(true);
    expect(JSON.stringify(spans.map(({ attributes }) => attributes))).not.toContain(SECRET);
    await close();
  });

  test('a change appends under its request', async () => {
    const spans = register();
    const { ask, close } = await serve({ audience: 'desk' });
    const input = {
      specimen: 'tarn-sennit-1/a',
      observation: { id: 'seen-by-test', about: ['U1'], kind: 'CONDITION', text: 'clean' },
      reason: 'test',
    };
    await ask(
      'mutation ($input: RecordObservationInput!) { recordObservation(input: $input) { entry { sequence } } }',
      { input },
    );
    const append = spans.filter(({ name }) => name === 'journal.append').at(-1);
    expect(append?.attributes).toEqual({ 'caseback.entries': 1 });
    expect(append?.parent?.name).toBe('graphql.execute');
    await close();
  });
});

describe('metrics', () => {
  test('count requests, work, time and errors in the text format of Prometheus, for administrators alone', async () => {
    const metrics = new Metrics();
    const reader = await serve({ metrics });
    await reader.ask(QUERY, { id: SECRET });
    await reader.answer('{ wrong }');
    const refused = await reader.app.inject('/metrics');
    expect([refused.statusCode, refused.json().code]).toEqual([403, 'NOT_ALLOWED']);
    const text = await metrics.text();
    // Prometheus exposition format, version 0.0.4: a HELP and a TYPE line, then samples.
    expect(text).toMatch(/^# TYPE caseback_http_requests_total counter$/mu);
    expect(text).toMatch(
      /^caseback_http_requests_total\{method="POST",route="\/graphql",status="200"\} 1$/mu,
    );
    expect(text).toMatch(
      /^caseback_http_requests_total\{method="POST",route="\/graphql",status="400"\} 1$/mu,
    );
    expect(text).toMatch(/^caseback_errors_total\{code="BAD_INPUT"\} 1$/mu);
    expect(text).toMatch(/^caseback_http_request_duration_seconds_count\{operation="query"\} 1$/mu);
    expect(text).toMatch(/^caseback_operation_cost_count\{operation="query"\} 1$/mu);
    expect(text).toMatch(/^caseback_http_requests_open 0$/mu);
    expect(text).not.toContain(SECRET);
    await reader.close();
    const desk = await serve({
      audience: 'desk',
      metrics,
      access: { local: { name: 'local', role: 'administrator' } },
    });
    const told = await desk.app.inject('/metrics');
    expect([told.statusCode, told.headers['content-type']]).toEqual([200, metrics.type]);
    await desk.close();
    const without = await serve();
    expect((await without.app.inject('/metrics')).statusCode).toBe(404);
    await without.close();
  });

  test('a route that a request made up is not a label of its own', async () => {
    const metrics = new Metrics();
    const { app, close } = await serve({ metrics });
    for (let i = 0; i < 20; i++) await app.inject(`/made-up-${i}`);
    const text = await metrics.text();
    expect(text).toMatch(/^caseback_http_requests_total\{method="GET",route="none",status="404"\} 20$/mu);
    expect(text).not.toContain('made-up');
    await close();
  });
});

test('a slow request is one line in the log: what operation, its work and time, not what was asked', async () => {
  const lines: string[] = [];
  const { answer, archive, close } = await serve({
    logger: { level: 'warn', stream: { write: (line: string) => lines.push(line) } },
    limits: { time: 1_100 },
  });
  archive.whatIf = () => new Promise(() => undefined);
  await answer('query Slow($o: ID!) { whatIf(change: { withdraw: $o }) { devices { totalCount } } }', {
    o: `${SECRET}/a/o1`,
  });
  await close();
  expect(lines).toHaveLength(1);
  const line = JSON.parse(lines[0]);
  expect(line).toMatchObject({
    msg: 'slow request',
    operation: 'Slow',
    kind: 'query',
    route: '/graphql',
    status: 422,
  });
  expect([line.work > 1, line.milliseconds >= 1_000]).toEqual([true, true]);
  expect(lines[0]).not.toContain(SECRET);
});
