import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Role } from '../../src/access/roles.ts';
import { type ServedPeople, servePeople } from './people-served.ts';

let served: ServedPeople;
let now = Date.parse('2026-05-01T10:00:00.000Z');
const lines: string[] = [];
beforeAll(async () => {
  served = await servePeople({ access: { log: (line) => lines.push(line) } }, () => new Date(now));
});
afterAll(() => served.close());

const OWN = { host: 'localhost', origin: 'http://localhost' };
const form = (url: string, fields: Record<string, string>, headers: Record<string, string> = OWN) =>
  served.app.inject({
    method: 'POST',
    url,
    headers: { 'content-type': 'application/x-www-form-urlencoded', host: 'localhost', ...headers },
    payload: new URLSearchParams(fields).toString(),
  });
const get = (url: string, headers: Record<string, string> = {}) =>
  served.app.inject({ method: 'GET', url, headers: { host: 'localhost', ...headers } });
const signIn = async (role: Role, headers: Record<string, string> = {}) => {
  const response = await form(
    '/sign-in',
    { token: served.tokens[role], next: '/docs' },
    { ...OWN, ...headers },
  );
  return { response, cookie: String(response.headers['set-cookie']).split(';')[0] };
};
const roleOf = async (cookie: string) =>
  /Your role is (\w+)/u.exec((await get('/sign-in', { cookie })).body)?.[1];

describe('signing in', () => {
  test('with a token sets a cookie that obeys the rules of its prefix, and leads on', async () => {
    const { response, cookie } = await signIn('editor');
    expect([response.statusCode, response.headers.location]).toEqual([303, '/docs']);
    const [pair, ...attributes] = String(response.headers['set-cookie']).split('; ');
    // RFC 6265bis, section 4.1.3.2: Secure, Path=/, no Domain; the rest is ours. RFC 6265, section 4.1.1: the value.
    expect(pair).toMatch(/^__Host-caseback-session=[\w-]{43}$/u);
    expect(attributes.toSorted()).toEqual(['HttpOnly', 'Path=/', 'SameSite=Lax', 'Secure']);
    expect(await roleOf(cookie)).toBe('editor');
    expect(response.body + JSON.stringify(response.headers)).not.toContain(served.tokens.editor);
  });

  test('gives a secret of its own each time, whatever the browser brought', async () => {
    const planted = `__Host-caseback-session=${'A'.repeat(43)}`;
    const first = await signIn('editor', { cookie: planted });
    expect(first.cookie).not.toBe(planted);
    expect(await roleOf(planted)).toBeUndefined();
    const second = await signIn('reader', { cookie: first.cookie });
    expect([await roleOf(first.cookie), await roleOf(second.cookie)]).toEqual([undefined, 'reader']);
  });

  test('with something else says why on the page, and says nothing of it again', async () => {
    const wrong = `${served.tokens.editor.slice(0, -2)}zz`;
    for (const [token, status, said] of [
      ['', 400, 'The token is missing'],
      [wrong, 401, 'This token is not valid'],
      ['<script>', 401, 'This token is not valid'],
    ] as const) {
      const response = await form('/sign-in', { token });
      expect([response.statusCode, response.headers['set-cookie']]).toEqual([status, undefined]);
      expect(response.body).toContain(said);
      expect(response.body).toContain('role="alert"');
      if (token !== '') expect(response.body).not.toContain(token);
    }
  });

  test('leads nowhere but to this service', async () => {
    for (const [next, place] of [
      ['/explorer?x=1', '/explorer?x=1'],
      ['https://example.org/', '/'],
      ['//example.org/', '/'],
      ['/\\example.org', '/'],
      ['/\t/example.org', '/'],
      ['javascript:alert(1)', '/'],
      ['/a/..//example.org', '/'],
      ['/sign-out', '/'],
      ['', '/'],
    ]) {
      const response = await form('/sign-in', { token: served.tokens.reader, next });
      expect([next, response.headers.location]).toEqual([next, place]);
    }
    const page = await get(`/sign-in?next=${encodeURIComponent('"><script>alert(1)</script>')}`);
    expect(page.body).not.toContain('<script>alert');
    expect((await get('/sign-in?next=/a&next=/b')).statusCode).toBe(200);
  });

  test('is refused to forms of other sites, as signing out is', async () => {
    const { cookie } = await signIn('editor');
    for (const url of ['/sign-in', '/sign-out'])
      for (const headers of [
        { origin: 'https://example.org' },
        { origin: 'null' },
        { 'sec-fetch-site': 'cross-site', origin: 'http://localhost' },
        { 'sec-fetch-site': 'same-site' },
      ] as readonly Record<string, string>[]) {
        const fields = { token: served.tokens.reader, everywhere: 'yes' };
        expect((await form(url, fields, { ...headers, cookie })).statusCode).toBe(403);
      }
    expect(await roleOf(cookie)).toBe('editor');
  });

  test('questions are not asked by forms all the same', async () => {
    const response = await form('/graphql', { query: '{ __typename }' });
    expect(response.statusCode).toBe(415);
  });
});

