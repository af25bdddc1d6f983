import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { COMMANDS } from '../../src/cli/command-line.ts';
import { CHIP, chipPhoto } from '../photo-reading/chip-photo.ts';
import { FILES } from './invented.ts';
import { caseback, type Ended, Folder, headOf } from './running.ts';

// Whoever does not know whether a command was carried out runs it again under its key: it is done once, and the answer is the same.

const folder = new Folder(FILES);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const sequence = async (name: string) => (await headOf(join(folder.path, name))).sequence;
afterAll(() => folder.remove());
beforeAll(async () => {
  writeFileSync(join(folder.path, 'top.png'), await chipPhoto(['QWR', '482']));
  folder.write(
    'motion.yaml',
    'caseback: catalogue/1\npatterns: [{ id: motion, name: Motion, idea: It moves., text: "MATCH (a:Accelerometer) RETURN a", reasons: [Steps.], strength: 0.9 }]\n',
  );
  expect((await run('import', 'catalogue.yaml', 'band-1.yaml', 'band-2.yaml', 'motion.yaml')).err).toContain(
    'written',
  );
});

/** Changes in an order in which each can be made. */
const CHANGES: readonly (readonly string[])[] = [
  ['structures', '--min-support', '2', '--min-size', '2', '--number', '1', '--save', 'found-once'],
  ['observe', 'ferrule-band-1/a', 'again', 'appearance', '--about', 'U1', '--text', 'Matt.'],
  ['withdraw', 'ferrule-band-1/a/again'],
  [
    ...[
      'add-photo',
      'ferrule-band-1/a',
      'top',
      'top.png',
      '--credit',
      'I. Example',
      '--licence',
      'CC-BY-4.0',
    ],
    ...['--board', 'main', '--side', 'top', '--points', '5,95=0,0; 95,95=30,0; 95,5=30,20; 5,5=0,20'],
    ...['--regions', `U1=${CHIP.join(',')}`],
  ],
  ['change-photo', 'ferrule-band-1/a/top', '--caption', 'Top side'],
  ['record-measurement', 'ferrule-band-1/a/top', 'U1', 'body-size', 'u1-size'],
  ['confirm-reading', 'ferrule-band-1/a/U1', 'u1-read', 'QWR / 482'],
  ['identify', 'ferrule-band-1/a/J1', 'FlexConnector=0.7'],
  ['judge-identification', 'ferrule-band-1/a/U1', 'against', 'ombrous/OM100', '10'],
  ['judge-decision', 'ferrule-band-1:motion', 'doubted'],
  ['correct', 'withdraw', 'ferrule-band-2/a/o1'],
  ['recall', 'ferrule-band-2'],
  ['correct-clock', '1', '1', '2026-11-01T09:00:00Z'],
];

test('every command that writes to the journal takes a key', async () => {
  const taking: string[] = [];
  for (const [name, { load }] of Object.entries(COMMANDS))
    if ('reason' in (await load()).command.allOptions) taking.push(name);
  expect(taking.toSorted()).toEqual(
    [...CHANGES.map(([name]) => name), 'import', 'create-archive'].toSorted(),
  );
  for (const name of taking) expect((await COMMANDS[name]?.load())?.command.allOptions).toHaveProperty('key');
});

test.each(CHANGES.map((args) => [args[0] as string, args] as const))(
  '%s under a key is done once, and answers again as it did',
  async (_, args) => {
    const asked = [...args, '--reason', 'r', '--key', `key of ${args[0]}`];
    const before = await sequence('data');
    const first = await run(...asked);
    expect([first.code, first.err]).toEqual([0, expect.not.stringContaining('Error')]);
    const after = await sequence('data');
    expect(after).toBeGreaterThan(before);
    expect(await run(...asked)).toEqual(first);
    expect(await sequence('data')).toBe(after);
    const other = await run(...asked.slice(0, -3), 'another reason', ...asked.slice(-2));
    expect([other.code, other.err]).toEqual([1, expect.stringContaining('used for another change')]);
    expect(await sequence('data')).toBe(after);
  },
);

test('the import that made an archive, a further one and create-archive are done once', async () => {
  const answer = ({ code, out, err }: Ended) => [code, JSON.parse(out), err];
  for (const args of [
    ['import', 'catalogue.yaml', '--data', 'own', '--key', '1'],
    ['import', 'band-1.yaml', '--data', 'own', '--key', '2'],
    ['create-archive', '--data', 'blank', '--key', '3'],
  ]) {
    const data = args[args.indexOf('--data') + 1] as string;
    const dry = args[0] === 'import' ? await run(...args, '--dry-run') : undefined;
    expect(dry?.code ?? 0).toBe(0);
    const first = await run(...args, '--format', 'json');
    expect(first.code).toBe(0);
    const after = await sequence(data);
    expect(after).toBeGreaterThan(0);
    // Members of an object may stand in another order.
    expect(answer(await run(...args, '--format', 'json'))).toEqual(answer(first));
    expect(await sequence(data)).toBe(after);
  }
  // Another content of the same file is another change.
  const before = await sequence('own');
  folder.write('band-1.yaml', `${FILES['band-1.yaml']}# the same\n`);
  expect((await run('import', 'band-1.yaml', '--data', 'own', '--key', '2')).code).toBe(0);
  folder.write('band-1.yaml', (FILES['band-1.yaml'] as string).replace('Band 1', 'Band One'));
  const other = await run('import', 'band-1.yaml', '--data', 'own', '--key', '2');
  expect([other.code, other.err]).toEqual([1, expect.stringContaining('used for another change')]);
  expect(await sequence('own')).toBe(before);
});

test('what is not a key is refused, and nothing is made', async () => {
  for (const key of ['', 'x'.repeat(201), 'é'])
    expect(await run('import', 'catalogue.yaml', '--data', 'none', '--key', key)).toMatchObject({
      code: 2,
      err: expect.stringContaining('--key is not a key'),
    });
  expect(existsSync(join(folder.path, 'none', 'journal.sqlite'))).toBe(false);
});
