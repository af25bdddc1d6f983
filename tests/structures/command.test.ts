import { setImmediate } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { caseback, Folder } from '../cli/running.ts';

const folder = new Folder();
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
/** What readers see: 42 of the 44 devices. */
const READERS = ['--audience', 'reader'] as const;

beforeAll(() => run('import', fileURLToPath(new URL('../../seed-data', import.meta.url))));
afterAll(() => folder.remove());

test('a table of structures, cautions separate', async () => {
  const { code, out, err } = await run('structures', '--first', '6', ...READERS);
  expect(code).toBe(0);
  expect(out).toMatch(/^no +devices +share +95 % +lift +points a year +q +variants +known as +structure\n/u);
  expect(out.trim().split('\n')).toHaveLength(8);
  expect(err).toMatch(/closed structures in at least 5 of 42 devices; 6 shown/u);
  expect(err).toMatch(/caution: These are the 42 devices/u);
});

test('CSV at full precision, with the pattern; the pattern finds at least the devices of its row', async () => {
  const rows = parse(
    (await run('structures', '--order', 'support', '--first', '3', '--format', 'csv', ...READERS)).out,
    {
      columns: true,
    },
  ) as Record<string, string>[];
  expect(rows).toHaveLength(3);
  for (const row of rows) {
    const ids = row['device ids'].split('; ');
    expect(ids).toHaveLength(Number(row.devices));
    expect(Number(row.share)).toBeCloseTo(Number(row.devices) / 42, 12);
    expect(Number(row.possible)).toBeGreaterThanOrEqual(ids.length);
  }
});

test('a structure in full, and saved under a name: journaled, found by its name, refused a second time', async () => {
  const full = (await run('structures', '--first', '2', '--number', '2', ...READERS)).out;
  expect(full).toMatch(/\nby chance .*\nby year .*\nknown as .*\nfound in .*\n\nMATCH /u);
  const save = [
    ...[
      'structures',
      ...READERS,
      '--first',
      '2',
      '--save',
      'found-by-counting',
      '--number',
      '2',
      '--name',
      'Found by counting',
    ],
    ...['--because', 'One supply for both.', '--actor', 'A. Bench', '--reason', 'to be looked into'],
  ];
  const saved = await run(...save);
  expect(saved.err).toMatch(/"Found by counting" saved as found-by-counting, journal entry \d+/u);
  expect(full).toContain(saved.out.trim());
  const history = (await run('history')).out;
  expect(history).toMatch(/A\. Bench/u);
  expect(history).toMatch(/to be looked into/u);
  const devices = /devices +(\d+) of 42/u.exec(full)?.[1];
  const asked = await run(
    'ask',
    '--query',
    '{ findPattern(id: "found-by-counting", first: 100) { nodes { isCertain } } pattern(id: "found-by-counting") { reasons } }',
  );
  const { findPattern, pattern } = JSON.parse(asked.out).data;
  expect(findPattern.nodes.length).toBeGreaterThanOrEqual(Number(devices));
  expect(pattern.reasons).toEqual(['One supply for both.']);
  const again = await run(...save);
  expect([again.code, again.err]).toEqual([1, expect.stringMatching(/choose another id/u)]);
});

test('Ctrl-C ends the search, shows what was found and says that it is incomplete', async () => {
  const before = new Set(process.listeners('SIGINT'));
  // A search that takes minutes.
  const size = ['--min-support', '2', '--min-size', '3', '--max-size', '8'];
  const search = run('structures', ...size, '--first', '3');
  const listener = () => process.listeners('SIGINT').find((one) => !before.has(one));
  while (!listener()) await setImmediate();
  // Each turn of the event loop is one of the search, too; this many read the archive and find the first structures.
  for (let turns = 0; turns < 150; turns++) await setImmediate();
  listener()?.('SIGINT');
  const { code, out, err } = await search;
  expect(code).toBe(0);
  expect(out).toMatch(/^no +devices/u);
  expect(err).toMatch(/ended early/u);
  expect(process.listeners('SIGINT')).toEqual([...before]);
});

test.each([
  [['--min-support', '1'], 2, /--min-support is "1"/u],
  [['--min-size', '3-5'], 2, /--min-size is "3-5"; it must be a whole number from 2 to 8/u],
  [['--min-size', '5', '--max-size', '3'], 2, /--min-size is 5 and --max-size 3/u],
  [['--order', 'size'], 2, /surprise, lift, support, year/u],
  [['--without', 'Pasive'], 1, /did you mean "Passive"/u],
  [['--save', 'x'], 2, /--number N/u],
  [['--name', 'x'], 2, /--name goes with --save/u],
  [['--number', '1', '--save', 'x', '--as-of', '2020-01-01'], 2, /--save does not go with --as-of/u],
  [['--number', '200'], 1, /has no number 200/u],
])('%j is refused', async (words, expected, why) => {
  const { code, err } = await run('structures', ...words);
  expect(err).toMatch(why);
  expect(code).toBe(expected);
});
