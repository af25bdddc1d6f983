/**
 * The named patterns over mirrors of the invented demo archive, on PostgreSQL and on DuckDB over
 * Parquet files: the rows of the pattern engine on the archive itself.
 */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { patternSql, rowsOn } from '../../src/mirror/ask.ts';
import { openMirror } from '../../src/mirror/open.ts';
import { manifestIn } from '../../src/mirror/parquet-mirror.ts';
import { firstColumns } from '../../src/mirror/segments.ts';
import { patternRows } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { execute } from '../postgres/server.ts';
import { sharedServer } from '../postgres/shared.ts';

const names = readdirSync('seed-data/patterns').map((file) => file.replace('.yaml', ''));
const folder = mkdtempSync(join(tmpdir(), 'caseback-mirror-'));
const schema = `mirror_patterns_${process.pid}`;
let archive: Archive;
let view: State;
let server: string;
let places: readonly string[];

beforeAll(async () => {
  archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(readFiles(['seed-data']).documents, { actor: 'test', reason: 'demo' });
  view = archive.state('desk');
  server = await sharedServer();
  places = [`${server}?schema=${schema}`, folder];
  for (const place of places) {
    const mirror = await openMirror(place);
    await mirror.bring(view);
    await mirror.close();
  }
});

afterAll(async () => {
  await execute(server, `DROP SCHEMA IF EXISTS ${schema} CASCADE`);
  rmSync(folder, { recursive: true, force: true });
  await archive.close();
});

/** Rows as sorted lines; numbers to twelve digits, since engines round the last ones otherwise. */
function lines(rows: readonly (readonly unknown[])[]): string[] {
  const rounded = (_: string, value: unknown) =>
    typeof value === 'number' ? Number(value.toPrecision(12)) : value;
  return rows.map((row) => JSON.stringify(row, rounded)).sort();
}

test.each(names)('%s compiles for each engine', async (id) => {
  for (const dialect of ['postgres', 'duckdb'] as const)
    expect((await patternSql({ text: view.pattern(id)!.text }, dialect)).sql).toContain('SELECT');
});

// Those up to here in the alphabet: of the rest some join in circles, which DuckDB puts in an order that takes it minutes.
const ASKED = names.filter((id) => id <= 'rail-switched-by-a-transistor');

test.each(ASKED)('%s has the same rows in each mirror', async (id) => {
  const { text } = view.pattern(id)!;
  const expected = await patternRows(view, { text });
  expect(expected.complete).toBe(true);
  for (const place of places) {
    const answer = await rowsOn(place, { text });
    expect(answer.columns).toEqual(expected.columns);
    expect(lines(answer.rows), `${place}\n${answer.sql}`).toEqual(lines(expected.rows));
  }
});

test('lists, paths and edges come as the archive gives them', async () => {
  const text =
    'MATCH p = (a:Regulator)-[f:FEEDS]->{1,3}(b:Component) WHERE a.specimen = b.specimen RETURN p, f, a, SIZE(f) AS steps';
  const expected = await patternRows(view, { text });
  expect(expected.rows.length).toBeGreaterThan(20);
  for (const place of places)
    expect(lines((await rowsOn(place, { text })).rows)).toEqual(lines(expected.rows));
});

test('a mirror has no columns but those that SQL is written for without one', () => {
  expect(manifestIn(folder)?.columns).toEqual(firstColumns().all);
});

test('a text that is not compiled is refused with its place', async () => {
  for (const place of places)
    await expect(
      rowsOn(place, { text: 'MATCH (c:Charger) RETURN c, UPPER(c.designator) AS n' }),
    ).rejects.toMatchObject({
      problems: [{ code: 'not-in-sql', line: 1, column: 29 }],
    });
});
