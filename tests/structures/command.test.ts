import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';

const folder = mkdtempSync(join(tmpdir(), 'caseback-recurring-'));
const main = join(import.meta.dirname, '../../src/cli/main.ts');
const run = (...words: string[]) =>
  spawnSync(process.execPath, [main, ...words, '--data', folder], { encoding: 'utf8' });

beforeAll(() => {
  run('import', fileURLToPath(new URL('../../seed-data', import.meta.url)));
});
afterAll(() => rmSync(folder, { recursive: true }));

test('a table of what recurs, cautions apart', () => {
  const { status, stdout, stderr } = run('recurring', '--first', '6');
  expect(status).toBe(0);
  expect(stdout).toMatch(
    /^no +devices +share +95 % +lift +points a year +q +variants +known as +structure\n/u,
  );
  expect(stdout.trim().split('\n')).toHaveLength(8);
  expect(stderr).toMatch(/closed structures in at least 5 of 41 devices; 6 shown/u);
  expect(stderr).toMatch(/caution: These are the 41 devices/u);
});

test('CSV at full precision, with the pattern; the pattern finds at least the devices of its row', () => {
  const rows = parse(run('recurring', '--order', 'support', '--first', '3', '--format', 'csv').stdout, {
    columns: true,
  }) as Record<string, string>[];
  expect(rows).toHaveLength(3);
  for (const row of rows) {
    const ids = row['device ids'].split('; ');
    expect(ids).toHaveLength(Number(row.devices));
    expect(Number(row.share)).toBeCloseTo(Number(row.devices) / 41, 12);
    expect(Number(row.possible)).toBeGreaterThanOrEqual(ids.length);
  }
});

test('one in full, and saved under a name: journaled, found by its name, refused a second time', () => {
  const full = run('recurring', '--first', '2', '--show', '2').stdout;
  expect(full).toMatch(/\nby chance .*\nby year .*\nknown as .*\nfound in .*\n\nMATCH /u);
  const save = [
    ...[
      'recurring',
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
  const saved = run(...save);
  expect(saved.stderr).toMatch(/"Found by counting" saved as found-by-counting, journal entry \d+/u);
  expect(full).toContain(saved.stdout.trim());
  const history = run('history').stdout;
  expect(history).toMatch(/A\. Bench/u);
  expect(history).toMatch(/to be looked into/u);
  const devices = /devices +(\d+) of 41/u.exec(full)?.[1];
  const asked = run(
    'ask',
    '--query',
    '{ findPattern(name: "found-by-counting", first: 100) { nodes { certain } } pattern(id: "found-by-counting") { reasons } }',
  );
  const { findPattern, pattern } = JSON.parse(asked.stdout).data;
  expect(findPattern.nodes.length).toBeGreaterThanOrEqual(Number(devices));
  expect(pattern.reasons).toEqual(['One supply for both.']);
  const again = run(...save);
  expect([again.status, again.stderr]).toEqual([1, expect.stringMatching(/choose another id/u)]);
});

/** Starts a search that takes minutes, and presses Ctrl-C after a while. */
async function interrupted(after: number) {
  const child = spawn(
    process.execPath,
    [main, 'recurring', '--at-least', '2', '--components', '3..8', '--first', '3', '--data', folder],
    { stdio: ['ignore', 'pipe', 'pipe'] },
  );
  let [stdout, stderr] = ['', ''];
  child.stdout.on('data', (text) => {
    stdout += text;
  });
  child.stderr.on('data', (text) => {
    stderr += text;
  });
  const ended = once(child, 'exit');
  await pause(after);
  child.kill('SIGINT');
  const [code] = await ended;
  return { code, stdout, stderr };
}

test('Ctrl-C ends the search, shows what was found and says that it is not all', async () => {
  // On a busy machine a short while may not even do for opening the archive.
  let answer = await interrupted(3_000);
  if (answer.code === null) answer = await interrupted(15_000);
  expect(answer.code).toBe(0);
  expect(answer.stdout).toMatch(/^no +devices/u);
  expect(answer.stderr).toMatch(/ended early/u);
});

test.each([
  [['--at-least', '1'], 2, /--at-least is "1"/u],
  [['--components', '3-5'], 2, /write for example 3\.\.5/u],
  [['--components', '5..3'], 2, /from 2 to 8/u],
  [['--order', 'size'], 2, /surprise, lift, support, year/u],
  [['--without', 'Pasive'], 1, /did you mean "Passive"/u],
  [['--save', 'x'], 2, /--number N/u],
  [['--show', '200'], 1, /has no number 200/u],
])('%j is refused', (words, code, why) => {
  const { status, stderr } = run('recurring', ...words);
  expect(stderr).toMatch(why);
  expect(status).toBe(code);
});
