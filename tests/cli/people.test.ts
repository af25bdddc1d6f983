import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { addressOf, caseback, ended, Folder, start } from './running.ts';

const folder = new Folder(FILES);
const cwd = folder.path;
const run = (...args: string[]) => caseback(args, { cwd });
beforeAll(async () => {
  await run('create-archive', '--without-patterns');
  await run('import', 'catalogue.yaml', 'band-1.yaml', '--reason', 'opened');
});
afterAll(() => folder.remove());

test('people are added, changed, disabled and removed; the list shows them', async () => {
  expect((await run('people')).out).toBe('(no rows)\n');
  expect((await run('people', 'add', 'A. Bench', '--role', 'editor')).code).toBe(0);
  expect((await run('people', 'add', 'a. bench', '--role', 'reader')).err).toContain(
    'has an account already',
  );
  await run('people', 'change', 'A. Bench', '--role', 'contributor', '--display-name', 'Ada');
  await run('people', 'disable', 'A. Bench');
  const listed = JSON.parse((await run('people', '--format', 'json')).out);
  expect(listed).toMatchObject([
    { name: 'A. Bench', displayName: 'Ada', role: 'contributor', state: 'disabled' },
  ]);
  await run('people', 'add', 'Gone', '--role', 'reader');
  await run('people', 'remove', 'Gone');
  const again = await run('people', 'add', 'Gone', '--role', 'reader');
  expect([again.code, again.err]).toEqual([1, expect.stringContaining('was removed')]);
  expect((await run('people', 'add', 'Gone', '--role', 'reader', '--returning')).code).toBe(0);
  expect((await run('people', 'list')).out).toMatch(
    /A\. Bench .*contributor +disabled.*Gone .*reader +enabled/su,
  );
});

test('mistakes name the fix', async () => {
  const cases: readonly (readonly [string[], number, RegExp])[] = [
    [['people', 'ad', 'x'], 2, /did you mean "add"/u],
    [['people', 'add'], 2, /NAME is missing/u],
    [['people', 'add', 'X'], 2, /--role is missing/u],
    [['people', 'add', 'X', '--role', 'king'], 2, /--role is "king"/u],
    [['people', 'list', '--role', 'reader'], 2, /--role goes with/u],
    [['people', 'disable', 'Nobody'], 1, /nobody of the name "Nobody"/u],
    [['tokens', 'make', 'Nobody'], 1, /nobody of the name/u],
    [['tokens', 'make', 'Gone', '--days', '400'], 2, /1 to 366/u],
    [['tokens', 'revoke', 'no-such'], 1, /no token/u],
    [['tokens', 'revoke'], 2, /ID is missing/u],
    [['serve', '--audience', 'desk', '--host', '0.0.0.0'], 2, /goes with an address of this machine alone/u],
    [['serve', '--audience', 'desk', '--require-sign-in'], 2, /does not go with/u],
    [['serve', '--public-url', 'http://caseback.example'], 2, /--public-url/u],
    [['serve', '--public-url', 'https://caseback.example/x'], 2, /--public-url/u],
  ];
  for (const [args, code, said] of cases) {
    const ended = await run(...args);
    expect([args, ended.code, ended.err]).toEqual([args, code, expect.stringMatching(said)]);
  }
});

test('changes on this machine are in one name: the first that was written, and no other after it', async () => {
  const observe = (id: string, ...by: string[]) =>
    run(
      'observe',
      'ferrule-band-1/a',
      id,
      'appearance',
      '--about',
      'U1',
      '--text',
      'Matt.',
      '--reason',
      'r',
      ...by,
    );
  const actors = async () =>
    JSON.parse((await run('history', '--last', '2', '--format', 'json')).out).map(
      ({ actor }: { actor: string }) => actor,
    );
  expect((await observe('n1')).code).toBe(0);
  const first = await observe('n2', '--actor', 'I. Bench');
  expect(first.err).toContain(
    'From now on changes made on this machine are in the journal under the name I. Bench',
  );
  const other = await observe('n3', '--actor', 'A. Bench');
  expect([other.code, other.err]).toEqual([1, expect.stringContaining('under the name "I. Bench"')]);
  expect((await observe('n4')).code).toBe(0);
  expect(await actors()).toEqual(['I. Bench', 'I. Bench']);
  expect((await run('people', 'local')).out).toMatch(/^I\. Bench, since 20/u);
  expect((await run('people', 'local', 'Another')).code).toBe(1);
  const asked = await run(
    'ask',
    '--query',
    'mutation { recordObservation(input: { specimen: "ferrule-band-1/a", observation: { id: "n5", about: ["U1"], kind: APPEARANCE, text: "Matt." }, reason: "r" }) { entry { actor } } }',
  );
  expect(JSON.parse(asked.out).data.recordObservation.entry.actor).toBe('I. Bench');
  writeFileSync(join(cwd, 'data/local-account.json'), '{"name": 7}');
  const damaged = await observe('n6');
  expect([damaged.code, damaged.err]).toEqual([1, expect.stringContaining('does not say who works here')]);
  writeFileSync(join(cwd, 'data/local-account.json'), '{"name":"I. Bench","set":"2026-01-01T00:00:00.000Z"}');
});

