import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Socket } from 'node:net';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { CasebackError, type ErrorCode } from '../../model/problems.ts';
import { answerFailure } from './errors.ts';
import { HEADERS } from './security.ts';

// What Node and Fastify refuse by themselves, before any route or hook of ours runs: in the form of all other refusals.

/** An address that no route can have. */
export function refuseAddress(_error: FastifyError, request: FastifyRequest, reply: FastifyReply): void {
  reply.headers(HEADERS).header('x-request-id', request.id);
  answerFailure(
    new CasebackError(
      'BAD_INPUT',
      'The address has a % that does not stand for a character; write %25 for a percent sign',
    ),
    request,
    reply,
  );
}

interface Refusal {
  readonly status: number;
  readonly code: ErrorCode;
  readonly message: string;
}

const MALFORMED: Refusal = {
  status: 400,
  code: 'BAD_INPUT',
  message: 'What came on this connection is not a request of HTTP/1.1',
};
const UNREADABLE: Readonly<Record<string, Refusal>> = {
  HPE_HEADER_OVERFLOW: {
    status: 431,
    code: 'TOO_LARGE',
    message:
      'Address and headers of a request may have 16 KiB together; send a long question as the body of a POST',
  },
  HPE_CHUNK_EXTENSIONS_OVERFLOW: {
    status: 413,
    code: 'TOO_LARGE',
    message: 'The body has too many chunk extensions',
  },
  ERR_HTTP_REQUEST_TIMEOUT: {
    status: 408,
    code: 'BAD_INPUT',
    message: 'The request did not come in whole in the time that it may take; send it again',
  },
};

/** Answers what could not be read as a request, and ends its connection: where the next one begins, nobody knows. */
export function refuseUnreadable(error: Error & { readonly code?: string }, socket: Socket): void {
  // Node keeps here what it answers on the connection; behind the beginning of another answer this would be taken for a part of it.
  const { _httpMessage: answering } = socket as { readonly _httpMessage?: ServerResponse | null };
  if (error.code === 'ECONNRESET' || !socket.writable || answering?.headersSent) {
    socket.destroy();
    return;
  }
  const { status, ...told } = UNREADABLE[error.code ?? ''] ?? MALFORMED;
  const body = JSON.stringify(told);
  const headers = {
    ...HEADERS,
    'content-type': 'application/json; charset=utf-8',
    'content-length': Buffer.byteLength(body),
    connection: 'close',
  };
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`);
  // A reason phrase may be left out (RFC 9112, section 4); the table of them would load all of node:http at a start.
  socket.write(`HTTP/1.1 ${status} \r\n${lines.join('')}\r\n${body}`);
  socket.destroySoon();
}

/** Refuses an Expect that is not "100-continue" (RFC 9110, section 10.1.1). */
export function refuseExpectations(app: FastifyInstance): void {
  app.server.on('checkExpectation', (_request: IncomingMessage, response: ServerResponse) => {
    const body = JSON.stringify({
      code: 'BAD_INPUT',
      message: 'The header Expect may say 100-continue and nothing else; leave it out',
    });
    response.writeHead(417, {
      ...HEADERS,
      'content-type': 'application/json; charset=utf-8',
      'content-length': Buffer.byteLength(body),
      // Whoever sent it may send a body or not.
      connection: 'close',
    });
    response.end(body);
  });
}
