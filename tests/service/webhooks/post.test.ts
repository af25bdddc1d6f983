import { readFileSync } from 'node:fs';
import { createServer as createTlsServer } from 'node:https';
import { type AddressInfo, createServer as createSocketServer, type Socket } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, expect, test } from 'vitest';
import { type AddressRules, addressRules } from '../../../src/service/webhooks/addresses.ts';
import { type PostOptions, post } from '../../../src/service/webhooks/post.ts';
import { type Receiver, receiver } from './receiver.ts';

const closing: (() => unknown)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});
const receiving = async (host?: string, port?: number): Promise<Receiver> => {
  const made = await receiver(host, port);
  closing.push(() => made.close());
  return made;
};

const rules = (origin: string, range = '127.0.0.0/8'): AddressRules => addressRules([origin], [range]);
const unexpected = () => Promise.reject(new Error('nothing is to be resolved here'));
const sent = (url: string, options: Partial<PostOptions> & Pick<PostOptions, 'rules'>, turn?: number) =>
  post(
    new URL(url),
    { 'webhook-id': 'msg_1' },
    '{"a":"é"}',
    { resolve: unexpected, time: 5_000, ...options },
    turn,
  );

test('a message is posted as JSON, byte for byte; 2xx is success', async () => {
  const got = await receiving();
  expect(await sent(`${got.origin}/hook?a=1`, { rules: rules(got.origin) })).toEqual({
    status: 204,
    said: '204',
    retryAfter: undefined,
  });
  expect(got.received).toMatchObject([
    {
      path: '/hook?a=1',
      body: '{"a":"é"}',
      headers: { 'content-type': 'application/json', 'webhook-id': 'msg_1', 'content-length': '10' },
    },
  ]);
});

test('a redirect is a failure that says so, and is not followed', async () => {
  const got = await receiving();
  for (const status of [301, 302, 303, 307, 308]) {
    got.answer = (response) => response.writeHead(status, { location: `${got.origin}/inside` }).end();
    const { said } = await sent(`${got.origin}/hook`, { rules: rules(got.origin) });
    expect(said).toBe(`${status}: a redirect, which is not followed; register the new address`);
  }
  expect(got.received.map(({ path }) => path)).toEqual(Array(5).fill('/hook'));
});

test('nothing of an answer is told but its status, whatever stands in it', async () => {
  const got = await receiving();
  got.answer = (response) =>
    response.writeHead(500, 'private words', { 'x-inside': 'secret' }).end('<h1>secret</h1>');
  expect(await sent(got.origin, { rules: rules(got.origin) })).toEqual({
    status: 500,
    said: '500',
    retryAfter: undefined,
  });
  got.answer = (response) => response.writeHead(503, { 'retry-after': '7' }).end();
  expect(await sent(got.origin, { rules: rules(got.origin) })).toEqual({
    status: 503,
    said: '503',
    retryAfter: 7_000,
  });
});

test('an answer without end is cut off, and counts by its status', async () => {
  const got = await receiving();
  let written = 0;
  let isCut = false;
  got.answer = (response) => {
    response.writeHead(200);
    response.on('close', () => {
      isCut = true;
    });
    const more = () => {
      while (!isCut && response.write(Buffer.alloc(16_384))) written += 16_384;
    };
    response.on('drain', more);
    more();
  };
  expect((await sent(got.origin, { rules: rules(got.origin) })).status).toBe(200);
  for (let left = 200; left > 0 && !isCut; left--) await pause(20);
  expect(isCut).toBe(true);
  // What socket buffers hold, and not what one would send in the time of a try.
  expect(written).toBeLessThan(16 * 2 ** 20);
});

