import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { rolesOfGroups, SignOn } from '../../src/access/sign-on.ts';
import { signOnFrom } from '../../src/access/sign-on-settings.ts';
import { goThrough, type Issuer, startIssuer } from './issuer.ts';
import { type ServedPeople, servePeople } from './people-served.ts';

const CLIENT = {
  id: 'caseback',
  secret: 'client-secret-of-the-test',
  redirectUri: 'http://localhost:4860/sign-in/return',
};
const ROLES = rolesOfGroups('bench=contributor, desk=editor,chiefs=administrator');

let issuer: Issuer;
let served: ServedPeople;
const lines: string[] = [];
beforeAll(async () => {
  issuer = await startIssuer(CLIENT);
  const signOn = new SignOn({
    issuer: issuer.url,
    clientId: CLIENT.id,
    clientSecret: CLIENT.secret,
    redirectUri: new URL(CLIENT.redirectUri),
    roles: ROLES,
    allowInsecureLoopback: true,
  });
  served = await servePeople({ access: { signOn, log: (line) => lines.push(line) } });
});
afterAll(async () => {
  await served.close();
  await issuer.close();
});

const get = (url: string, headers: Record<string, string> = {}) =>
  served.app.inject({ method: 'GET', url, headers: { host: 'localhost', ...headers } });
const cookieOf = (response: { headers: Record<string, unknown> }, name: string) =>
  [response.headers['set-cookie'] ?? []]
    .flat()
    .map((one) => String(one).split(';')[0])
    .find((one) => one.startsWith(`${name}=`)) ?? '';

/** Goes to the issuer and back; answers what leads back, and what the browser kept meanwhile. */
async function away(next = '/docs') {
  const begun = await get(`/sign-in/single?next=${encodeURIComponent(next)}`);
  const to = new URL(String(begun.headers.location));
  const kept = cookieOf(begun, '__Host-caseback-sign-on');
  return { begun, to, kept, back: await goThrough(to.href, CLIENT.redirectUri) };
}
const comeBack = (back: URL, cookie: string) =>
  get(`${back.pathname}${back.search}`, cookie ? { cookie } : {});
async function signOn() {
  const { back, kept } = await away();
  const response = await comeBack(back, kept);
  return { response, session: cookieOf(response, '__Host-caseback-session') };
}
const ask = async (session: string, query: string) =>
  (
    await served.app.inject({
      method: 'POST',
      url: '/graphql',
      headers: { host: 'localhost', origin: 'http://localhost', cookie: session },
      payload: { query },
    })
  ).json();

