/** The file with the name of whoever works on this machine: damaged, it keeps changes from being made and nothing from being asked. */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeEach, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { addressOf, caseback, ended, Folder, start } from './running.ts';

const folder = new Folder(FILES);
const FILE = join(folder.path, 'data', 'local-account.json');
const run = (...args: string[]) => caseback([...args, '--data', 'data'], { cwd: folder.path });
afterAll(() => folder.remove());
beforeEach(async () => {
  rmSync(join(folder.path, 'data'), { recursive: true, force: true });
  const made = await run('import', 'catalogue.yaml', 'band-1.yaml', '--actor', 'I. Bench');
  expect(made.code).toBe(0);
  expect(JSON.parse(readFileSync(FILE, 'utf8'))).toMatchObject({ name: 'I. Bench' });
});

const QUESTION = '{ devices { totalCount } }';
const CHANGE = 'mutation { recall(input: { id: "ferrule-band-1", reason: "test" }) { ids } }';

const DAMAGES: readonly (readonly [string, () => void, string])[] = [
  ['is empty', () => writeFileSync(FILE, ''), 'is empty'],
  ['was cut', () => writeFileSync(FILE, '{"name": "I. Be'), 'does not say who works here'],
  [
    'has a name that is none',
    () => writeFileSync(FILE, '{"name": "", "set": "2026-01-31T09:00:00Z"}'),
    'has a name that cannot be one',
  ],
  [
    'is a folder',
    () => {
      rmSync(FILE);
      mkdirSync(FILE);
    },
    'cannot be read (EISDIR)',
  ],
];

test.each(DAMAGES)(
  'that %s: questions are answered, changes refused, and doctor names it',
  async (...[, harm, says]) => {
    harm();
    const asked = await run('ask', '--query', QUESTION);
    expect(asked).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(asked.out)).toEqual({ data: { devices: { totalCount: 1 } } });

    const changed = await run('ask', '--query', CHANGE);
    expect(changed.code).toBe(1);
    const [error] = JSON.parse(changed.out).errors;
    expect(error.extensions.code).toBe('UNAVAILABLE');
    expect(error.message).toContain('local-account.json');
    expect(error.message).toContain('delete it');
    const recalled = await run('recall', 'ferrule-band-1', '--reason', 'test');
    expect(recalled.code).not.toBe(0);
    expect(recalled.err).toContain(`local-account.json ${says}`);

    const { code, out } = await run('doctor', '--format', 'json');
    expect(code).toBe(3);
    const { findings } = JSON.parse(out) as {
      findings: { about: string; standing: string; says: string; fix: string }[];
    };
    const [account] = findings.filter(({ about }) => about === 'account');
    expect(account).toMatchObject({ standing: 'wrong' });
    expect(account?.says).toContain(join('data', `local-account.json ${says}`));
    expect(account?.fix).toContain('caseback people local NAME');
    expect(findings.filter(({ standing }) => standing === 'wrong')).toHaveLength(1);

    // The fix does what it says.
    rmSync(FILE, { recursive: true });
    expect((await run('people', 'local', 'I. Bench')).code).toBe(0);
    expect((await run('doctor')).out).toContain('Nothing is wrong.');
    expect((await run('ask', '--query', CHANGE)).code).toBe(0);
  },
);

test('a desk is served all the same', async () => {
  writeFileSync(FILE, '');
  const child = start(['serve', '--port', '0', '--data', 'data', '--audience', 'desk'], folder.path);
  const end = ended(child);
  const address = await addressOf(child);
  const ask = async (query: string) => {
    const headers = { 'content-type': 'application/json' };
    const answer = await fetch(`${address}/graphql`, {
      method: 'POST',
      headers,
      body: JSON.stringify({ query }),
    });
    return answer.json() as Promise<unknown>;
  };
  expect(await ask(QUESTION)).toMatchObject({ data: { devices: { totalCount: 1 } } });
  expect(await ask(CHANGE)).toMatchObject({ errors: [{ extensions: { code: 'UNAVAILABLE' } }] });
  expect(await (await fetch(`${address}/sign-in`)).text()).toContain('local-account.json');
  child.kill('SIGTERM');
  expect((await end).err).toContain('questions are answered and changes refused');
});
