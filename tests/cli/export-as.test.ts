import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { parseCsv } from '../export/rfc4180.ts';
import { caseback, Folder } from './running.ts';

// "export --as" on an archive in which texts begin like formulas, and components have no position.

const HOSTILE = '=HYPERLINK("https://example.org";"press")';
const folder = new Folder();
afterAll(() => folder.remove());
const run = (...args: string[]) => caseback([...args, '--data', 'data'], { cwd: folder.path });
const table = (out: string, name: string) =>
  parseCsv(readFileSync(join(folder.path, out, name), 'utf8')).rows;

beforeAll(async () => {
  writeFileSync(
    join(folder.path, 'files.yaml'),
    `caseback: dossier/1
device: { id: spool-1, name: '@spool', maker: spool, released: 2020-01, bodySite: wrist }
specimen: { id: a }
teardown: { on: 2024-01-02, by: A. Bench }
boards: [{ id: main, kind: rigid }, { id: flex, kind: flex }]
components:
  - { id: R1, board: main, side: top, at: { x: 1.5, y: 2 }, rotation: 90, appears: Resistor, value: '-4.7 kOhm' }
  - { id: R2, board: main, appears: Resistor, value: '${HOSTILE}' }
  - { id: C1, board: main, side: top, at: { x: -3, y: 2 }, appears: Capacitor, note: 'a;=1+1' }
  - { id: C1, board: flex, side: bottom, at: { x: 3, y: 2 }, appears: Capacitor, fitted: false }
`,
  );
  writeFileSync(
    join(folder.path, 'makers.yaml'),
    'caseback: catalogue/1\nmakers: [{ id: spool, name: Spool, makes: [devices] }]\n',
  );
  expect((await run('create-archive')).code).toBe(0);
  const imported = await run('import', 'makers.yaml', 'files.yaml', '--reason', 'test');
  expect(imported.code, imported.err).toBe(0);
});

test('formulas are neutralised where spreadsheets open them, ids and JSON stay exact, and losses are told', async () => {
  const { code, err } = await run(
    'export',
    'spool-1',
    '--as',
    'csv',
    '--out',
    'tables',
    '--licence',
    'CC-BY-4.0',
  );
  expect(code, err).toBe(0);
  const components = table('tables', 'components.csv');
  expect(components.map(({ id, value, note }) => [id, value, note])).toEqual([
    ['spool-1/a/flex:C1', '', ''],
    ['spool-1/a/main:C1', '', "a;'=1+1"],
    ['spool-1/a/R1', '-4.7 kOhm', ''],
    ['spool-1/a/R2', `'${HOSTILE}`, ''],
  ]);
  const node = table('tables', 'nodes.csv').find(({ id }) => id === 'spool-1/a/R2');
  expect(JSON.parse(node?.details as string)).toMatchObject({ value: HOSTILE });
  // No cell of any table begins as a formula does, JSON excepted, which begins with a bracket.
  for (const name of readdirSync(join(folder.path, 'tables')).filter((file) => file.endsWith('.csv')))
    for (const row of table('tables', name))
      for (const cell of Object.values(row)) expect(cell).not.toMatch(/^\s*[=+@]|[;\t\n]\s*[=+@]/u);
  expect(err).toContain(
    'spool-1/a/R2 value: a spreadsheet would take it for a formula; an apostrophe stands ahead of it',
  );
  expect(err).toContain('spool-1/a/R2 at: its position is not on record, so it has no line');
  const metadata = JSON.parse(
    readFileSync(join(folder.path, 'tables', 'csv-metadata.json'), 'utf8'),
  ) as Record<string, unknown>;
  expect(metadata['dc:license']).toBe('CC-BY-4.0');
  expect(JSON.stringify(metadata)).toContain('apostrophe');
  // What is not fitted is in the list of components and nowhere else.
  expect(table('tables', 'placement.csv').map(({ id, centre_x_mm }) => [id, centre_x_mm])).toEqual([
    ['spool-1/a/main:C1', '-3'],
    ['spool-1/a/R1', '1.5'],
  ]);
  expect(
    table('tables', 'bill-of-materials.csv').map(({ designators, knowledge, quantity }) => [
      designators,
      knowledge,
      quantity,
    ]),
  ).toEqual([
    ['C1', 'seen', '1'],
    ['R1', 'seen', '1'],
    ['R2', 'seen', '1'],
  ]);
});

test('--strict refuses and writes nothing when something would be lost, and writes when nothing is', async () => {
  const refused = await run('export', 'spool-1', '--as', 'csv', '--out', 'strict', '--strict');
  expect(refused.code).toBe(1);
  expect(refused.err).toContain('Nothing was written');
  expect(existsSync(join(folder.path, 'strict'))).toBe(false);
  const fine = await run('export', 'spool-1', '--as', 'graphml', '--strict');
  expect([fine.code, fine.err]).toEqual([0, '']);
  expect(fine.out).toMatch(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n<graphml /u);
});

test('what does not go together is refused with what to do', async () => {
  const cases = [
    [['export', '--as', 'csv'], 'name a new or empty folder'],
    [['export', 'spool-1', 'spool-1/a', '--as', 'graphml'], '--as takes one id'],
    [['export', 'spool-1', '--strict'], '--strict goes with --as'],
    [['export', 'spool-1', '--licence', 'MIT'], '--licence goes with --as'],
    [['export', 'spool-1', '--as', 'csv', '--out', 'tables'], 'is not empty'],
    [['export', '--as', 'parchment'], 'csv'],
  ] as const;
  for (const [args, message] of cases) {
    const { code, err } = await run(...args);
    expect([code, err], args.join(' ')).toEqual([2, expect.stringContaining(message)]);
  }
  const unknown = await run('export', 'spool-2', '--as', 'graphml');
  expect(unknown.err).toContain('spool-1');
});
