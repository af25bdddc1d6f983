import type { WebsocketHandler } from '@fastify/websocket';
import type { FastifyRequest } from 'fastify';
import { type ExecutionArgs, GraphQLError, subscribe } from 'graphql/index.js';
import { CloseCode, makeServer } from 'graphql-ws';
import type { WebSocket } from 'ws';
import { CasebackError } from '../../model/problems.ts';
import { type Asker, audienceOf } from '../access/asker.ts';
import type { Gate } from '../access/authenticate.ts';
import { isOwn } from '../access/own-site.ts';
import type { Context } from '../graphql/context.ts';
import { PersistedDocuments } from '../server/documents.ts';
import { formatGraphQLError } from '../server/errors.ts';
import { type Executor, NotRun } from '../server/executor.ts';
import type { Readiness } from '../server/health.ts';
import type { CheckedOptions } from '../server/options.ts';
import { readParameters } from '../server/parameters.ts';
import { askerOf, type Rate } from '../server/rate.ts';
import { changesOf } from './changes.ts';
import type { FeedWatch } from './watch.ts';

/** Bytes of a message to the service. */
export const MOST_MESSAGE = 65_536;
/** Subscriptions of one connection. */
const MOST_EACH = 20;
/** How long a connection waits for `connection_init`, ms. */
const INIT_TIME = 10_000;
/** How long somebody who signed in is listened for before they have to show again who they are, ms. */
const SIGNED_IN = 300_000;
/** How often a connection is tried, ms; one that has not answered until the next time is ended. */
const PING = 15_000;
/** Bytes that a listener may leave untaken. */
const UNTAKEN = 1_048_576;
/** Share of the connections of a service that subscriptions may have. */
const SHARE = 0.4;
/** "Service Restart" and "Try Again Later" of the registry of RFC 6455, section 11.7: clients come back. */
const RESTART = 1012;
const LATER = 1013;

/** What subscriptions need. */
export interface SubscriptionsOptions {
  readonly readiness: Readiness;
  readonly options: CheckedOptions;
  readonly rate: Rate;
  readonly executor: Executor;
  readonly watch: FeedWatch;
  readonly gate: Gate;
}

/** What a connection brings along. */
interface Extra {
  readonly request: FastifyRequest;
  readonly socket: WebSocket;
  who: Asker;
}

/**
 * Answers WebSockets by the protocol graphql-transport-ws (package graphql-ws): subscriptions alone. Whoever has not signed in with
 * the request may do so in `connection_init`, with `authorization` as a request has it. Pages of other sites are refused, since a
 * browser would let them listen as whoever sits in front of it.
 */
export function subscriptions({
  readiness,
  options,
  rate,
  executor,
  watch,
  gate,
}: SubscriptionsOptions): WebsocketHandler {
  const { limits, access } = options;
  const documents = new PersistedDocuments(options.documents, options.documentsOnly);
  const most = Math.max(1, Math.floor(SHARE * limits.connections));
  let open = 0;

  const argsOf = ({ request, who }: Extra, running: number, payload: object): ExecutionArgs => {
    if (running > MOST_EACH)
      throw new CasebackError('TOO_MANY', `At most ${MOST_EACH} subscriptions run over one connection`);
    const wait = rate.ask(askerOf(request));
    if (wait > 0) throw new CasebackError('TOO_MANY', `Too many requests; wait ${wait} s`);
    const archive = readiness.archive();
    const view = archive.state(audienceOf(who));
    const { work, ...args } = executor.subscription(documents.found(readParameters(payload), view));
    rate.charge(askerOf(request), work);
    const context: Context = {
      archive,
      view,
      who,
      accounts: access.accounts,
      limits,
      feedChanges: (id) => changesOf(watch, id, view.audience),
      signal: () => new AbortController().signal,
    };
    return { ...args, contextValue: context };
  };

  const server = makeServer<Readonly<Record<string, unknown>>, Extra>({
    connectionInitWaitTimeout: INIT_TIME,
    async onConnect({ connectionParams, extra }) {
      const given = connectionParams?.authorization;
      if (given === undefined) return true;
      const token = /^bearer +(?<token>[\w.~+/-]+=*)$/iu.exec(String(given))?.groups?.token;
      const held = { header: () => undefined };
      if (token === undefined) return false;
      const who = await gate.attempt(extra.request, held, token, (known) => known.bearer(token));
      if (!who) return false;
      extra.who = who;
      endLater(extra);
      return true;
    },
    onSubscribe({ extra, subscriptions: running }, _id, payload) {
      try {
        return argsOf(extra, Object.keys(running).length, payload);
      } catch (error) {
        const errors = error instanceof NotRun ? error.errors : [error as Error];
        return errors.map((one) => told(one, extra));
      }
    },
    subscribe,
    onNext({ extra }, _id, _payload, _args, result) {
      if (extra.socket.bufferedAmount > UNTAKEN) extra.socket.close(LATER, 'Too slow');
      return result.errors && { ...result, errors: result.errors.map((one) => told(one, extra)) };
    },
    onError: ({ extra }, _id, _payload, errors) => errors.map((one) => told(one as Error, extra)),
  });

  return (socket, request) => {
    if (!isOwn(request, access.publicUrl)) return socket.close(CloseCode.Forbidden, 'Forbidden');
    if (open >= most) return socket.close(LATER, 'Too many listen just now');
    open++;
    const extra: Extra = { request, socket, who: request.who };
    if (request.who.by === 'token' || request.who.by === 'session') endLater(extra);
    const closed = server.opened(
      {
        protocol: socket.protocol,
        send: (text) =>
          new Promise((resolve, reject) => {
            if (socket.readyState !== socket.OPEN) resolve();
            else socket.send(text, (error) => (error ? reject(error) : resolve()));
          }),
        close: (code, reason) => socket.close(code, reason),
        onMessage: (take) =>
          socket.on('message', (message) => {
            Promise.resolve(take(String(message))).catch((error: Error) => {
              request.log.error({ err: error, requestId: request.id }, 'unforeseen error');
              socket.close(CloseCode.InternalServerError, 'Internal error');
            });
          }),
      },
      extra,
    );
    const stop = keepTrying(socket);
    socket.once('close', (code, reason) => {
      open--;
      stop();
      void closed(code, String(reason));
    });
  };
}

/** An error as the answer to a request has it. */
function told(error: Error, { request }: Extra): GraphQLError {
  const { message, locations, path, extensions } = formatGraphQLError(error, request.log, request.id);
  const same = new GraphQLError(message, { extensions: extensions ?? {}, path });
  if (locations) Object.defineProperty(same, 'locations', { value: locations });
  return same;
}

/** So that what is revoked ends: whoever signed in comes back and shows again who they are. */
function endLater({ socket }: Extra): void {
  const timer = setTimeout(() => socket.close(RESTART, 'Connect again'), SIGNED_IN).unref();
  socket.once('close', () => clearTimeout(timer));
}

/** Ends a connection whose other end has gone without a word (RFC 6455, section 5.5.2). */
function keepTrying(socket: WebSocket): () => void {
  let isThere = true;
  socket.on('pong', () => {
    isThere = true;
  });
  const timer = setInterval(() => {
    if (!isThere) return socket.terminate();
    isThere = false;
    socket.ping();
  }, PING).unref();
  return () => clearInterval(timer);
}