describe('single sign-on', () => {
  test('asks for a code, with PKCE, state and nonce that are new each time', async () => {
    issuer.person = { sub: 'u1', preferred_username: 'ada', groups: ['desk'] };
    const [one, two] = [await away(), await away()];
    // OpenID Connect Core 1.0, section 3.1.2.1; RFC 7636, section 4.3.
    const asked = Object.fromEntries(one.to.searchParams);
    expect(asked).toMatchObject({
      response_type: 'code',
      client_id: CLIENT.id,
      redirect_uri: CLIENT.redirectUri,
      code_challenge_method: 'S256',
    });
    expect(asked.scope.split(' ')).toContain('openid');
    const kept = JSON.parse(Buffer.from(one.kept.split('=')[1], 'base64url').toString());
    // RFC 7636, section 4.2: S256 is BASE64URL(SHA256(ASCII(code_verifier))).
    expect(createHash('sha256').update(kept.verifier).digest('base64url')).toBe(asked.code_challenge);
    expect([kept.state, kept.nonce]).toEqual([asked.state, asked.nonce]);
    for (const name of ['state', 'nonce', 'code_challenge'])
      expect(two.to.searchParams.get(name)).not.toBe(one.to.searchParams.get(name));
    expect(String(one.begun.headers['set-cookie'])).toMatch(
      /^__Host-caseback-sign-on=[\w-]+; Path=\/; HttpOnly; Secure; SameSite=Lax; Max-Age=600$/u,
    );
    expect(one.to.href).not.toContain(CLIENT.secret);
  });

  test.each([true, false])(
    'makes the account, whose name is the journal’s actor (groups in the ID token: %s)',
    async (inIdToken) => {
      issuer.inIdToken = inIdToken;
      issuer.person = {
        sub: `made-${inIdToken}`,
        preferred_username: `maker-${inIdToken}`,
        name: 'A Maker',
        groups: ['x', 'bench'],
      };
      const { response, session } = await signOn();
      expect([response.statusCode, response.headers.location]).toEqual([303, '/docs']);
      const said = await ask(
        session,
        `mutation { recordObservation(input: { specimen: "tarn-sennit-1/a", observation: { id: "seen-${inIdToken}", about: ["U1"], kind: APPEARANCE, text: "Matt." }, reason: "r" }) { entry { actor } } }`,
      );
      expect(said.data.recordObservation.entry.actor).toBe(`maker-${inIdToken}`);
      expect(await served.accounts.person(`maker-${inIdToken}`)).toMatchObject({
        role: 'contributor',
        displayName: 'A Maker',
        subject: `${issuer.url.origin} made-${inIdToken}`,
      });
    },
  );

  test('knows a person by issuer and subject (section 5.7), and takes the role from the groups each time', async () => {
    issuer.person = { sub: 'u2', preferred_username: 'bea', groups: ['desk', 'bench'] };
    await signOn();
    expect((await served.accounts.person('bea')).role).toBe('editor');
    issuer.person = { sub: 'u2', preferred_username: 'somebody-else', groups: ['bench'] };
    const { response } = await signOn();
    expect(response.statusCode).toBe(303);
    expect((await served.accounts.person('bea')).role).toBe('contributor');
    expect((await served.accounts.people()).map(({ name }) => name)).not.toContain('somebody-else');
  });

  test('lets nobody in without a role, with the name of another, or disabled', async () => {
    const cases = [
      [{ sub: 'u3', preferred_username: 'cat', groups: ['visitors'] }, 'none of the groups'],
      [{ sub: 'u3', preferred_username: 'cat' }, 'none of the groups'],
      [{ sub: 'u4', groups: ['desk'] }, 'tells no name'],
      [{ sub: 'u5', preferred_username: 'Administrator', groups: ['chiefs'] }, 'is the name of an account'],
      [{ sub: 'u6', preferred_username: 'BEA', groups: ['chiefs'] }, 'is the name of an account'],
      [{ sub: 'u7', preferred_username: 'demo', groups: ['chiefs'] }, 'name of the demo archive'],
    ] as const;
    for (const [person, said] of cases) {
      issuer.person = person;
      const { response, session } = await signOn();
      expect([response.statusCode >= 400, session]).toEqual([true, '']);
      expect(response.body).toContain(said);
    }
    await served.accounts.disable('bea');
    issuer.person = { sub: 'u2', preferred_username: 'bea', groups: ['chiefs'] };
    expect((await signOn()).response.body).toContain('this account is disabled');
    await served.accounts.remove('bea');
    expect((await signOn()).response.body).toContain('this account is disabled');
  });

  test('accepts only the answer to what this very browser asked', async () => {
    issuer.person = { sub: 'u8', preferred_username: 'dora', groups: ['desk'] };
    const altered = (back: URL, change: (query: URLSearchParams) => void) => {
      const url = new URL(back);
      change(url.searchParams);
      return url;
    };
    const rewritten = (kept: string, change: object) => {
      const read = JSON.parse(Buffer.from(kept.split('=')[1], 'base64url').toString());
      return `${kept.split('=')[0]}=${Buffer.from(JSON.stringify({ ...read, ...change })).toString('base64url')}`;
    };
    const other = await away();
    const attempts: readonly ((back: URL, kept: string) => ReturnType<typeof comeBack>)[] = [
      (back) => comeBack(back, ''),
      (back) => comeBack(back, other.kept),
      (back) => comeBack(back, '__Host-caseback-sign-on=e30'),
      (back, kept) =>
        comeBack(
          altered(back, (query) => query.set('state', 'x')),
          kept,
        ),
      (back, kept) =>
        comeBack(
          altered(back, (query) => query.delete('state')),
          kept,
        ),
      (back, kept) =>
        comeBack(
          altered(back, (query) => query.set('code', 'x')),
          kept,
        ),
      // RFC 9207: an answer of another issuer (mix-up).
      (back, kept) =>
        comeBack(
          altered(back, (query) => query.set('iss', 'https://other.example')),
          kept,
        ),
      (back, kept) => comeBack(back, rewritten(kept, { nonce: 'n'.repeat(43) })),
      (back, kept) => comeBack(back, rewritten(kept, { verifier: 'v'.repeat(43) })),
      (back, kept) =>
        comeBack(
          altered(back, (query) => {
            query.delete('code');
            query.set('error', 'access_denied');
          }),
          kept,
        ),
    ];
    for (const [i, attempt] of attempts.entries()) {
      const { back, kept } = await away();
      const response = await attempt(back, kept);
      expect([i, response.statusCode, cookieOf(response, '__Host-caseback-session')]).toEqual([i, 403, '']);
      expect(response.body).not.toContain(back.searchParams.get('code'));
    }
    // A code is used once (RFC 6749, section 4.1.2).
    const { back, kept } = await away();
    expect((await comeBack(back, kept)).statusCode).toBe(303);
    expect((await comeBack(back, kept)).statusCode).toBe(403);
  });

  test('begins on our own page alone, and leads on to nowhere else', async () => {
    const foreign = await get('/sign-in/single', { 'sec-fetch-site': 'cross-site' });
    expect(foreign.statusCode).toBe(403);
    issuer.person = { sub: 'u9', preferred_username: 'eve', groups: ['desk'] };
    const { back, kept } = await away('https://example.org/');
    expect((await comeBack(back, kept)).headers.location).toBe('/');
    expect((await get('/sign-in')).body).toContain('href="/sign-in/single?next=');
  });

  test('ends a session of the same browser, and tells the log no code', async () => {
    issuer.person = { sub: 'u9', preferred_username: 'eve', groups: ['desk'] };
    const before = (await served.accounts.signIn(served.tokens.reader))?.secret ?? '';
    const { back, kept } = await away();
    await comeBack(back, `${kept}; __Host-caseback-session=${before}`);
    expect(await served.accounts.session(before)).toBeUndefined();
    expect(lines.join('')).not.toContain(back.searchParams.get('code'));
    expect(lines.join('')).not.toContain(CLIENT.secret);
  });
});

