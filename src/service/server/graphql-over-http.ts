import type { WebsocketHandler } from '@fastify/websocket';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { type ExecutionResult, GraphQLError, type GraphQLFormattedError } from 'graphql/index.js';
import type { Accounts } from '../../access/accounts.ts';
import type { Archive } from '../../archive.ts';
import { CasebackError } from '../../model/problems.ts';
import type { State } from '../../state/state.ts';
import { type Asker, audienceOf } from '../access/asker.ts';
import { challenge } from '../access/bearer.ts';
import type { Context } from '../graphql/context.ts';
import { answerText } from './answer-text.ts';
import { PersistedDocuments } from './documents.ts';
import { formatGraphQLError, statusOf, tellError } from './errors.ts';
import { type Asked, type Executor, NotRun, type Started } from './executor.ts';
import type { Readiness } from './health.ts';
import { keyInHeader, keyOf } from './idempotency-key.ts';
import type { Metrics } from './metrics.ts';
import { noteOperation, within } from './observe.ts';
import type { CheckedOptions, Limits } from './options.ts';
import {
  GRAPHQL_TYPE,
  JSON_TYPE,
  type MediaType,
  negotiate,
  type Requested,
  readParameters,
  readUrlParameters,
} from './parameters.ts';
import { askerOf, type Rate } from './rate.ts';
import { States } from './states.ts';

/** Media types as headers have them. */
const TYPES = {
  [JSON_TYPE]: `${JSON_TYPE}; charset=utf-8`,
  [GRAPHQL_TYPE]: `${GRAPHQL_TYPE}; charset=utf-8`,
};

/**
 * GraphQL over HTTP at `/graphql`: POST with JSON, GET for queries. Media types and statuses follow the specification
 * (graphql.github.io/graphql-over-http).
 */
export async function graphql(
  app: FastifyInstance,
  {
    readiness,
    options,
    rate,
    executor,
    listen,
  }: {
    readiness: Readiness;
    options: CheckedOptions;
    rate: Rate;
    executor: Executor;
    /** Takes WebSockets at the same address. */
    listen: WebsocketHandler;
  },
): Promise<void> {
  const { limits, metrics } = options;
  const states = new States(options.archive);
  const documents = new PersistedDocuments(options.documents, options.documentsOnly);

  const answer = (request: FastifyRequest, reply: FastifyReply, read: () => Requested) => {
    const type = negotiate(request.headers.accept);
    if (!type)
      return refuse(reply, 406, `This answers in ${JSON_TYPE} or ${GRAPHQL_TYPE}; Accept has neither`);
    reply.type(TYPES[type]);
    let requested: Requested;
    try {
      requested = read();
    } catch (error) {
      const { code, message } = tellError(error, request.log, request.id);
      return reply.code(400).send({ errors: [{ message, extensions: { code } }] });
    }
    const archive = readiness.archive();
    const { who } = request;
    const mayChange = () => {
      const refusal = refusalOf(who, options);
      if (refusal?.code === 'SIGNED_OUT') challenge(reply);
      if (refusal) throw refusal;
    };
    const told: Telling = { request, reply, type, answerBytes: limits.answerBytes, metrics };
    const refused = (error: unknown) => {
      if (error instanceof NotRun) return send(told, { errors: error.errors });
      if (error instanceof QueriesOnly)
        return send(told, { errors: [new GraphQLError(error.message)], status: 405 });
      return send(told, { errors: [error as Error] });
    };
    const whole = () => {
      const asked = documents.found(requested, archive.state(audienceOf(who)));
      request.operation = operationIn(asked);
      return asked;
    };
    const run = (on: Archive, asked: Asked) => {
      const context = new RequestContext(on, who, options, reply);
      let isQuery = true;
      const started = (operation: Started) => {
        isQuery = operation.isQuery;
        rate.charge(askerOf(request), operation.work);
        noteOperation(request, operation, metrics);
      };
      const ended = (result: ExecutionResult) =>
        send(told, states.told(reply, asked, context.view, result, isQuery ? undefined : known()));
      // A change made before, of another service, may be further on than this one has read.
      const known = () => Math.max(archive.version, on.version);
      try {
        const allowed = request.method === 'POST' ? mayChange : queriesOnly;
        const result = within(request, () => executor.run(asked, context, allowed, started));
        if (!('then' in result)) return ended(result);
        const settled = isQuery ? inTime(result, context, limits.time) : result;
        return settled.then(ended, (error: Error) => send(told, { errors: [error] }));
      } catch (error) {
        return refused(error);
      }
    };
    try {
      const key = request.method === 'POST' ? keyInHeader(request.headers['idempotency-key']) : undefined;
      const waits = states.waitFor(request, requested, archive);
      if (key === undefined && waits === undefined) return run(archive, whole());
      return Promise.resolve(waits)
        .then(async () => {
          const asked = whole();
          if (key === undefined) return () => run(archive, asked);
          const once = await keyed(archive, keyOf(who.name ?? '', key), asked, executor, reply);
          return () => run(once, asked);
        })
        .then((begin) => begin(), refused);
    } catch (error) {
      return refused(error);
    }
  };

  const get = (request: FastifyRequest, reply: FastifyReply) => {
    const { query, documentId } = request.query as { query?: string; documentId?: string };
    // A person who opens the address in a browser is looking for the explorer.
    if (query === undefined && documentId === undefined && request.headers.accept?.includes('text/html'))
      return reply.redirect('/explorer');
    return answer(request, reply, () => readUrlParameters(request.query as Record<string, unknown>));
  };
  app.route({ method: 'GET', url: '/graphql', handler: get, wsHandler: listen });
  app.post('/graphql', (request, reply) => {
    const charset = /charset=([^;]+)/iu.exec(request.headers['content-type'] ?? '')?.[1];
    if (charset && !/^"?utf-?8"?$/iu.test(charset.trim())) {
      return refuse(reply, 415, `The body is in ${charset}; send UTF-8`);
    }
    return answer(request, reply, () => readParameters(request.body));
  });
  app.route({
    method: ['PUT', 'PATCH', 'DELETE', 'OPTIONS'],
    url: '/graphql',
    handler: (request, reply) =>
      refuse(
        reply.header('allow', 'GET, HEAD, POST'),
        405,
        `${request.method} is not allowed; use GET or POST`,
      ),
  });
}

