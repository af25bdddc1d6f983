import { StringDecoder } from 'node:string_decoder';
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
    const limit = request.routeOptions.config.bodyBytes ?? most(request);
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
    const decoder = new StringDecoder('utf8');
    let text = '';
    const look = new Look();
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
      // As it comes in: twenty megabytes at once would take as long as reading them.
      const problem = length > limit ? tooLarge(limit) : look.at(chunk);
      if (problem) end(problem);
      else text += decoder.write(chunk);
    });
    payload.on('end', () => {
      parse(request, text + decoder.end(), end);
    });
  });
}

function tooLarge(limit: number): CasebackError {
  return new CasebackError('TOO_LARGE', `The body is larger than ${limit.toLocaleString('en')} bytes`);
}

/**
 * Finds what in a JSON text would take a parser long: depth and number of values, counted without reading any. Of a text that is
 * not JSON the answer means nothing.
 */
export class Look {
  /** Fields and items so far. */
  values = 0;
  /** Levels of the deepest so far. */
  deepest = 0;
  #depth = 0;
  #isInString = false;
  /** Backslashes at the end of what came so far, inside a string. */
  #backslashes = 0;

  /** Looks at the next piece; answers what is wrong, if anything is. */
  at(piece: Buffer): CasebackError | undefined {
    let i = this.#isInString ? this.#afterString(piece, 0) : 0;
    for (; i < piece.length; i++) {
      switch (piece[i]) {
        case QUOTE:
          this.#isInString = true;
          this.#backslashes = 0;
          i = this.#afterString(piece, i + 1) - 1;
          break;
        case OPEN_LIST:
        case OPEN_GROUP:
          this.values++;
          this.deepest = Math.max(this.deepest, ++this.#depth);
          if (this.#depth > DEEPEST)
            return new CasebackError('OUT_OF_BUDGET', `The body nests more than ${DEEPEST} levels deep`);
          break;
        case CLOSE_LIST:
        case CLOSE_GROUP:
          this.#depth--;
          break;
        case COMMA:
        case COLON:
          if (++this.values > MOST_VALUES)
            return new CasebackError(
              'OUT_OF_BUDGET',
              `The body has more than ${MOST_VALUES.toLocaleString('en')} fields and items`,
            );
      }
    }
    return undefined;
  }

  /** Place behind the quotation mark that ends a string, from a place inside it; the end of the piece where there is none. */
  #afterString(piece: Buffer, start: number): number {
    for (let from = start; ; ) {
      const found = piece.indexOf(QUOTE, from);
      const end = found < 0 ? piece.length : found;
      let before = end;
      while (before > from && piece[before - 1] === BACKSLASH) before--;
      this.#backslashes = end - before + (before === start ? this.#backslashes : 0);
      if (found < 0) return end;
      if (this.#backslashes % 2 === 0) {
        this.#isInString = false;
        return end + 1;
      }
      from = end + 1;
      this.#backslashes = 0;
    }
  }
}
