import { request as httpRequest } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { createService } from '../../src/service/create-service.ts';
import { archiveOf, type Served, serve } from './serving.ts';

const GRAPHQL = 'application/graphql-response+json';
let served: Served;
beforeAll(async () => {
  served = await serve({ logger: false });
});
afterAll(() => served.close());

const post = (payload: object | string, headers: Record<string, string> = {}) =>
  served.app.inject({
    method: 'POST',
    url: '/graphql',
    headers: { 'content-type': 'application/json', ...headers },
    payload: typeof payload === 'string' ? payload : JSON.stringify(payload),
  });

describe('media types', () => {
  test('known requests are answered, unknown requests refused', async () => {
    const query = '{ __typename }';
    expect((await post({ query }, { accept: GRAPHQL })).headers['content-type']).toBe(
      `${GRAPHQL}; charset=utf-8`,
    );
    expect(
      (await post({ query }, { accept: `${GRAPHQL}, application/json;q=0.9` })).headers['content-type'],
    ).toContain(GRAPHQL);
    expect(
      (await post({ query }, { accept: `${GRAPHQL};q=0.1, application/json` })).headers['content-type'],
    ).toContain('application/json');
    expect((await post({ query }, { accept: 'text/html' })).statusCode).toBe(406);
  });

  test('only JSON in UTF-8 is accepted, so that no foreign form can send a question', async () => {
    for (const type of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
    ]) {
      expect((await post('query={__typename}', { 'content-type': type })).statusCode).toBe(415);
    }
    expect((await post('{}', { 'content-type': 'application/json; charset=utf-16' })).statusCode).toBe(415);
  });

  test('no other site may read answers', async () => {
    const response = await served.app.inject({
      method: 'OPTIONS',
      url: '/graphql',
      headers: { origin: 'http://example.org', 'access-control-request-method': 'POST' },
    });
    expect(response.statusCode).toBe(405);
    expect(response.headers.allow).toBe('GET, HEAD, POST');
    expect(Object.keys(response.headers).filter((name) => name.startsWith('access-control'))).toEqual([]);
  });
});

describe('statuses', () => {
  const CASES: readonly (readonly [string, object, number, string])[] = [
    ['a syntax error', { query: '{ devices' }, 400, 'BAD_INPUT'],
    ['an unknown field', { query: '{ devizes }' }, 400, 'BAD_INPUT'],
    ['an unknown operation', { query: 'query A { __typename }', operationName: 'B' }, 400, 'BAD_INPUT'],
    [
      'two operations and no name',
      { query: 'query A { __typename } query B { __typename }' },
      400,
      'BAD_INPUT',
    ],
    ['a syntax tree instead of text', { query: '{"kind":"Document","definitions":[]}' }, 400, 'BAD_INPUT'],
    ['JSON that is not a document', { query: ' null ' }, 400, 'BAD_INPUT'],
    [
      'a variable of the wrong type',
      { query: 'query ($n: Int) { devices(first: $n) { totalCount } }', variables: { n: 'x' } },
      400,
      'BAD_INPUT',
    ],
    [
      'a date that is none',
      { query: '{ devices(filter: { releasedFrom: "2019-13" }) { totalCount } }' },
      400,
      'BAD_INPUT',
    ],
    [
      'a date variable that is none',
      {
        query: 'query ($d: PartialDate) { devices(filter: { releasedFrom: $d }) { totalCount } }',
        variables: { d: 'May' },
      },
      400,
      'BAD_INPUT',
    ],
  ];
  for (const [what, body, status, code] of CASES) {
    // The first requests run as written, later ones compiled; both must answer alike.
    test(`${what}, again and again`, async () => {
      for (let i = 0; i < 5; i++) {
        const strict = await post(body, { accept: GRAPHQL });
        expect([strict.statusCode, strict.json().errors[0].extensions.code]).toEqual([status, code]);
        expect(strict.json()).not.toHaveProperty('data');
        const old = await post(body, { accept: 'application/json' });
        expect(old.statusCode).toBe(200);
        expect(old.json().errors).toEqual(strict.json().errors);
      }
    });
  }

  test('an error in a field keeps status 200 and the rest of the data', async () => {
    for (let i = 0; i < 5; i++) {
      const response = await post(
        { query: '{ archive { devices } compareDevices(ids: []) { sensors { kind } } }' },
        { accept: GRAPHQL },
      );
      expect([response.statusCode, response.json().data]).toEqual([
        200,
        { archive: { devices: 4 }, compareDevices: null },
      ]);
      expect(response.json().errors[0].path).toEqual(['compareDevices']);
    }
  });

  test('a page size that is wrong empties its page alone, and says where', async () => {
    for (let i = 0; i < 5; i++) {
      const { data, errors } = await served.answer(
        '{ device(id: "tarn-sennit-1") { name components(first: -1) { totalCount } } }',
      );
      expect(data).toEqual({ device: { name: 'Tarn Sennit 1', components: null } });
      expect(errors?.[0]).toMatchObject({
        path: ['device', 'components'],
        extensions: { code: 'BAD_INPUT' },
      });
    }
  });

  test('GET answers queries, and refuses mutations and malformed variables', async () => {
    const get = (parameters: Record<string, string>) =>
      served.app.inject({ method: 'GET', url: '/graphql', query: parameters });
    const fine = await get({
      query: 'query ($id: ID!) { device(id: $id) { name } }',
      variables: '{"id":"tarn-sennit-1"}',
    });
    expect(fine.json()).toEqual({ data: { device: { name: 'Tarn Sennit 1' } } });
    const mutation = 'mutation { importDossier(input: { files: [], actor: "a", reason: "b" }) { entries } }';
    for (let i = 0; i < 4; i++) expect((await get({ query: mutation })).statusCode).toBe(405);
    expect((await get({ query: '{ __typename }', variables: '{' })).statusCode).toBe(400);
  });

  test('a browser that opens /graphql is led to the explorer', async () => {
    const response = await served.app.inject({
      method: 'GET',
      url: '/graphql',
      headers: { accept: 'text/html' },
    });
    expect([response.statusCode, response.headers.location]).toEqual([302, '/explorer']);
  });

  test('batches and bodies that are not an object are refused', async () => {
    for (const body of ['[{"query":"{__typename}"}]', '"{__typename}"', 'null', '7']) {
      expect((await post(body)).statusCode).toBe(400);
    }
  });
});

