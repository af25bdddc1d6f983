import { once } from 'node:events';
import { request as httpRequest } from 'node:http';
import { type AddressInfo, connect } from 'node:net';
import { getIntrospectionQuery } from 'graphql/index.js';
import { describe, expect, test } from 'vitest';
import { createService } from '../../src/service/create-service.ts';
import { answerText } from '../../src/service/server/answer-text.ts';
import { networkOf, Rate } from '../../src/service/server/rate.ts';
import { archiveOf, serve } from './serving.ts';

const QUERY = '{ __typename }';
const post = (payload: string, headers: Record<string, string> = {}) =>
  ({
    method: 'POST',
    url: '/graphql',
    headers: { 'content-type': 'application/json', accept: 'application/graphql-response+json', ...headers },
    payload,
  }) as const;
const codeOf = (response: { json(): unknown }) =>
  (response.json() as { errors?: { extensions: { code: string } }[] }).errors?.[0]?.extensions.code;

describe('bodies', () => {
  test('whoever may not bring files in sends a megabyte at most, whether its length is said or not', async () => {
    const long = JSON.stringify({ query: QUERY, extensions: { a: 'x'.repeat(1_100_000) } });
    const reader = await serve();
    const refused = await reader.app.inject(post(long));
    expect([refused.statusCode, codeOf(refused)]).toEqual([413, 'TOO_LARGE']);
    expect(refused.body.length).toBeLessThan(300);
    await reader.app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = reader.app.server.address() as AddressInfo;
    const status = await new Promise<number | undefined>((resolve, reject) => {
      const asking = httpRequest(
        { port, path: '/graphql', method: 'POST', headers: { 'content-type': 'application/json' } },
        (response) => resolve(response.resume().statusCode),
      );
      asking.on('error', reject);
      for (let at = 0; at < long.length; at += 100_000) asking.write(long.slice(at, at + 100_000));
      asking.end();
    });
    expect(status).toBe(413);
    await reader.close();
    const desk = await serve({ audience: 'desk' });
    expect((await desk.app.inject(post(long))).statusCode).toBe(200);
    await desk.close();
  });

  test('lists in lists and very many values are refused before they are parsed', async () => {
    const { app, close } = await serve({ audience: 'desk' });
    const nested = `{"query":"${QUERY}","variables":{"a":${'['.repeat(65)}${']'.repeat(65)}}}`;
    expect(codeOf(await app.inject(post(nested)))).toBe('OUT_OF_BUDGET');
    expect(codeOf(await app.inject(post('['.repeat(10_000_000))))).toBe('OUT_OF_BUDGET');
    const many = `{"query":"${QUERY}","variables":{"a":[${'0,'.repeat(200_000)}0]}}`;
    expect(codeOf(await app.inject(post(many)))).toBe('OUT_OF_BUDGET');
    // What stands in a text is no list, whatever is escaped in it.
    const text = JSON.stringify({ query: QUERY, variables: { a: `\\"${'[,'.repeat(9_000)}\\\\` } });
    expect((await app.inject(post(text))).statusCode).toBe(200);
    const deep = `{"query":"${QUERY}","variables":{"a":${'['.repeat(60)}${']'.repeat(60)}}}`;
    expect((await app.inject(post(deep))).statusCode).toBe(200);
    await close();
  });

  test('a body or headers that do not end are broken off', async () => {
    const app = createService({ archive: await archiveOf(), limits: { requestTime: 1_000 } });
    await app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = app.server.address() as AddressInfo;
    for (const text of [
      'POST /graphql HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{"que',
      'GET / HTTP/1.1\r\nHost: localhost\r\nX-A: ',
    ]) {
      const socket = connect(port, '127.0.0.1');
      socket.on('error', () => undefined);
      let answer = '';
      socket.on('data', (data) => {
        answer += String(data);
      });
      socket.write(text);
      await once(socket, 'close');
      // RFC 9110, section 15.5.9: 408 Request Timeout.
      expect(answer).toMatch(/^HTTP\/1\.1 408 /u);
    }
    await app.close();
  });
});

