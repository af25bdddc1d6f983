import { DatabaseSync } from 'node:sqlite';
import { APPLICATION_ID, createTables, isOlder } from './schema.ts';

/** Findings that SQLite lists at most. */
const MAX_FINDINGS = 20;

/** What is wrong with a journal's database beside its entries: pages, indexes, tables and triggers; sentences. */
export function faultsOfDatabase(db: DatabaseSync): readonly string[] {
  try {
    const findings = db.prepare(`PRAGMA integrity_check(${MAX_FINDINGS})`).all();
    const pages = findings
      .map((row) => String(row.integrity_check))
      .filter((finding) => finding !== 'ok')
      .map((finding) => `SQLite's own check of the file finds: ${finding.replaceAll(/\s+/gu, ' ')}`);
    return [...pages, ...faultsOfSchema(db)];
  } catch (error) {
    return [`SQLite cannot check the file: ${(error as Error).message}`];
  }
}

/** What is missing or other than this program makes it; what keeps entries from being changed stands there as well. */
function faultsOfSchema(db: DatabaseSync): readonly string[] {
  // An older file is brought to today's form when it is opened to be written.
  if (isOlder(db)) return [];
  const fresh = new DatabaseSync(':memory:');
  try {
    createTables(fresh);
    const expected = schemaOf(fresh);
    const found = schemaOf(db);
    const names = [...new Set([...expected.keys(), ...found.keys()])];
    return [
      ...(db.prepare('PRAGMA application_id').get()?.application_id === APPLICATION_ID
        ? []
        : ['The file does not say any more that it is a journal']),
      ...names.flatMap((name) => differenceOf(name, expected.get(name), found.get(name))),
    ];
  } finally {
    fresh.close();
  }
}

function differenceOf(
  name: string,
  expected: string | undefined,
  found: string | undefined,
): readonly string[] {
  if (found === undefined) return [`"${name}" is missing from the file's schema`];
  if (expected === undefined) return [`The file's schema has "${name}", which this program does not make`];
  return expected === found ? [] : [`"${name}" in the file's schema is not what this program makes it`];
}

/** Tables by their columns, since a column may have been added to an older file; triggers and indexes by their text. */
function schemaOf(db: DatabaseSync): ReadonlyMap<string, string> {
  const rows = db
    .prepare("SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%'")
    .all();
  return new Map(
    rows.map(({ type, name, sql }) => [
      String(name),
      type === 'table' ? columnsOf(db, String(name)) : String(sql).replaceAll(/\s+/gu, ' '),
    ]),
  );
}

function columnsOf(db: DatabaseSync, table: string): string {
  const columns = db
    .prepare('SELECT name, type, "notnull", pk FROM pragma_table_info(?) ORDER BY name')
    .all(table);
  return JSON.stringify(columns);
}