test('an issuer out of reach is said to be, and tried again', async () => {
  const signOn = new SignOn({
    issuer: new URL('http://127.0.0.1:1'),
    clientId: 'c',
    clientSecret: 's',
    redirectUri: new URL(CLIENT.redirectUri),
    roles: ROLES,
    allowInsecureLoopback: true,
  });
  for (let i = 0; i < 2; i++) await expect(signOn.begin()).rejects.toMatchObject({ code: 'UNAVAILABLE' });
});

test('is set up by the surroundings, and only with TLS', () => {
  const own = new URL('https://caseback.example');
  const whole = {
    OIDC_ISSUER: 'https://id.example',
    OIDC_CLIENT_ID: 'caseback',
    OIDC_CLIENT_SECRET: 'of-the-client',
    OIDC_ROLES: 'desk=editor',
  };
  expect(signOnFrom({}, own)).toBeUndefined();
  expect(signOnFrom(whole, own)).toBeInstanceOf(SignOn);
  for (const [changes, said] of [
    [{ OIDC_CLIENT_SECRET: '' }, 'OIDC_CLIENT_SECRET is missing'],
    [{ OIDC_ROLES: undefined }, 'OIDC_ROLES is missing'],
    [{ OIDC_ROLES: 'desk=king' }, 'not a group with its role'],
    [{ OIDC_ISSUER: 'id.example' }, 'must be an https address'],
    [{ OIDC_ISSUER: 'http://id.example' }, 'must be an https address'],
    // Not by accident either: what tests allow is no variable.
    [{ OIDC_ISSUER: 'http://127.0.0.1:9' }, 'must be an https address'],
  ] as const)
    expect(() => signOnFrom({ ...whole, ...changes }, own)).toThrow(said);
});
