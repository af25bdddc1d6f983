import type { ChildProcess } from 'node:child_process';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sharedSchema } from '../postgres/shared.ts';
import { addressOf, caseback, ended, Folder, start } from './running.ts';

// The archive of a newsroom: in a database that DATABASE_URL names, asked by every command and served by several services.

let schema: Awaited<ReturnType<typeof sharedSchema>>;
let env: { readonly DATABASE_URL: string };
const folder = new Folder({
  'makers.yaml':
    'caseback: catalogue/1\nmakers: [{ id: arlen, name: Arlen, makes: [parts], invented: true }]\n',
  'parts.yaml':
    'caseback: catalogue/1\nparts: [{ maker: arlen, number: AR1, categories: [Accelerometer] }, { maker: arlen, number: AR2, categories: [Gyroscope] }]\n',
});
const run = (...args: string[]) => caseback(args, { cwd: folder.path, env });

beforeAll(async () => {
  schema = await sharedSchema();
  const address = new URL(schema.url);
  address.password = 'hush-hush';
  env = { DATABASE_URL: address.href };
});
afterAll(async () => {
  await schema.drop();
  folder.remove();
});

test('before there is an archive commands say so, a dry run leaves nothing behind, and the password stays unsaid', async () => {
  const before = await run('verify');
  expect(before.code).not.toBe(0);
  expect(before.err).toContain('has no archive');
  const dry = await run('import', 'makers.yaml', '--dry-run', '--actor', 'A', '--reason', 'r');
  expect([dry.code, dry.err]).toEqual([
    0,
    expect.stringContaining('This would begin an archive of your own in the database'),
  ]);
  const still = await run('verify');
  expect(still.err).toContain('has no archive');
  expect([before, dry, still].map(({ out, err }) => out + err).join()).not.toContain('hush');
});

test('an import makes it; questions, history and verify read it; --data and --demo name another archive', async () => {
  const made = await run('import', 'makers.yaml', '--actor', 'A. Bench', '--reason', 'first');
  expect([made.code, made.err]).toEqual([
    0,
    expect.stringContaining('This begins an archive of your own in the database'),
  ]);
  // The first name written is that of this machine, as with an archive in a folder; the dry run before kept none.
  expect(made.err).toContain('under the name A. Bench');
  const another = await run('import', 'parts.yaml', '--actor', 'Another', '--reason', 'parts');
  expect([another.code, another.err]).toEqual([1, expect.stringContaining('"A. Bench"')]);
  expect((await run('import', 'parts.yaml', '--reason', 'parts')).code).toBe(0);
  expect((await run('history', '--last', '1')).out).toContain('A. Bench');
  const asked = await run('ask', '--query', '{ part(id: "arlen/AR1") { number } }');
  expect(asked.err).toBe('');
  expect(JSON.parse(asked.out).data).toEqual({ part: { number: 'AR1' } });
  expect((await run('history', '--last', '1')).out).toContain('record-put arlen/AR2  parts');
  const verified = JSON.parse((await run('verify', '--format', 'json')).out);
  expect(verified).toMatchObject({ intact: true });
  const elsewhere = await run('verify', '--data', 'other');
  expect(elsewhere.err).toContain('other has no archive');
  expect((await run('create-archive')).err).toContain('has an archive already');
});

test('two services on it see what the other and the command line write', async () => {
  const children: ChildProcess[] = [];
  try {
    for (let i = 0; i < 2; i++)
      children.push(start(['serve', '--port', '0', '--audience', 'desk'], folder.path, env));
    const addresses = await Promise.all(children.map(addressOf));
    const ask = async (address: string, query: string, headers: Record<string, string> = {}) => {
      const response = await fetch(`${address}/graphql`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', ...headers },
        body: JSON.stringify({ query }),
      });
      return {
        ...((await response.json()) as { data: unknown; errors?: unknown }),
        state: response.headers.get('caseback-state') ?? '',
      };
    };
    const file = JSON.stringify(
      'caseback: catalogue/1\nparts: [{ maker: arlen, number: AR3, categories: [Microphone] }]\n',
    );
    const put = await ask(
      addresses[0],
      `mutation { importDossier(input: { reason: "by HTTP", files: [{ name: "a.yaml", text: ${file} }] }) { entries } }`,
    );
    expect(put).toMatchObject({ data: { importDossier: { entries: 1 } } });
    const part = (number: string) => `{ part(id: "arlen/${number}") { number } }`;
    const seen = await ask(addresses[1], part('AR3'), { 'caseback-state': put.state });
    expect(seen.data).toEqual({ part: { number: 'AR3' } });
    folder.write(
      'more.yaml',
      'caseback: catalogue/1\nparts: [{ maker: arlen, number: AR4, categories: [Microphone] }]\n',
    );
    expect((await run('import', 'more.yaml', '--actor', 'A. Bench', '--reason', 'more')).code).toBe(0);
    // Both follow by themselves.
    for (const address of addresses)
      while (
        (await ask(address, part('AR4'))).data === null ||
        JSON.stringify((await ask(address, part('AR4'))).data) === '{"part":null}'
      );
  } finally {
    for (const child of children) child.kill('SIGTERM');
    await Promise.all(children.map(ended));
  }
});
