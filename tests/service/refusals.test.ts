/**
 * What is refused before any route runs has a code and the form of all other refusals, and says when the connection ends
 * (RFC 9110, sections 10.1.1 and 15.5; RFC 9112, sections 3.2 and 9.6; RFC 6585, section 5).
 */
import { once } from 'node:events';
import { type AddressInfo, connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ERROR_CODES } from '../../src/model/problems.ts';
import { type Served, serve } from './serving.ts';

let served: Served;
let port: number;
beforeAll(async () => {
  served = await serve();
  await served.app.listen({ port: 0, host: '127.0.0.1' });
  ({ port } = served.app.server.address() as AddressInfo);
});
afterAll(() => served.close());

interface Raw {
  readonly text: string;
  readonly status: number;
  readonly headers: ReadonlyMap<string, string>;
  readonly body: string;
  /** Whether the service ended the connection within moments. */
  readonly isEnded: boolean;
}

/** What comes back first for some bytes on a connection. */
async function raw(sent: string): Promise<Raw> {
  const socket = connect(port, '127.0.0.1');
  await once(socket, 'connect');
  let received = '';
  let isEnded = false;
  socket.on('data', (part) => {
    received += part;
  });
  socket.on('error', () => undefined);
  const closed = once(socket, 'close').then(() => {
    isEnded = true;
  });
  socket.write(sent);
  const patience = (time: number) =>
    Promise.race([closed, new Promise((resolve) => setTimeout(resolve, time))]);
  for (let i = 0; i < 200 && received === '' && !isEnded; i++) await patience(50);
  await patience(300);
  socket.destroy();
  const [head = '', body = ''] = received.split(/\r\n\r\n(.*)/su);
  const [first = '', ...lines] = head.split('\r\n');
  const headers = new Map(
    lines.map((line) => {
      const [name = '', value = ''] = line.split(/: (.*)/su);
      return [name.toLowerCase(), value] as const;
    }),
  );
  return { text: received, status: Number(first.split(' ')[1]), headers, body, isEnded };
}

const HOST = 'Host: 127.0.0.1\r\n';
const CASES: readonly (readonly [string, string, number, string])[] = [
  ['a % without digits', `GET /records/%zz.jsonld HTTP/1.1\r\n${HOST}\r\n`, 400, 'BAD_INPUT'],
  ['half of a character', `GET /records/%ED%A0%80 HTTP/1.1\r\n${HOST}\r\n`, 400, 'BAD_INPUT'],
  ['an id of 600 characters', `GET /feeds/${'a'.repeat(600)}.json HTTP/1.1\r\n${HOST}\r\n`, 404, 'NOT_FOUND'],
  [
    'an id of 600 characters, of a record',
    `GET /records/${'a'.repeat(600)}.jsonld HTTP/1.1\r\n${HOST}\r\n`,
    404,
    'NOT_FOUND',
  ],
  [
    'large headers',
    `GET /livez HTTP/1.1\r\n${HOST}Cookie: ${'a=b; '.repeat(5000)}\r\n\r\n`,
    431,
    'TOO_LARGE',
  ],
  ['a long address', `GET /${'a'.repeat(30_000)} HTTP/1.1\r\n${HOST}\r\n`, 431, 'TOO_LARGE'],
  [
    'another expectation',
    `POST /graphql HTTP/1.1\r\n${HOST}Expect: x\r\nContent-Length: 2\r\n\r\n{}`,
    417,
    'BAD_INPUT',
  ],
  ['no host', 'GET /livez HTTP/1.1\r\n\r\n', 400, 'BAD_INPUT'],
  ['no request', 'hello\r\n\r\n', 400, 'BAD_INPUT'],
  [
    'two lengths',
    `POST /graphql HTTP/1.1\r\n${HOST}Content-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n{}`,
    400,
    'BAD_INPUT',
  ],
];

describe.each(CASES)('%s', (_, sent, status, code) => {
  test(`is ${status} ${code}`, async () => {
    const answer = await raw(sent);
    expect(answer.status).toBe(status);
    expect(answer.headers.get('content-type')).toBe('application/json; charset=utf-8');
    const told = JSON.parse(answer.body) as Record<string, unknown>;
    expect(Object.keys(told)).toEqual(['code', 'message']);
    expect(told.code).toBe(code);
    expect(Object.keys(ERROR_CODES)).toContain(told.code);
    expect(answer.body).not.toMatch(/FST_|fastify/iu);
    expect(answer.body.length).toBeLessThan(500);
    expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    // A connection that ends says so, and one that does not say so is kept.
    expect(answer.headers.get('connection') === 'close').toBe(answer.isEnded);
  });
});

test('what follows a request and is none ends the connection with a word', async () => {
  const { isEnded, text } = await raw(`GET /livez HTTP/1.1\r\n${HOST}\r\nxxxx\r\n\r\n`);
  expect(isEnded).toBe(true);
  const refusal = text.slice(text.indexOf('HTTP/1.1 400'));
  expect(refusal).toMatch(/^connection: close\r$/mu);
  expect(refusal).toContain('"code":"BAD_INPUT"');
});

test('of GraphQL an address that is none is refused as its clients read it', async () => {
  const { body } = await raw(`GET /graphql/%zz HTTP/1.1\r\n${HOST}\r\n`);
  expect(JSON.parse(body)).toMatchObject({ errors: [{ extensions: { code: 'BAD_INPUT' } }] });
});

test('to expect 100-continue is no mistake', async () => {
  const body = '{"query":"{ __typename }"}';
  const asked = `POST /graphql HTTP/1.1\r\n${HOST}Expect: 100-continue\r\nContent-Type: application/json\r\nContent-Length: ${body.length}\r\n\r\n${body}`;
  expect((await raw(asked)).status).toBe(100);
});
