import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { type ExecutionResult, GraphQLError, type GraphQLFormattedError } from 'graphql/index.js';
import mercurius from 'mercurius';
import type { Context } from '../graphql/context.ts';
import { serviceSchema, weightsOf } from '../graphql/schema.ts';
import { checkCost, coerceVariables, planner } from './cost.ts';
import { depthRule } from './depth.ts';
import { formatGraphQLError, statusOf, tellError } from './errors.ts';
import type { Readiness } from './health.ts';
import type { CheckedOptions } from './options.ts';
import {
  GRAPHQL_TYPE,
  JSON_TYPE,
  type MediaType,
  negotiate,
  type Parameters,
  readParameters,
  readUrlParameters,
} from './parameters.ts';

/** Requests for a document before it is compiled. */
const COMPILE_AFTER = 2;

interface RequestContext extends Context {
  /** Whether only queries may run, as under GET. */
  readonly queriesOnly: boolean;
  readonly operationName: string | undefined;
  /** As the request gave them; the document's own checks come with its plan. */
  readonly given: Readonly<Record<string, unknown>>;
}

/**
 * GraphQL over HTTP at `/graphql`: POST with JSON, GET for queries. Execution, its caches and compilation are
 * Mercurius'; the routes are our own, so that media types and statuses follow the specification.
 */
export async function graphql(
  app: FastifyInstance,
  { readiness, options }: { readiness: Readiness; options: CheckedOptions },
): Promise<void> {
  const { limits, audience, readOnly } = options;
  const schema = serviceSchema();
  await app.register(mercurius, {
    schema,
    routes: false,
    jit: COMPILE_AFTER,
    graphql: { parseOptions: { maxTokens: limits.tokens } },
    validationRules: [depthRule(limits.depth)],
    // Errors are formatted by our routes, which know the request.
    errorFormatter: ({ data, errors }) => ({
      statusCode: 200,
      response: { data, errors } as ExecutionResult,
    }),
  });

  const planOf = planner(schema, weightsOf(schema));
  app.graphql.addHook('preExecution', async (_schema, document, context) => {
    const { queriesOnly, operationName, given } = context as unknown as RequestContext;
    const plan = planOf(document, operationName);
    if (!plan) return;
    if (!plan.isQuery && queriesOnly) throw new NotAllowed('Only queries run by GET; send mutations by POST');
    if (!plan.isQuery && readOnly) throw new NotAllowed('This service is read-only');
    const variables = coerceVariables(schema, plan, given);
    checkCost(plan, variables, limits.cost);
    return { variables };
  });

  const answer = async (request: FastifyRequest, reply: FastifyReply, read: () => Parameters) => {
    const type = negotiate(request.headers.accept);
    if (!type)
      return refuse(reply, 406, `This answers in ${JSON_TYPE} or ${GRAPHQL_TYPE}; Accept has neither`);
    reply.type(`${type}; charset=utf-8`);
    let parameters: Parameters;
    try {
      parameters = read();
    } catch (error) {
      const { code, message } = tellError(error, request.log, request.id);
      return reply.code(400).send({ errors: [{ message, extensions: { code } }] });
    }
    const archive = readiness.archive();
    const context: RequestContext = {
      archive,
      view: archive.view(audience),
      queriesOnly: request.method !== 'POST',
      operationName: parameters.operationName,
      given: parameters.variables,
      signal: () => signalOf(reply),
    };
    const result = await run(app, context, parameters);
    return send(request, reply, type, result);
  };

  app.get('/graphql', (request, reply) => {
    const { query } = request.query as { query?: string };
    // A person who opens the address in a browser is looking for the explorer.
    if (query === undefined && request.headers.accept?.includes('text/html'))
      return reply.redirect('/explorer');
    return answer(request, reply, () => readUrlParameters(request.query as Record<string, unknown>));
  });
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

const signals = new WeakMap<FastifyReply, AbortSignal>();

/** Made when first asked for, since few questions take long enough to need it. */
function signalOf(reply: FastifyReply): AbortSignal {
  const known = signals.get(reply);
  if (known) return known;
  const gone = new AbortController();
  reply.raw.once('close', () => gone.abort());
  signals.set(reply, gone.signal);
  return gone.signal;
}

class NotAllowed extends Error {}

type Outcome = ExecutionResult | { readonly errors: readonly Error[]; readonly status?: number };

async function run(app: FastifyInstance, context: RequestContext, parameters: Parameters): Promise<Outcome> {
  const { query, operationName } = parameters;
  try {
    return await app.graphql(
      documentText(query, operationName),
      context as unknown as Record<string, unknown>,
      undefined,
      operationName,
    );
  } catch (error) {
    if (error instanceof NotAllowed) return { errors: [new GraphQLError(error.message)], status: 405 };
    // Mercurius gathers mistakes of the document in one error.
    const { errors } = error as { errors?: readonly Error[] };
    return { errors: errors ?? [error as Error] };
  }
}

/**
 * The text under which Mercurius keeps a document. It compiles a kept document for one operation only, so
 * another operation of the same document must come under another text: its name is added as a comment.
 * JSON is refused here, since Mercurius would take it for a syntax tree.
 */
function documentText(query: string, operationName: string | undefined): string {
  if (/^\s*(?:\{\s*["}]|[["\d-]|(?:null|true|false)\s*$)/u.test(query) && isJson(query)) {
    throw new GraphQLError('query is JSON; it must be the text of a GraphQL document');
  }
  return operationName !== undefined && /^\w+$/u.test(operationName)
    ? `${query}\n# operation: ${operationName}`
    : query;
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

/**
 * Sends a result. A request that never ran has no `data`: status 200 under `application/json`, as older
 * clients expect, and the error's own status under `application/graphql-response+json`.
 */
function send(request: FastifyRequest, reply: FastifyReply, type: MediaType, result: Outcome): unknown {
  if (!result.errors) return JSON.stringify(result);
  const errors = result.errors
    .map((error) => formatGraphQLError(error as GraphQLError, request.log, request.id))
    .sort(byPlace);
  const ran = 'data' in result && result.data !== undefined && errors.some(({ path }) => path !== undefined);
  if (ran) return JSON.stringify({ errors, data: result.data });
  const { status = statusOf(errors[0]?.extensions?.code) } = result as { status?: number };
  reply.code(type === GRAPHQL_TYPE || status === 405 || status >= 500 ? status : 200);
  return JSON.stringify({ errors });
}

/** Errors stand in the order of the document, whichever field was answered first. */
function byPlace(a: GraphQLFormattedError, b: GraphQLFormattedError): number {
  const [one, other] = [a.locations?.[0], b.locations?.[0]];
  return (one?.line ?? 0) - (other?.line ?? 0) || (one?.column ?? 0) - (other?.column ?? 0);
}

/** An answer to a request that is not a GraphQL request at all. */
function refuse(reply: FastifyReply, status: number, message: string): FastifyReply {
  const error: GraphQLFormattedError = { message, extensions: { code: 'BAD_INPUT' } };
  return reply
    .code(status)
    .type(`${JSON_TYPE}; charset=utf-8`)
    .send({ errors: [error] });
}