test('of a document with several operations the named operation is answered, compiled or not', async () => {
  const query = 'query A { a: archive { devices } } query B { b: archive { specimens } }';
  for (let i = 0; i < 6; i++) {
    expect((await served.answer(query, undefined, 'A')).data).toEqual({ a: { devices: 4 } });
    expect((await served.answer(query, undefined, 'B')).data).toEqual({ b: { specimens: 5 } });
  }
});

test('answers do not change when a document is compiled', async () => {
  const query = `query ($n: Int = 2, $with: Boolean!, $after: String) {
    devices(first: $n, after: $after) { totalCount edges { cursor node { ...Short note @include(if: $with) } } pageInfo { endCursor } }
    node(id: "tarn-sennit-1/a/U1") { __typename id ... on Component { labels { term } at { x y } board { name kind } } ... on Board { area } }
  }
  fragment Short on Device { id maker { name } mass { in(unit: "kg") { text } } }`;
  const answers: string[] = [];
  for (let i = 0; i < 6; i++) answers.push(JSON.stringify(await served.answer(query, { with: i < 99 })));
  expect(new Set(answers).size).toBe(1);
  expect((await served.answer(query, { with: false, n: 1 })).data.devices.edges).toHaveLength(1);
  expect((await served.answer(query, { with: 'x' })).errors?.[0].extensions.code).toBe('BAD_INPUT');
});