test('a served archive lets in, and out again without a restart; tokens are in no file and no message', async () => {
  await run('people', 'add', 'E. Bench', '--role', 'editor');
  const made = await run('tokens', 'make', 'E. Bench', '--label', 'laptop', '--days', '2');
  const token = made.out.trim();
  expect([made.code, token, made.err]).toEqual([
    0,
    expect.stringMatching(/^caseback_[0-9A-Za-z]{49}$/u),
    expect.not.stringContaining(token),
  ]);
  const [{ id }] = JSON.parse((await run('tokens', 'list', 'E. Bench', '--format', 'json')).out);
  const child = start(['serve', '--port', '0', '--require-sign-in', '--access-log', 'access.log'], cwd);
  const end = ended(child);
  const address = await addressOf(child);
  const status = async (headers: Record<string, string> = {}) =>
    (await fetch(`${address}/graphql?query={archive{devices}}`, { headers })).status;
  const bearer = { authorization: `Bearer ${token}` };
  expect([await status(), await status(bearer)]).toEqual([401, 200]);
  const written = await fetch(`${address}/graphql`, {
    method: 'POST',
    headers: { ...bearer, 'content-type': 'application/json' },
    body: JSON.stringify({
      query:
        'mutation Seen { recordObservation(input: { specimen: "ferrule-band-1/a", observation: { id: "n9", about: ["U1"], kind: APPEARANCE, text: "Matt." }, reason: "r" }) { entry { actor } } }',
    }),
  });
  expect(await written.json()).toMatchObject({
    data: { recordObservation: { entry: { actor: 'E. Bench' } } },
  });
  await run('people', 'disable', 'E. Bench');
  expect(await status(bearer)).toBe(401);
  await run('people', 'enable', 'E. Bench');
  expect(await status(bearer)).toBe(200);
  await run('tokens', 'revoke', id);
  expect(await status(bearer)).toBe(401);
  // Rotated by the system.
  child.kill('SIGHUP');
  await pause(50);
  expect(await status()).toBe(401);
  child.kill('SIGTERM');
  const { out, err } = await end;
  const log = readFileSync(join(cwd, 'access.log'), 'utf8');
  expect(
    log
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line).status),
  ).toEqual([401, 200, 200, 401, 200, 401, 401]);
  expect(JSON.parse(log.split('\n')[2])).toMatchObject({ operation: 'Seen', who: 'E. Bench', by: 'token' });
  const files = readdirSync(join(cwd, 'data')).map((name) => readFileSync(join(cwd, 'data', name), 'latin1'));
  for (const text of [out, err, log, ...files]) expect(text).not.toContain(token.slice(9));
  // What was written stays under the name, whoever has gone.
  await run('people', 'remove', 'E. Bench');
  expect((await run('history', 'ferrule-band-1/a/n9')).out).toContain('E. Bench');
});

test('a name of the host that is not ours is refused off loopback too', async () => {
  const child = start(['serve', '--port', '0', '--host', '0.0.0.0', '--hosts', 'bench.example'], cwd);
  const end = ended(child);
  const port = new URL(await addressOf(child)).port;
  const { request } = await import('node:http');
  const status = (host: string) =>
    new Promise((resolve) =>
      request({ port, host: '127.0.0.1', path: '/livez', headers: { host } }, (response) => {
        response.resume();
        resolve(response.statusCode);
      }).end(),
    );
  expect([await status('bench.example'), await status('localhost'), await status('evil.example')]).toEqual([
    200, 200, 421,
  ]);
  child.kill('SIGTERM');
  await end;
});
