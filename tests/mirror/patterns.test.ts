/**
 * The named patterns over mirrors of a few devices of the invented demo archive, on PostgreSQL and on DuckDB over Parquet files:
 * the rows of the pattern engine on the archive itself. All that compile are compared. On all devices of the demo archive some take DuckDB
 * minutes, so that only some are mirrored here, and a statement that takes too long is ended and fails its test.
 */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { patternSql, rowsOn } from '../../src/mirror/ask.ts';
import { DuckDbEngine } from '../../src/mirror/duckdb-engine.ts';
import { openMirror } from '../../src/mirror/open.ts';
import { manifestIn } from '../../src/mirror/parquet-mirror.ts';
import { firstColumns } from '../../src/mirror/segments.ts';
import { patternRows } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { execute } from '../postgres/server.ts';
import { sharedServer } from '../postgres/shared.ts';

/** Devices on which each pattern finds something, with those before them in their lines. */
const DEVICES =
  /^(?:dunmarrow-leadline-(?:mini-1|[1-4])|sallowby-escutcheon|nolvey-ferrule-[1-3]|pellforth-conch-1)-a\.yaml$/;
/** Milliseconds for a statement; each takes under a second where nothing else runs. */
const LONGEST = 20_000;
/** Asks in one condition whether one thing is an infrared emitter and another is not, which may be one thing. */
const REFUSED = ['several-wavelengths'];

const names = readdirSync('seed-data/patterns').map((file) => file.replace('.yaml', ''));
const folder = mkdtempSync(join(tmpdir(), 'caseback-mirror-'));
const schema = `mirror_patterns_${process.pid}`;
let archive: Archive;
let view: State;
let server: string;
let places: readonly string[];

beforeAll(async () => {
  archive = await Archive.open(new MemoryJournal());
  const devices = readdirSync('seed-data/dossiers').filter((file) => DEVICES.test(file));
  // Publications cite the other devices.
  const others = readdirSync('seed-data').filter(
    (file) => !['dossiers', 'publications.yaml', 'README.md'].includes(file),
  );
  const files = [...others, ...devices.map((file) => join('dossiers', file))];
  await archive.importDocuments(readFiles(files.map((file) => join('seed-data', file))).documents, {
    actor: 'test',
    reason: 'demo',
  });
  view = archive.state('desk');
  server = await sharedServer();
  places = [`${server}?schema=${schema}&options=-c%20statement_timeout%3D${LONGEST}`, folder];
  // DuckDB has no setting for that.
  const rows = DuckDbEngine.prototype.rows;
  vi.spyOn(DuckDbEngine.prototype, 'rows').mockImplementation(async function (this: DuckDbEngine, sql) {
    const timer = setTimeout(() => this.connection.interrupt(), LONGEST);
    return rows.call(this, sql).finally(() => clearTimeout(timer));
  });
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

test.each(names.filter((id) => !REFUSED.includes(id)))('%s has the same rows in each mirror', async (id) => {
  const { text } = view.pattern(id)!;
  const expected = await patternRows(view, { text });
  expect(expected.complete).toBe(true);
  expect(expected.rows).not.toEqual([]);
  for (const place of places) {
    const answer = await rowsOn(place, { text });
    expect(answer.columns).toEqual(expected.columns);
    expect(lines(answer.rows), `${place}\n${answer.sql}`).toEqual(lines(expected.rows));
  }
});

test.each(REFUSED)('%s is refused, as it would have other rows', async (id) => {
  for (const dialect of ['postgres', 'duckdb'] as const)
    await expect(patternSql({ text: view.pattern(id)!.text }, dialect)).rejects.toMatchObject({
      problems: [{ code: 'not-in-sql', line: 7, column: 13 }],
    });
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

test.each([
  ['a function that engines do otherwise', 'MATCH (c:Charger) RETURN c, UPPER(c.designator) AS n', 29],
  ['the id of an edge, which may have none', 'MATCH (c:Charger)-[e:ON]->() RETURN c, ELEMENT_ID(e) AS n', 40],
])('%s is not compiled, and refused with its place', async (_, text, column) => {
  for (const place of places)
    await expect(rowsOn(place, { text })).rejects.toMatchObject({
      problems: [{ code: 'not-in-sql', line: 1, column }],
    });
});