/**
 * The archive for the one change of a request under an idempotency key; for a query the archive itself.
 * @throws CasebackError BAD_INPUT for several changes; CONFLICT when the key was used for something else
 */
async function keyed(
  archive: Archive,
  key: string,
  asked: Asked,
  executor: Executor,
  reply: FastifyReply,
): Promise<Archive> {
  const changes = executor.changes(asked);
  if (changes === 0) return archive;
  if (changes > 1)
    throw new CasebackError(
      'BAD_INPUT',
      `The request has ${changes} changes, and an Idempotency-Key is for one; send each in a request of its own`,
    );
  const { query, operationName = null, variables } = asked;
  const once = archive.keyed(key, { query, operationName, variables });
  reply.raw.once('close', () => once.release());
  await once.replayKeyed();
  return once;
}

/** What the resolvers of one request share; its signal is made when first asked for, since few questions take long. */
class RequestContext implements Context {
  readonly archive: Archive;
  readonly view: State;
  readonly who: Asker;
  readonly accounts: Accounts | undefined;
  readonly webhooks: CheckedOptions['webhooks'];
  readonly limits: Limits;
  readonly #reply: FastifyReply;
  #gone: AbortController | undefined;
  #isOver = false;

  constructor(
    archive: Archive,
    who: Asker,
    { access, webhooks, limits }: CheckedOptions,
    reply: FastifyReply,
  ) {
    this.archive = archive;
    this.view = archive.state(audienceOf(who));
    this.who = who;
    this.accounts = access.accounts;
    this.webhooks = webhooks;
    this.limits = limits;
    this.#reply = reply;
  }

  signal(): AbortSignal {
    if (this.#gone) return this.#gone.signal;
    const gone = new AbortController();
    this.#gone = gone;
    if (this.#isOver) gone.abort();
    else this.#reply.raw.once('close', () => gone.abort());
    return gone.signal;
  }

  /** Stops what still works for this request. */
  end(): void {
    this.#isOver = true;
    this.#gone?.abort();
  }
}

/**
 * The result of a question, or a refusal where it takes longer than that; what still works on it is stopped.
 * @param most milliseconds
 */
async function inTime(
  result: Promise<ExecutionResult>,
  context: RequestContext,
  most: number,
): Promise<ExecutionResult> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      const message = `The question took longer than ${most.toLocaleString('en')} ms; ask for less at once`;
      reject(new CasebackError('OUT_OF_BUDGET', message));
      context.end();
    }, most);
  });
  try {
    return await Promise.race([result, late]);
  } finally {
    clearTimeout(timer);
  }
}