describe('limits', () => {
  test('depth is limited, through fragments too', async () => {
    const deep = (levels: number) =>
      `{ device(id: "tarn-sennit-1") ${'{ specimen { device '.repeat(levels)}{ id }${' } }'.repeat(levels)} }`;
    expect((await served.answer(deep(5))).errors).toBeUndefined();
    const { errors } = await served.answer(deep(8));
    expect(errors?.[0]).toMatchObject({
      message: expect.stringContaining('18 levels deep'),
      extensions: { code: 'OUT_OF_BUDGET' },
    });
    const spread =
      'query { device(id: "tarn-sennit-1") { ...A } } fragment A on Device { specimen { device { specimen { device { ...B } } } } } fragment B on Device { specimen { device { specimen { device { specimen { device { specimen { device { specimen { id } } } } } } } } } }';
    expect((await served.answer(spread)).errors?.[0].extensions.code).toBe('OUT_OF_BUDGET');
  });

  test('cost is limited before anything runs, with variables and defaults counted', async () => {
    const query =
      'query ($n: Int = 500) { devices(first: $n) { nodes { components(first: 100) { nodes { id designator } } } } }';
    expect((await served.answer(query)).errors?.[0].extensions.code).toBe('OUT_OF_BUDGET');
    expect((await served.answer(query, { n: 500 })).errors?.[0].extensions.code).toBe('OUT_OF_BUDGET');
    expect((await served.answer(query, { n: 3 })).errors).toBeUndefined();
    const response = await post({ query }, { accept: GRAPHQL });
    expect(response.statusCode).toBe(422);
  });

  test('lists of an answer that was asked for its first so many count so many times', async () => {
    const query =
      'query ($n: Int!) { similarDevices(id: "tarn-sennit-1", first: $n) { devices { device { specimens { components(first: 500) { nodes { id designator } } } } } } }';
    expect((await served.answer(query, { n: 100 })).errors?.[0].extensions.code).toBe('OUT_OF_BUDGET');
    expect((await served.answer(query, { n: 3 })).errors).toBeUndefined();
  });

  test('the cost of a document that spreads fragments twofold thirty times over is calculated at once', async () => {
    const fragments = Array.from(
      { length: 30 },
      (_, i) => `fragment F${i} on Device { ...F${i + 1} ...F${i + 1} name }`,
    );
    const query = `{ device(id: "tarn-sennit-1") { ...F0 } } ${fragments.join(' ')} fragment F30 on Device { id }`;
    const { errors } = await served.answer(query);
    expect(errors?.[0].extensions.code).toBe('OUT_OF_BUDGET');
  });

  test('many aliases of a heavy field cost as many times', async () => {
    const query = `{ ${Array.from({ length: 60 }, (_, i) => `p${i}: findPattern(text: "MATCH (s:Sensor) RETURN s") { totalCount }`).join(' ')} }`;
    expect((await served.answer(query)).errors?.[0].extensions.code).toBe('OUT_OF_BUDGET');
  });

  test('introspection works for tools but cannot be nested without end', async () => {
    const nested = `{ __schema { types { fields { type { fields { type { fields { type { fields { type { name } } } } } } } } } } }`;
    expect((await served.answer(nested)).errors?.[0].message).toContain('Maximum introspection depth');
    expect(
      (await served.ask('{ __schema { queryType { fields { name description } } } }')).__schema.queryType
        .fields.length,
    ).toBeGreaterThan(15);
  });

  test('a document of too many tokens, and a body too large, are refused', async () => {
    const long = `{ ${'__typename '.repeat(5_000)} }`;
    expect((await served.answer(long)).errors?.[0].extensions.code).toBe('BAD_INPUT');
    const small = await serve({ limits: { bodyBytes: 2_000 } });
    const response = await small.app.inject({
      method: 'POST',
      url: '/graphql',
      payload: { query: ' '.repeat(3_000) },
    });
    expect([response.statusCode, response.json().errors[0].extensions.code]).toEqual([413, 'TOO_LARGE']);
    await small.close();
  });

  test('an option out of range is refused at start-up, by name', async () => {
    const archive = await archiveOf([]);
    expect(() => createService({ archive, limits: { depth: 1 } })).toThrow(
      'limits.depth is 1; it must be a whole number from 4 to 64',
    );
    expect(() => createService({ archive, audience: 'all' as 'desk' })).toThrow('audience is "all"');
    expect(() => createService({ archive, hosts: [] })).toThrow('hosts is empty');
    await archive.close();
  });
});

describe('internal errors', () => {
  const broken = async (field: string) => {
    const archive = await archiveOf([]);
    const failing = {
      device: () => {
        throw new Error(`secret detail at ${import.meta.dirname}`);
      },
    };
    const lines: string[] = [];
    const app = await serve(
      { logger: { level: 'error', stream: { write: (line: string) => void lines.push(line) } } },
      Object.assign(Object.create(archive), {
        state: () => failing,
        close: () => archive.close(),
      }) as unknown as Archive,
    );
    const answers = [];
    for (let i = 0; i < 4; i++) answers.push(await app.answer(field));
    await app.close();
    return { answers, lines };
  };

  test('is logged in full and reported without stack or path, compiled or not', async () => {
    const { answers, lines } = await broken('{ device(id: "x") { id } }');
    for (const answer of answers) {
      expect(answer.data).toEqual({ device: null });
      expect(answer.errors?.[0].extensions).toEqual({ code: 'INTERNAL' });
      expect(JSON.stringify(answer)).not.toMatch(/secret|src\/|node_modules|at .*:\d+/u);
      expect(answer.errors?.[0].message).toMatch(/The log has the details under request \S+\./u);
    }
    expect(lines.length).toBe(4);
    expect(lines[0]).toContain('secret detail');
  });
});