describe('sizes in a document and its variables', () => {
  test.each([
    ['a text', `{ device(id: "${'x'.repeat(20_001)}") { name } }`, {}],
    ['a text of many lines', `{ device(id: """${'x\n'.repeat(10_001)}""") { name } }`, {}],
    ['a variable', 'query ($id: ID!) { device(id: $id) { name } }', { id: 'x'.repeat(20_001) }],
    [
      'a variable called text',
      'query ($text: ID!) { device(id: $text) { name } }',
      { text: 'x'.repeat(20_001) },
    ],
    [
      'a list',
      'query ($ids: [ID!]!) { compareDevices(ids: $ids) { __typename } }',
      { ids: Array(10_001).fill('x') },
    ],
    ['an alias', `{ ${'a'.repeat(201)}: __typename }`, {}],
    ['a field', `{ ${'a'.repeat(201)} }`, {}],
    ['aliases', `{ ${Array.from({ length: 501 }, (_, i) => `a${i}: __typename`).join(' ')} }`, {}],
    ['a document', `{ __typename } #${'x'.repeat(1_000_000)}`, {}],
  ])('%s', async (_, query, variables) => {
    const { app, close } = await serve({ limits: { questionBytes: 2 ** 22 } });
    const response = await app.inject(post(JSON.stringify({ query, variables })));
    expect(codeOf(response)).toBe('TOO_LARGE');
    expect(response.statusCode).toBe(413);
    for (const { message } of response.json().errors) expect(message.length).toBeLessThan(300);
    await close();
  });

  test('as much as is allowed is answered', async () => {
    const { ask, close } = await serve();
    const id = 'x'.repeat(20_000);
    expect(await ask(`{ device(id: "${id}") { name } }`)).toEqual({ device: null });
    expect(await ask('query ($id: ID!) { device(id: $id) { name } }', { id })).toEqual({ device: null });
    const aliases = Array.from({ length: 500 }, (_, i) => `a${i}: __typename`).join(' ');
    expect(Object.keys(await ask(`{ ${aliases} }`))).toHaveLength(500);
    await close();
  });

  test('a document that nests too deep to be read is refused in plain words', async () => {
    const { answer, close } = await serve();
    const { errors } = await answer(
      `{ compareDevices(ids: ${'['.repeat(1_900)}${']'.repeat(1_900)}) { __typename } }`,
    );
    expect(errors?.[0]).toMatchObject({
      message: 'The document nests too deep',
      extensions: { code: 'OUT_OF_BUDGET' },
    });
    // Brackets in a text or a comment are none of its own, and an unfinished text is an error of syntax.
    const brackets = '['.repeat(1_900);
    const told = await answer(
      `{ devices(first: 1) { totalCount } # ${brackets}\n device(id: "${brackets}") { name } }`,
    );
    expect(told.errors ?? []).not.toContainEqual(
      expect.objectContaining({ message: 'The document nests too deep' }),
    );
    await close();
  });
});

test('what went wrong is told again in the same words, without the document kept', async () => {
  const { answer, close } = await serve();
  const told = [];
  for (let i = 0; i < 3; i++) told.push(await answer('{ devizes { name } }'));
  expect(told[0].errors?.[0]).toMatchObject({
    message: expect.stringContaining('devizes'),
    locations: [{ line: 1, column: 3 }],
  });
  expect(told[1]).toEqual(told[0]);
  expect(told[2]).toEqual(told[0]);
  await close();
});

describe('answers', () => {
  test('are no longer than allowed', async () => {
    const { answer, close } = await serve({ limits: { answerBytes: 65_536 } });
    const fields = Array.from(
      { length: 400 },
      (_, i) => `a${i}: device(id: "tarn-sennit-1") { b${i}: id }`,
    ).join(' ');
    expect((await answer(`{ ${fields.slice(0, fields.indexOf('a9:'))} }`)).errors).toBeUndefined();
    await close();
    const large = {
      rows: Array.from({ length: 20_000 }, (_, i) => ({ i, text: `"\u20ac"${i}`, none: undefined })),
    };
    const text = JSON.stringify(large);
    await expect(answerText(large, Buffer.byteLength(text))).resolves.toEqual(Buffer.from(text));
    await expect(answerText(large, Buffer.byteLength(text) - 1)).rejects.toMatchObject({ code: 'TOO_LARGE' });
    expect(answerText({ rows: [1, null] }, 10)).toBe('{"rows":[1,null]}');
  });

  test('a question that takes too long is refused, and what works on it is told', async () => {
    const archive = await archiveOf();
    const { app, close } = await serve({ limits: { time: 100 } }, archive);
    let signal: AbortSignal | undefined;
    archive.whatIf = (_state, _amendment, given) => {
      signal = given;
      return new Promise(() => undefined);
    };
    const query = '{ whatIf(change: { withdraw: "tarn-sennit-1/a/o1" }) { devices { totalCount } } }';
    const response = await app.inject(post(JSON.stringify({ query })));
    expect([response.statusCode, codeOf(response)]).toEqual([422, 'OUT_OF_BUDGET']);
    expect(signal?.aborted).toBe(true);
    await close();
  });
});

