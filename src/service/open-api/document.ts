import { ERROR_CODES } from '../../model/problems.ts';
import { DESCRIBED, type Described } from './described.ts';

/** A route as it was registered. */
export interface Route {
  readonly method: string;
  /** As Fastify takes it: parameters behind a colon, with the texts that they take in brackets. */
  readonly url: string;
}

/** Beginnings of addresses of pages and their files, of GraphQL, which has a schema of its own, and of forms to sign in. */
const OTHERS =
  /^\/(?:$|graphql$|explorer$|docs|assets\/|sign-|publications\/[^/]+\/sheet$|\*|feeds\/[^/.]+$)/u;

/** Routes that stand in the document: what programs get, outside GraphQL. */
export function isDescribed({ method, url }: Route): boolean {
  return method === 'GET' && !OTHERS.test(plainPath(url));
}

/**
 * The addresses of a service as an OpenAPI document (version 3.1), made from the routes that it has: an address that nobody described stands
 * in it by its path alone.
 * @param site address under which people reach the service, where it is known
 */
export function openApiOf(routes: readonly Route[], site: URL | undefined): object {
  const urls = [...new Set(routes.filter(isDescribed).map(({ url }) => plainPath(url)))].sort();
  return {
    openapi: '3.1.0',
    info: {
      title: 'Caseback',
      version: '1',
      description:
        'Addresses of a Caseback service outside GraphQL. Everything else is asked at /graphql, whose schema is at /schema.graphql.',
    },
    ...(site && { servers: [{ url: site.href.replace(/\/$/u, '') }] }),
    paths: Object.fromEntries(urls.map((url) => [url, { get: operationAt(url) }])),
    components: {
      schemas: {
        Problem: {
          type: 'object',
          required: ['code', 'message'],
          properties: {
            code: { enum: Object.keys(ERROR_CODES) },
            message: { type: 'string' },
            problems: { type: 'array', items: { type: 'object' } },
          },
        },
      },
    },
  };
}

function operationAt(url: string): object {
  const {
    summary,
    type,
    query = [],
    isConditional = false,
  }: Described = DESCRIBED[url] ?? {
    summary: `Answers at ${url}.`,
  };
  const inPath = [...url.matchAll(/\{(\w+)\}/gu)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: { type: 'string' },
  }));
  const inQuery = query.map(([name, description]) => ({
    name,
    in: 'query',
    description,
    schema: { type: 'string' },
  }));
  return {
    operationId: `get${url.replaceAll(/[^A-Za-z0-9]+(\w?)/gu, (_, letter: string) => letter.toUpperCase())}`,
    summary,
    ...(inPath.length + inQuery.length > 0 && { parameters: [...inPath, ...inQuery] }),
    responses: {
      '200': { description: 'The answer.', ...(type !== undefined && { content: { [type]: {} } }) },
      ...(isConditional && {
        '304': { description: 'What If-None-Match names is still the answer (RFC 9110, section 15.4.5).' },
      }),
      default: {
        description: 'A refusal, with a code that stays.',
        content: { 'application/json': { schema: { $ref: '#/components/schemas/Problem' } } },
      },
    },
  };
}

/** A path as OpenAPI has it, `/feeds/{id}.json`, from `/feeds/:id(^[a-z]+).json`. */
export function plainPath(url: string): string {
  let plain = '';
  for (let at = 0; at < url.length; at++) {
    const name = url[at] === ':' ? /^\w+/u.exec(url.slice(at + 1))?.[0] : undefined;
    if (name === undefined) {
      plain += url[at];
      continue;
    }
    plain += `{${name}}`;
    at += name.length;
    if (url[at + 1] !== '(') continue;
    // What the parameter takes, to the bracket that closes it.
    let depth = 0;
    do {
      at++;
      if (url[at] === '\\') at++;
      else if (url[at] === '(') depth++;
      else if (url[at] === ')') depth--;
    } while (depth > 0 && at < url.length);
  }
  return plain;
}