describe('health', () => {
  test('it lives at once, is ready when the archive is read, and says so meanwhile', async () => {
    let open: (archive: Archive) => void = () => {};
    const app = createService({
      archive: new Promise<Archive>((resolve) => {
        open = resolve;
      }),
      logger: false,
    });
    const status = async (url: string) => (await app.inject(url)).statusCode;
    expect([await status('/livez'), await status('/readyz'), await status('/')]).toEqual([200, 503, 503]);
    const early = await app.inject({
      method: 'POST',
      url: '/graphql',
      payload: { query: '{ archive { devices } }' },
    });
    expect([early.statusCode, early.json().errors[0].extensions.code]).toEqual([503, 'NOT_READY']);
    const archive = await archiveOf();
    open(archive);
    expect([await status('/readyz'), await status('/')]).toEqual([200, 200]);
    await app.close();
    await archive.close();
  });

  test('an archive that cannot be read leaves it alive and not ready', async () => {
    const app = createService({ archive: Promise.reject(new Error('no')), logger: false });
    expect((await app.inject('/livez')).statusCode).toBe(200);
    const ready = await app.inject('/readyz');
    expect([ready.statusCode, ready.json()]).toEqual([503, { status: 'failed', code: 'NOT_READY' }]);
    await app.close();
  });

  test('an answer in progress is finished before the service closes', async () => {
    const closing = await serve();
    const { asOf } = closing.archive;
    const begun = Promise.withResolvers<void>();
    const released = Promise.withResolvers<void>();
    closing.archive.asOf = async (...args) => {
      begun.resolve();
      await released.promise;
      return asOf.apply(closing.archive, args);
    };
    const address = await closing.app.listen({ host: '127.0.0.1', port: 0 });
    const query = encodeURIComponent(
      `{ asOf(instant: "${new Date().toISOString()}") { devices { totalCount } } }`,
    );
    const asked = fetch(`${address}/graphql?query=${query}`);
    await begun.promise;
    const closed = closing.app.close();
    await new Promise(setImmediate);
    released.resolve();
    await closed;
    expect(await (await asked).json()).toEqual({ data: { asOf: { devices: { totalCount: 4 } } } });
    await closing.archive.close();
  });
});

test('every link of the documents leads to something', async () => {
  const pages = ['/docs', '/docs/developers'];
  const links = new Set<string>();
  for (const page of pages) {
    const { statusCode, body } = await served.app.inject(page);
    expect([page, statusCode]).toEqual([page, 200]);
    for (const [, to] of body.matchAll(/<a href="([^"#]+)/gu)) {
      if (/^\w+:/u.test(to)) continue;
      const { pathname } = new URL(to, `http://127.0.0.1${page}`);
      if (links.has(pathname)) continue;
      links.add(pathname);
      if (/^\/docs\/[\w-]+$/u.test(pathname)) pages.push(pathname);
      const answer = await served.app.inject(pathname);
      expect([page, pathname, answer.statusCode]).toEqual([page, pathname, 200]);
    }
  }
  expect(links).toContain('/docs/pattern-language');
  expect(links).toContain('/docs/nets');
});

describe('who may ask', () => {
  test('a foreign host name is refused on a loopback address (DNS rebinding)', async () => {
    const open = await serve({ hosts: ['127.0.0.1'] });
    await open.app.listen({ host: '127.0.0.1', port: 0 });
    const { port } = open.app.server.address() as AddressInfo;
    const under = (host: string) =>
      new Promise<number | undefined>((resolve, reject) => {
        httpRequest({ host: '127.0.0.1', port, path: '/livez', headers: { host } }, (response) => {
          response.resume();
          resolve(response.statusCode);
        })
          .on('error', reject)
          .end();
      });
    expect([
      await under(`127.0.0.1:${port}`),
      await under('evil.example'),
      await under('127.0.0.1.evil.example'),
    ]).toEqual([200, 421, 421]);
    await open.close();
  });

  test('every answer says what it is and whose; pages run nothing but their own files', async () => {
    const urls = [
      '/',
      '/explorer',
      '/docs',
      '/graphql?query={__typename}',
      '/nothing',
      '/schema.graphql',
      '/assets/site.css',
    ];
    for (const url of urls) {
      const { headers } = await served.app.inject(url);
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['cross-origin-resource-policy']).toBe('same-origin');
      expect(headers['x-request-id']).toMatch(/^\w+-\w+$/u);
      if (!String(headers['content-type']).startsWith('text/html')) continue;
      const policy = String(headers['content-security-policy']).split(/; ?/u);
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self'");
      expect(policy).toContain("frame-ancestors 'none'");
    }
  });
});

test('an address that is none says so in JSON', async () => {
  const response = await served.app.inject('/nowhere?x=1');
  expect([response.statusCode, response.json()]).toEqual([
    404,
    { code: 'NOT_FOUND', message: 'Nothing is at GET /nowhere' },
  ]);
});