describe('rate', () => {
  test('ten seconds at once, then as many as time gives; a costly question counts as many', () => {
    let now = 0;
    const rate = new Rate(2, () => now);
    for (let i = 0; i < 20; i++) expect(rate.ask('a')).toBe(0);
    expect(rate.ask('a')).toBe(1);
    expect(rate.ask('b')).toBe(0);
    now = 500;
    expect([rate.ask('a'), rate.ask('a')]).toEqual([0, 1]);
    rate.charge('a', 100_000);
    // A hundred requests more, at two a second.
    expect(rate.ask('a')).toBe(51);
    now += 51_000;
    expect(rate.ask('a')).toBe(0);
    now += 3_600_000;
    for (let i = 0; i < 20; i++) expect(rate.ask('a')).toBe(0);
    expect(rate.ask('a')).toBe(1);
  });

  test('a refusal says when to come back', async () => {
    const { app, close } = await serve({ rate: 1, hosts: 'any' });
    const ask = () => app.inject(post(JSON.stringify({ query: QUERY })));
    for (let i = 0; i < 9; i++) expect((await ask()).statusCode).toBe(200);
    let response = await ask();
    while (response.statusCode === 200) response = await ask();
    // RFC 6585, section 4, and RFC 9110, section 10.2.3.
    expect([response.statusCode, codeOf(response), response.headers['retry-after']]).toEqual([
      429,
      'TOO_MANY',
      '1',
    ]);
    await close();
  });

  test('an address behind a proxy is believed only where proxies are', async () => {
    const ask = async (trustProxy: number) => {
      const { app, close } = await serve({ rate: 1, trustProxy });
      let refused = 0;
      for (let i = 0; i < 30; i++) {
        const response = await app.inject(
          post(JSON.stringify({ query: QUERY }), { 'x-forwarded-for': `192.0.2.${i}` }),
        );
        if (response.statusCode === 429) refused++;
      }
      await close();
      return refused > 0;
    };
    expect([await ask(0), await ask(1)]).toEqual([true, false]);
  });

  // RFC 4291, section 2.2 (forms of addresses) and 2.5.5.2 (IPv4-mapped).
  test.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['2001:db8:1:2:3:4:5:6', '2001 db8 1 2'],
    ['2001:db8:1:2::9', '2001 db8 1 2'],
    ['2001:db8::9', '2001 db8 0 0'],
    ['::1', '0 0 0 0'],
  ])('%s is counted as %s', (address, network) => expect(networkOf(address)).toBe(network));
});

test('more connections from one address than allowed are closed at once, and come again when others end', async () => {
  const app = createService({ archive: await archiveOf(), limits: { connectionsEach: 2 } });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = app.server.address() as AddressInfo;
  const open = async () => {
    const socket = connect(port, '127.0.0.1');
    socket.on('error', () => undefined);
    await once(socket, 'connect');
    socket.write('GET /livez HTTP/1.1\r\nHost: localhost\r\n\r\n');
    const answered = await Promise.race([
      once(socket, 'data').then(() => true),
      once(socket, 'close').then(() => false),
    ]);
    return { socket, answered };
  };
  const [one, two, three] = [await open(), await open(), await open()];
  expect([one.answered, two.answered, three.answered]).toEqual([true, true, false]);
  one.socket.destroy();
  for (let four = await open(); ; four = await open()) if (four.answered) break;
  await app.close();
});

test('the schema is told to queries unless that is switched off', async () => {
  const { answer, close } = await serve({ introspection: false, limits: { depth: 20 } });
  const { errors } = await answer(getIntrospectionQuery());
  expect(errors?.[0]).toMatchObject({ extensions: { code: 'BAD_INPUT' } });
  expect((await answer('{ __typename archive { __typename } }')).errors).toBeUndefined();
  await close();
});

test('while the service stops, a request in hand is answered and one that comes is told so', async () => {
  const archive = await archiveOf();
  const app = createService({ archive });
  let finish: () => void = () => undefined;
  const waiting = new Promise<void>((resolve) => {
    finish = resolve;
  });
  const begun = Promise.withResolvers<void>();
  app.get('/slow', async () => {
    begun.resolve();
    await waiting;
    return { fine: true };
  });
  const late: unknown[] = [];
  app.addHook('preClose', async () => {
    const response = await fetch(`http://127.0.0.1:${port()}/graphql?query=${QUERY}`);
    const { errors } = (await response.json()) as { errors: { extensions: { code: string } }[] };
    late.push([response.status, errors[0]?.extensions.code, response.headers.get('retry-after')]);
    finish();
  });
  const port = () => (app.server.address() as AddressInfo).port;
  await app.listen({ port: 0, host: '127.0.0.1' });
  const slow = fetch(`http://127.0.0.1:${port()}/slow`);
  await begun.promise;
  await app.close();
  expect(await (await slow).json()).toEqual({ fine: true });
  expect(late).toEqual([[503, 'STOPPING', '5']]);
  await archive.close();
});
