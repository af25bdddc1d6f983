import type { FastifyInstance, FastifyRequest } from 'fastify';
import { CasebackError } from '../../model/problems.ts';
import type { Limits } from './options.ts';

/** Groups and lists inside one another in a body; records have far fewer. */
const DEEPEST = 64;
/** Values, fields and items of a body. Reading so many takes some tens of milliseconds. */
const MOST_VALUES = 200_000;

const [QUOTE, BACKSLASH, COMMA, COLON] = [0x22, 0x5c, 0x2c, 0x3a];
const [OPEN_LIST, CLOSE_LIST, OPEN_GROUP, CLOSE_GROUP] = [0x5b, 0x5d, 0x7b, 0x7d];

/**
 * Reads JSON bodies: at most so many bytes as the asker may send (`bodyBytes` where files may be brought in, else
 * `questionBytes`), and nothing that takes long to parse, whatever its size.
 * @param mayImport whether a request may bring files in; asked before its body is read
 */
export function readJsonBodies(
  app: FastifyInstance,
  limits: Pick<Limits, 'bodyBytes' | 'questionBytes'>,
  mayImport: (request: FastifyRequest) => boolean,
): void {
  const most = (request: FastifyRequest) =>
    mayImport(request) ? limits.bodyBytes : Math.min(limits.questionBytes, limits.bodyBytes);
  app.addHook('preParsing', (request, reply, payload, done) => {
    const limit = most(request);
    if (Number(request.headers['content-length'] ?? 0) > limit) {
      // The rest of the body is not waited for.
      reply.header('connection', 'close');
      done(tooLarge(limit));
      return;
    }
    done(null, payload);
  });
  const parse = app.getDefaultJsonParser('error', 'error');
  app.removeContentTypeParser('application/json');
  app.addContentTypeParser('application/json', (request, payload, done) => {
    const limit = most(request);
    const chunks: Buffer[] = [];
    let length = 0;
    const end = (error: Error | null, body?: unknown) => {
      payload.removeAllListeners('data');
      payload.removeAllListeners('end');
      payload.resume();
      done(error, body);
    };
    payload.on('error', () => end(new CasebackError('BAD_INPUT', 'The request was broken off')));
    payload.on('data', (chunk: Buffer) => {
      length += chunk.length;
      if (length > limit) end(tooLarge(limit));
      else chunks.push(chunk);
    });
    payload.on('end', () => {
      const body = Buffer.concat(chunks, length);
      const problem = troubleIn(body);
      if (problem) end(problem);
      else parse(request, body.toString('utf8'), end);
    });
  });
}

function tooLarge(limit: number): CasebackError {
  return new CasebackError('TOO_LARGE', `The body is larger than ${limit.toLocaleString('en')} bytes`);
}

/**
 * What in a JSON text would take a parser long: depth and number of values, counted without reading any. Of a text that is
 * not JSON the answer means nothing.
 */
function troubleIn(body: Buffer): CasebackError | undefined {
  let depth = 0;
  let values = 0;
  for (let i = 0; i < body.length; i++) {
    switch (body[i]) {
      case QUOTE:
        i = endOfString(body, i);
        break;
      case OPEN_LIST:
      case OPEN_GROUP:
        values++;
        if (++depth > DEEPEST)
          return new CasebackError('OUT_OF_BUDGET', `The body nests more than ${DEEPEST} levels deep`);
        break;
      case CLOSE_LIST:
      case CLOSE_GROUP:
        depth--;
        break;
      case COMMA:
      case COLON:
        if (++values > MOST_VALUES)
          return new CasebackError(
            'OUT_OF_BUDGET',
            `The body has more than ${MOST_VALUES.toLocaleString('en')} fields and items`,
          );
    }
  }
  return undefined;
}

/** Place of the quotation mark that ends a string. */
function endOfString(body: Buffer, start: number): number {
  for (let at = body.indexOf(QUOTE, start + 1); at >= 0; at = body.indexOf(QUOTE, at + 1)) {
    let before = at;
    while (body[before - 1] === BACKSLASH) before--;
    if ((at - before) % 2 === 0) return at;
  }
  return body.length;
}
