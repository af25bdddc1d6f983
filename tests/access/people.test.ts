import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Answer, serve } from '../service/serving.ts';
import { type ServedPeople, servePeople } from './people-served.ts';

let served: ServedPeople;
beforeAll(async () => {
  served = await servePeople();
});
afterAll(() => served.close());

async function ask(token: string | undefined, query: string, variables?: object): Promise<Answer> {
  const response = await served.app.inject({
    method: 'POST',
    url: '/graphql',
    headers: {
      accept: 'application/graphql-response+json',
      ...(token === undefined ? {} : { authorization: `Bearer ${token}` }),
    },
    payload: { query, variables },
  });
  return response.json() as Answer;
}

const ME = '{ me { name displayName role expires isLocal } }';

describe('me', () => {
  test('is whoever a token was made for, with the end of the token', async () => {
    const [{ expires }] = await served.accounts.tokens('editor');
    // As written, and compiled.
    for (let i = 0; i < 4; i++)
      expect(await ask(served.tokens.editor, ME)).toEqual({
        data: { me: { name: 'editor', displayName: null, role: 'EDITOR', expires, isLocal: false } },
      });
    expect((await ask(served.tokens.contributor, ME)).data.me.name).toBe('contributor');
  });

  test('is a reader without a name for a visitor', async () => {
    expect((await ask(undefined, ME)).data.me).toEqual({
      name: null,
      displayName: null,
      role: 'READER',
      expires: null,
      isLocal: false,
    });
  });

  test('ends with the session', async () => {
    const begun = await served.accounts.signIn(served.tokens.reader);
    const response = await served.app.inject({
      method: 'POST',
      url: '/graphql',
      headers: {
        host: 'localhost',
        origin: 'http://localhost',
        cookie: `__Host-caseback-session=${begun?.secret}`,
      },
      payload: { query: '{ me { name expires } }' },
    });
    const { name, expires } = response.json().data.me;
    expect(name).toBe('reader');
    // Eight hours without use, as the guide has it; far ahead of the token's 90 days.
    const left = Date.parse(expires) - Date.now();
    expect([left > 7.9 * 3_600_000, left <= 8 * 3_600_000]).toEqual([true, true]);
  });

  test('is the account of the machine at a desk', async () => {
    const desk = await serve({ audience: 'desk', access: { local: { name: 'I. Bench', role: 'editor' } } });
    expect((await desk.ask(ME)).me).toEqual({
      name: 'I. Bench',
      displayName: null,
      role: 'EDITOR',
      expires: null,
      isLocal: true,
    });
    await desk.close();
  });
});

const PEOPLE =
  'query ($after: String) { people(first: 3, after: $after) { totalCount pageInfo { hasNextPage endCursor } nodes { name role state tokens { id label expires } } } }';

describe('people', () => {
  test('are listed for administrators, with their tokens and nothing secret', async () => {
    const { secret, token } = await served.accounts.makeToken('editor', { label: 'laptop', days: 2 });
    const first = await ask(served.tokens.administrator, PEOPLE);
    expect(first.data.people).toMatchObject({
      totalCount: 4,
      pageInfo: { hasNextPage: true },
      nodes: [{ name: 'administrator' }, { name: 'contributor' }, { name: 'editor', role: 'EDITOR' }],
    });
    expect(first.data.people.nodes[2].tokens).toContainEqual({
      id: token.id,
      label: 'laptop',
      expires: token.expires,
    });
    expect(first.data.people.nodes[2].tokens.length).toBe((await served.accounts.tokens('editor')).length);
    const rest = await ask(served.tokens.administrator, PEOPLE, {
      after: first.data.people.pageInfo.endCursor,
    });
    expect(rest.data.people).toMatchObject({ pageInfo: { hasNextPage: false }, nodes: [{ name: 'reader' }] });
    for (const part of [secret.slice(9), /[0-9a-f]{64}/u])
      expect(JSON.stringify([first, rest])).not.toMatch(part);
  });

  test('are nothing to others, who are told the same whether or not somebody is there', async () => {
    for (const token of [undefined, served.tokens.reader, served.tokens.contributor, served.tokens.editor]) {
      const { data, errors } = await ask(token, PEOPLE);
      expect([data.people, errors?.[0].extensions.code]).toEqual([null, 'NOT_ALLOWED']);
      const disable = (name: string) =>
        ask(
          token,
          'mutation ($name: String!) { disablePerson(input: { name: $name }) { person { name } } }',
          {
            name,
          },
        );
      const revoke = (id: string) =>
        ask(token, 'mutation ($id: ID!) { revokeToken(input: { id: $id }) { id } }', { id });
      const [{ id }] = await served.accounts.tokens('administrator');
      const refusal = async (answer: Promise<Answer>) =>
        (await answer).errors?.map(({ message, extensions }) => [message, extensions.code]);
      expect(await refusal(disable('administrator'))).toEqual(await refusal(disable('no one')));
      expect(await refusal(revoke(id))).toEqual(await refusal(revoke('none')));
      expect((await refusal(revoke(id)))?.[0][1]).toBe(token === undefined ? 'SIGNED_OUT' : 'NOT_ALLOWED');
    }
    expect((await served.accounts.person('administrator')).state).toBe('enabled');
    expect(await served.accounts.bearer(served.tokens.administrator)).toBeDefined();
  });
});

describe('an administrator', () => {
  test('revokes a token at once', async () => {
    const { secret, token } = await served.accounts.makeToken('editor');
    expect((await ask(secret, ME)).data.me.name).toBe('editor');
    const revoke = `mutation { revokeToken(input: { id: "${token.id}" }) { id } }`;
    expect((await ask(served.tokens.administrator, revoke)).data).toEqual({ revokeToken: { id: token.id } });
    expect((await ask(secret, ME)).errors?.[0].extensions.code).toBe('SIGNED_OUT');
    expect((await ask(served.tokens.administrator, revoke)).errors?.[0].extensions.code).toBe('NOT_FOUND');
  });

  test('disables an account at once', async () => {
    await served.accounts.add('Going Soon', { role: 'editor' });
    const { secret } = await served.accounts.makeToken('Going Soon');
    const begun = await served.accounts.signIn(secret);
    const { data } = await ask(
      served.tokens.administrator,
      'mutation { disablePerson(input: { name: "going soon" }) { person { name state tokens { id } } } }',
    );
    expect(data.disablePerson.person).toMatchObject({
      name: 'Going Soon',
      state: 'DISABLED',
      tokens: [{}],
    });
    expect((await ask(secret, ME)).errors?.[0].extensions.code).toBe('SIGNED_OUT');
    expect(await served.accounts.session(begun?.secret ?? '')).toBeUndefined();
  });
});