/** Why an asker changes nothing here: what readers cannot see they must not write over. */
function refusalOf(who: Asker, { readOnly, access }: CheckedOptions): CasebackError | undefined {
  if (readOnly) return new CasebackError('NOT_ALLOWED', 'This service is read-only');
  if (who.role !== 'reader') return undefined;
  if (who.by !== undefined)
    return new CasebackError('NOT_ALLOWED', 'Readers make no changes; ask an administrator for another role');
  return access.accounts
    ? new CasebackError('SIGNED_OUT', 'Changes are made by people with an account; sign in')
    : new CasebackError(
        'NOT_ALLOWED',
        'This service answers readers and takes no changes; ask one for the desk',
      );
}

/** Name of the operation that a request asks for, as the access log has it: a name and nothing else. */
function operationIn({ operationName, query }: Asked): string | undefined {
  const named = operationName ?? /^\s*(?:query|mutation)\s+(\w+)/u.exec(query)?.[1];
  return named !== undefined && /^[A-Z_a-z]\w{0,99}$/u.test(named) ? named : undefined;
}

class QueriesOnly extends Error {}

function queriesOnly(): never {
  throw new QueriesOnly('Only queries run by GET; send mutations by POST');
}

type Outcome = ExecutionResult | { readonly errors: readonly Error[]; readonly status?: number };

/** Where an answer goes, and in what form. */
interface Telling {
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
  readonly type: MediaType;
  readonly answerBytes: number;
  readonly metrics: Metrics | undefined;
}

/**
 * Sends a result. A request that never ran has no `data`: status 200 under `application/json`, as older
 * clients expect, and the error's own status under `application/graphql-response+json`.
 */
function send(told: Telling, result: Outcome): unknown {
  const { request, reply, type, answerBytes } = told;
  if (!result.errors) return written(told, answerText(result, answerBytes));
  const errors = result.errors
    .map((error) => formatGraphQLError(error as GraphQLError, request.log, request.id))
    .sort(byPlace);
  for (const { extensions } of errors) told.metrics?.failed(String(extensions?.code ?? 'none'));
  const ran = 'data' in result && result.data !== undefined && errors.some(({ path }) => path !== undefined);
  if (errors.some(({ extensions }) => extensions?.code === 'UNAVAILABLE')) reply.header('retry-after', '1');
  if (ran) {
    const { extensions } = result as ExecutionResult;
    return written(
      told,
      answerText({ errors, data: result.data, ...(extensions && { extensions }) }, answerBytes),
    );
  }
  const { status = statusOf(errors[0]?.extensions?.code) } = result as { status?: number };
  reply.code(type === GRAPHQL_TYPE || status === 405 || status >= 500 ? status : 200);
  return JSON.stringify({ errors });
}

/** The text, or why there is none. */
function written(told: Telling, text: ReturnType<typeof answerText>): unknown {
  return typeof text === 'string' ? text : text.catch((error: Error) => send(told, { errors: [error] }));
}

/**
 * Errors stand in the order of the document, those of one field in the order of the lists that it is in, whichever was answered first:
 * that would tell what is kept ready from what somebody else has asked.
 */
function byPlace(a: GraphQLFormattedError, b: GraphQLFormattedError): number {
  const [one, other] = [a.locations?.[0], b.locations?.[0]];
  return (
    (one?.line ?? 0) - (other?.line ?? 0) ||
    (one?.column ?? 0) - (other?.column ?? 0) ||
    byItem(a.path ?? [], b.path ?? [])
  );
}

/** Paths of one field in a document differ first in the place in a list, or where a fragment is used, in a name. */
function byItem(a: readonly (string | number)[], b: readonly (string | number)[]): number {
  const at = a.findIndex((step, i) => step !== b[i]);
  if (at < 0 || at >= b.length) return a.length - b.length;
  return a[at] < b[at] ? -1 : 1;
}

/** An answer to a request that is not a GraphQL request at all. */
function refuse(reply: FastifyReply, status: number, message: string): FastifyReply {
  const error: GraphQLFormattedError = { message, extensions: { code: 'BAD_INPUT' } };
  return reply
    .code(status)
    .type(`${JSON_TYPE}; charset=utf-8`)
    .send({ errors: [error] });
}
