import type { FastifyInstance, FastifyRequest } from 'fastify';

/** Characters of a path in the log. */
const LONGEST = 200;

/** One request, as the access log has it: a line of JSON. Neither addresses' queries nor bodies, variables, tokens or cookies. */
export interface AccessLine {
  /** When the answer was sent, ISO 8601 in UTC. */
  readonly time: string;
  readonly request: string;
  readonly method: string;
  readonly path: string;
  /** Name of the GraphQL operation, where it has one. */
  readonly operation?: string;
  readonly status: number;
  readonly ms: number;
  /** Whoever had signed in, and how. */
  readonly who?: string;
  readonly role: string;
  readonly by?: string;
  readonly address: string;
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Name of the GraphQL operation that was asked for. */
    operation: string | undefined;
  }
}

/** Hands a line for every request to a writer, once its answer is sent. */
export function logAccess(app: FastifyInstance, write: ((line: string) => void) | undefined): void {
  app.decorateRequest('operation', undefined);
  if (!write) return;
  app.addHook('onResponse', (request, reply, done) => {
    const { name, role, by } = request.who ?? { name: undefined, role: 'reader', by: undefined };
    const line: AccessLine = {
      time: new Date().toISOString(),
      request: request.id,
      method: request.method,
      path: pathOf(request),
      ...(request.operation === undefined ? {} : { operation: request.operation }),
      status: reply.statusCode,
      ms: Math.round(reply.elapsedTime * 10) / 10,
      ...(name === undefined ? {} : { who: name }),
      role,
      ...(by === undefined ? {} : { by }),
      address: request.ip,
    };
    write(`${JSON.stringify(line)}\n`);
    done();
  });
}

/** The path of an address without its query, which may hold what is nobody's business. */
function pathOf({ url }: FastifyRequest): string {
  const end = url.search(/[?#]/u);
  const path = end < 0 ? url : url.slice(0, end);
  // A token that somebody wrote into the path by mistake.
  return path.replaceAll(/caseback_[0-9A-Za-z]+/gu, 'caseback_…').slice(0, LONGEST);
}
