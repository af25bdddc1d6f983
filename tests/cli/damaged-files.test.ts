import {
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';
import { FILES } from './invented.ts';
import { caseback, type Ended, Folder } from './running.ts';

// Bits flipped, stretches overwritten, files cut, emptied and removed, at random places of everything that lies in a data folder: the
// archive answers as before, or refuses with a clear word. CASEBACK_DAMAGE_ROUNDS=300 for the long trial.
const ROUNDS = Number(process.env.CASEBACK_DAMAGE_ROUNDS ?? 12);

const FEED = JSON.stringify({
  caseback: 'catalogue/1',
  feeds: [{ id: 'names', title: 'Devices', question: '{ devices { nodes { name released } } }' }],
});
/** What lies in the folder of an archive that is used for all that it can do. */
const NAMES = [
  'accounts.sqlite',
  'journal.head.json',
  'journal.sqlite',
  'local-account.json',
  'snapshot',
  'webhooks.sqlite',
] as const;

const QUESTION =
  '{ devices { nodes { id name released } } specimen(id: "ferrule-band-1/a") { components { nodes { id marking } } observations(first: 9) { nodes { id text marking } } } }';
/** Questions to the archive: of these no answer may change. */
const ASKED: readonly (readonly string[])[] = [
  ['ask', '--query', QUESTION],
  ['ask', '--query', QUESTION, '--audience', 'reader'],
  ['ask', '--feed', 'names'],
  ['candidates', 'ferrule-band-1/a/U1'],
];
/** Of what no hash is kept; they answer, or say that they cannot. */
const BESIDE: readonly (readonly string[])[] = [
  ['webhooks'],
  ['people', 'list'],
  ['people', 'local'],
  ['doctor'],
];

const folder = new Folder({ ...FILES, 'feed.json': FEED });
const env = { WEBHOOK_HTTP: 'http://127.0.0.1:9', WEBHOOK_RANGES: '127.0.0.1' };
const run = (args: readonly string[], data: string) =>
  caseback([...args, '--data', data], { cwd: folder.path, env });
const at = (...names: string[]) => join(folder.path, ...names);
let whole: readonly Ended[];

beforeAll(async () => {
  for (const args of [
    ['import', 'catalogue.yaml', 'band-1.yaml', 'band-2.yaml', 'feed.json', '--actor', 'I. Bench'],
    ['people', 'add', 'other', '--role', 'editor'],
    ['webhooks', 'add', 'names', '--address', 'http://127.0.0.1:9/hook'],
  ])
    expect(await run(args, 'data')).toMatchObject({ code: 0 });
  const journal = new SqliteJournal(at('data', 'journal.sqlite'));
  const archive = await Archive.open(journal, undefined, {
    file: at('data', 'snapshot'),
    ahead: [],
    onUnusable: () => undefined,
  });
  expect(await archive.saveSnapshot(['desk', 'reader'])).toBe(true);
  await archive.close();
  expect(readdirSync(at('data')).sort()).toEqual([...NAMES]);
  const answers: Ended[] = [];
  for (const args of ASKED) answers.push(await run(args, 'data'));
  whole = answers;
  for (const one of whole) expect(one).toMatchObject({ code: 0 });
});
afterAll(() => folder.remove());

/** Harms one file; says how. */
function harm(file: string, random: () => number): string {
  const under = (limit: number) => Math.floor(random() * limit);
  const bytes = readFileSync(file);
  const place = under(bytes.length);
  switch (under(6)) {
    case 0:
      rmSync(file);
      return 'removed';
    case 1:
      truncateSync(file, place);
      return `cut to ${place} bytes`;
    case 2:
      truncateSync(file);
      return 'emptied';
    case 3: {
      const end = Math.min(bytes.length, place + 1 + under(300));
      for (let i = place; i < end; i++) bytes[i] = under(256);
      writeFileSync(file, bytes);
      return `overwritten from ${place} to ${end}`;
    }
    default: {
      const bit = under(8);
      bytes[place] = (bytes[place] as number) ^ (1 << bit);
      writeFileSync(file, bytes);
      return `bit ${bit} of byte ${place} flipped`;
    }
  }
}

function mustBeClear({ code, err }: Ended, said: string): void {
  expect([1, 3], said).toContain(code);
  expect(err, said).toMatch(/^caseback /mu);
  expect(err, said).not.toMatch(/^\s+at /mu);
}

test.each(NAMES)(
  '%s, damaged at random, changes no answer unnoticed',
  { timeout: 1_200_000 },
  async (name) => {
    const random = seededRandom(testSeed());
    for (let round = 0; round < Math.ceil(ROUNDS / NAMES.length) + 1; round++) {
      const trial = `trial-${round}`;
      rmSync(at(trial), { recursive: true, force: true });
      mkdirSync(at(trial));
      for (const one of NAMES) copyFileSync(at('data', one), at(trial, one));
      const said = `${name} ${harm(at(trial, name), random)}`;
      for (const [i, args] of ASKED.entries()) {
        const answer = await run(args, trial);
        const before = whole[i] as Ended;
        if (answer.code === before.code) expect(answer.out, `${said}: ${args.join(' ')}`).toBe(before.out);
        else {
          mustBeClear(answer, `${said}: ${args.join(' ')}: ${answer.err}`);
          expect(name, said).toMatch(/^journal/u);
        }
      }
      for (const args of BESIDE) {
        const answer = await run(args, trial);
        if (answer.code !== 0 && args[0] !== 'doctor')
          mustBeClear(answer, `${said}: ${args.join(' ')}: ${answer.err}`);
        expect([0, 1, 3], `${said}: ${args.join(' ')}: ${answer.err}`).toContain(answer.code);
      }
      rmSync(at(trial), { recursive: true });
    }
  },
);