describe('signing out', () => {
  test('ends this session, or all of the person and of nobody else', async () => {
    const [one, two, three, other] = await Promise.all(
      (['editor', 'editor', 'editor', 'reader'] as const).map(async (role) => (await signIn(role)).cookie),
    );
    const out = await form('/sign-out', {}, { ...OWN, cookie: one });
    expect([out.statusCode, out.headers['set-cookie']]).toEqual([
      303,
      '__Host-caseback-session=; Path=/; HttpOnly; Secure; SameSite=Lax; Max-Age=0',
    ]);
    expect([await roleOf(one), await roleOf(two)]).toEqual([undefined, 'editor']);
    await form('/sign-out', { everywhere: 'yes' }, { ...OWN, cookie: two });
    expect([await roleOf(two), await roleOf(three), await roleOf(other)]).toEqual([
      undefined,
      undefined,
      'reader',
    ]);
    // A visitor who presses it again.
    expect((await form('/sign-out', { everywhere: 'yes' })).statusCode).toBe(303);
  });

  test('happens by itself after eight hours without use', async () => {
    const { cookie } = await signIn('editor');
    now += 8 * 3_600_000 - 1;
    expect(await roleOf(cookie)).toBe('editor');
    now += 8 * 3_600_000;
    expect(await roleOf(cookie)).toBeUndefined();
  });
});

test('the page has a label for its field, a language and a title, and no script', async () => {
  const { body, headers } = await get('/sign-in');
  expect(body).toMatch(/<html lang="en">.*<title>Sign in/su);
  const id = /<input id="(\w+)" name="token"/u.exec(body)?.[1];
  expect(body).toContain(`<label for="${id}">`);
  expect(body).not.toContain('<script');
  expect(headers['content-security-policy']).toContain("form-action 'self'");
  expect(headers['cache-control']).toBe('no-store');
});

describe('the access log', () => {
  test('has a line for each request: who, what and how it went, and no secret', async () => {
    const { cookie } = await signIn('contributor');
    lines.length = 0;
    const token = served.tokens.administrator;
    await served.app.inject({
      method: 'POST',
      url: `/graphql?note=${token}`,
      headers: { authorization: `Bearer ${token}`, cookie },
      payload: {
        query: 'query Held($secret: ID!) { device(id: $secret) { name } }',
        variables: { secret: 'hidden-variable' },
      },
    });
    await get(`/docs?access_token=${token}`, { cookie });
    await get(`/${token}`);
    await form('/sign-in', { token });
    await form('/sign-in', { token: 'wrong-token' }, { ...OWN, cookie });
    const read = lines.map((line) => JSON.parse(line));
    expect(lines.every((line) => line.endsWith('}\n') && line.indexOf('\n') === line.length - 1)).toBe(true);
    expect(
      read.map(({ method, path, operation, status, who, role, by }) => [
        method,
        path,
        operation,
        status,
        who,
        role,
        by,
      ]),
    ).toEqual([
      ['POST', '/graphql', 'Held', 200, 'administrator', 'administrator', 'token'],
      ['GET', '/docs', undefined, 200, 'contributor', 'contributor', 'session'],
      ['GET', '/caseback_…', undefined, 404, undefined, 'reader', undefined],
      ['POST', '/sign-in', undefined, 303, undefined, 'reader', undefined],
      ['POST', '/sign-in', undefined, 401, 'contributor', 'contributor', 'session'],
    ]);
    expect(new Set(read.map(({ request }) => request)).size).toBe(5);
    const secrets = [token, token.slice(9), cookie.split('=')[1], 'hidden-variable', 'wrong-token'];
    for (const secret of secrets) expect(lines.join('')).not.toContain(secret);
  });

  test('has refused requests too', async () => {
    lines.length = 0;
    await served.app.inject({ method: 'GET', url: '/docs', headers: { host: 'example.org' } });
    await served.app.inject({ method: 'POST', url: '/graphql', headers: { authorization: 'Bearer x' } });
    expect(lines.map((line) => JSON.parse(line).status)).toEqual([421, 401]);
  });
});

test('a refusal is a page to a browser, and JSON to whoever takes anything (RFC 9110, section 12.5.1)', async () => {
  const { app, close } = await servePeople();
  // As browsers send it with a form or a link.
  const browser = 'text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,*/*;q=0.8';
  const refused = (accept: string) =>
    app.inject({
      method: 'POST',
      url: '/sign-out',
      headers: {
        accept,
        'sec-fetch-site': 'cross-site',
        'content-type': 'application/x-www-form-urlencoded',
      },
      payload: '',
    });
  const page = await refused(browser);
  expect([page.statusCode, page.headers['content-type'], page.headers['cache-control']]).toEqual([
    403,
    'text/html; charset=utf-8',
    'no-store',
  ]);
  expect(page.body).toMatch(
    /<h1>Not allowed<\/h1><p>This request comes from a page of another site.*href="\/sign-in"/u,
  );
  expect(page.headers['content-security-policy']).toContain("frame-ancestors 'none'");
  for (const accept of ['*/*', 'application/json', 'application/json, text/html'])
    expect((await refused(accept)).json().code).toBe('NOT_ALLOWED');
  const unknown = await app.inject({
    url: '/feeds',
    headers: { accept: browser, authorization: 'Bearer caseback_wrong' },
  });
  expect([unknown.statusCode, unknown.body.includes('<h1>Not signed in</h1>')]).toEqual([401, true]);
  expect(unknown.headers['www-authenticate']).toContain('invalid_token');
  await close();
});