/** A server below HTTP. */
async function raw(handle: (socket: Socket) => void): Promise<string> {
  const server = createSocketServer((socket) => {
    socket.on('error', () => undefined);
    handle(socket);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closing.push(() => server.close());
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

test('who answers late, cut short, too long or in no HTTP fails in words of ours', async () => {
  const silent = await raw(() => undefined);
  expect((await sent(silent, { rules: rules(silent), time: 200 })).said).toBe('no answer within 0.2 s');
  const slow = await raw((socket) => {
    const timer = setInterval(() => socket.write('x'), 20);
    socket.on('close', () => clearInterval(timer));
    socket.write('HTTP/1.1 200 OK\r\nx: ');
  });
  expect((await sent(slow, { rules: rules(slow), time: 300 })).said).toBe('no answer within 0.3 s');
  const cut = await raw((socket) => socket.once('data', () => socket.resetAndDestroy()));
  expect((await sent(cut, { rules: rules(cut) })).said).toBe('the connection was cut before an answer');
  const long = await raw((socket) => socket.end(`HTTP/1.1 200 OK\r\nx: ${'y'.repeat(40_000)}\r\n\r\n`));
  expect((await sent(long, { rules: rules(long) })).said).toBe('the header of the answer is too long');
  const other = await raw((socket) => socket.end('220 mail.example ESMTP\r\n'));
  expect((await sent(other, { rules: rules(other) })).said).toBe('the answer is not HTTP');
  const closed = await receiver();
  await closed.close();
  expect((await sent(closed.origin, { rules: rules(closed.origin) })).said).toBe(
    'the connection was refused',
  );
});

test('an address that is not allowed is refused before anything is sent', async () => {
  const got = await receiving();
  const { port } = new URL(got.origin);
  expect((await sent(got.origin, { rules: addressRules([got.origin], []) })).said).toBe(
    'refused here: the host has an address that is loopback (RFC 1122, RFC 4291)',
  );
  expect((await sent(got.origin, { rules: addressRules([], ['127.0.0.1']) })).said).toMatch(
    /http is not allowed/u,
  );
  // One address that may not be reached is reason enough to reach none of a host.
  const mixed = await sent(`https://mixed.example:${port}/`, {
    rules: addressRules([], []),
    resolve: async () => ['8.8.8.8', '10.0.0.1'],
  });
  expect(mixed.said).toBe('refused here: the host has an address that is private (RFC 1918)');
  expect(got.received).toEqual([]);
});

test('a name that leads elsewhere a moment later is of no use (DNS rebinding)', async () => {
  const allowed = await receiving('127.0.0.2');
  const { port } = new URL(allowed.origin);
  const inside = await receiving('127.0.0.1', Number(port));
  const address = `http://rebind.example:${port}`;
  let asked = 0;
  const resolve = async () => (asked++ === 0 ? ['127.0.0.2'] : ['127.0.0.1']);
  const only = { rules: rules(address, '127.0.0.2'), resolve };
  expect((await sent(address, only)).status).toBe(204);
  expect([asked, allowed.received.length, inside.received.length]).toEqual([1, 1, 0]);
  // The receiver is asked under the name, as any other client would.
  expect(allowed.received[0]?.headers.host).toBe(`rebind.example:${port}`);
  expect((await sent(address, only)).said).toMatch(/^refused here/u);
  expect([asked, allowed.received.length, inside.received.length]).toEqual([2, 1, 0]);
});

test('of several addresses the next try takes the next', async () => {
  const second = await receiving('127.0.0.3');
  const { port } = new URL(second.origin);
  const address = `http://two.example:${port}`;
  const options = { rules: rules(address), resolve: async () => ['127.0.0.4', '127.0.0.3'] };
  expect((await sent(address, options, 0)).said).toBe('the connection was refused');
  expect((await sent(address, options, 1)).status).toBe(204);
});

test('a name without an address, one that is not found, and a resolver that does not answer', async () => {
  const https = addressRules([], []);
  expect((await sent('https://none.example/', { rules: https, resolve: async () => [] })).said).toBe(
    'the host name has no address',
  );
  const missing = async () => Promise.reject(Object.assign(new Error('x'), { code: 'ENOTFOUND' }));
  expect((await sent('https://none.example/', { rules: https, resolve: missing })).said).toBe(
    'the host name was not found',
  );
  const never = () => new Promise<string[]>(() => undefined);
  expect((await sent('https://none.example/', { rules: https, resolve: never, time: 100 })).said).toBe(
    'no answer within 0.1 s',
  );
});

test('certificates are held to the name of the address, though the connection is made to the resolved one', async () => {
  const pem = readFileSync(join(import.meta.dirname, '../../fixtures/receiver.example.pem'), 'utf8');
  const server = createTlsServer({ key: pem, cert: pem }, (_request, response) =>
    response.writeHead(200).end(),
  );
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  closing.push(() => server.close());
  const { port } = server.address() as AddressInfo;
  const options = { rules: addressRules([], ['127.0.0.1']), resolve: async () => ['127.0.0.1'] };
  const ca = pem.slice(pem.indexOf('-----BEGIN CERT'));
  expect((await sent(`https://receiver.example:${port}/`, { ...options, ca })).status).toBe(200);
  expect((await sent(`https://other.example:${port}/`, { ...options, ca })).said).toBe(
    'TLS failed (ERR_TLS_CERT_ALTNAME_INVALID)',
  );
  expect((await sent(`https://receiver.example:${port}/`, options)).said).toMatch(/^TLS failed/u);
});
