import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { expect, test } from 'vitest';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { SCHEMA_VERSION } from '../../../src/journal/sqlite/schema.ts';
import { examine, verify } from '../../../src/journal/verify.ts';
import { numbered } from '../changes.ts';
import { inFolder } from '../places.ts';

// What the program wrote as version 1 and 2 of the file, from its history: version 2 had one column more.
const AS_VERSION_1 = `
  CREATE TABLE entries (
    sequence INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    instant TEXT NOT NULL,
    actor TEXT NOT NULL,
    reason TEXT NOT NULL,
    kind TEXT NOT NULL,
    payload TEXT NOT NULL,
    previousHash TEXT NOT NULL,
    hash TEXT NOT NULL
  ) STRICT;
  CREATE INDEX entries_instant ON entries(instant);
  CREATE TRIGGER entries_are_never_changed BEFORE UPDATE ON entries
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  CREATE TRIGGER entries_are_never_removed BEFORE DELETE ON entries
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
  PRAGMA application_id = ${0x43617365};`;
const AS_VERSION_2 = `${AS_VERSION_1}
  ALTER TABLE entries ADD COLUMN version INTEGER NOT NULL DEFAULT 1;`;

const COMMON = 'sequence, id, instant, actor, reason, kind, payload, previousHash, hash';

/** A file as an older program left it, with the entries of a journal of today's. */
async function olderFile(folder: string, version: 1 | 2): Promise<string> {
  const [now, older] = [join(folder, 'now.sqlite'), join(folder, `version-${version}.sqlite`)];
  const journal = new SqliteJournal(now);
  await journal.append(numbered(5));
  await journal.close();
  const db = new DatabaseSync(older);
  db.exec(version === 1 ? AS_VERSION_1 : AS_VERSION_2);
  db.exec(`PRAGMA user_version = ${version}; PRAGMA journal_mode = WAL; ATTACH '${now}' AS now`);
  if (version === 2)
    db.exec(`INSERT INTO entries (${COMMON}, version) SELECT ${COMMON}, version FROM now.entries`);
  db.close();
  return older;
}

test('a file of version 2 is brought to the newest in place: no entry changes, and its identity stays from then on', () =>
  inFolder(async (folder) => {
    const file = await olderFile(folder, 2);
    const [one, other] = [new SqliteJournal(file), new SqliteJournal(file)];
    expect(await verify(one)).toEqual({ intact: true, entries: 5 });
    const identity = await one.identity();
    expect(await other.identity()).toBe(identity);
    await one.append(numbered(2));
    await one.close();
    await other.close();
    const again = new SqliteJournal(file);
    expect(await again.identity()).toBe(identity);
    expect(await verify(again)).toEqual({ intact: true, entries: 7 });
    await again.close();
    const db = new DatabaseSync(file, { readOnly: true });
    expect(db.prepare('PRAGMA user_version').get()).toEqual({ user_version: SCHEMA_VERSION });
    expect(db.prepare('SELECT count(*) AS n FROM appends').get()).toEqual({ n: 0 });
    db.close();
  }));

test('one of version 1 goes all the way, even without an entry', () =>
  inFolder(async (folder) => {
    const file = await olderFile(folder, 1);
    const journal = new SqliteJournal(file);
    expect(await verify(journal)).toEqual({ intact: true, entries: 0 });
    await journal.append(numbered(1));
    expect(await verify(journal)).toEqual({ intact: true, entries: 1 });
    expect(await journal.identity()).toMatch(/^[0-9a-f-]{36}$/u);
    await journal.close();
  }));

test('one of version 3, which had no secret, gets one', () =>
  inFolder(async (folder) => {
    const file = await olderFile(folder, 2);
    await new SqliteJournal(file).close();
    const db = new DatabaseSync(file);
    db.exec('DROP TABLE secrets; PRAGMA user_version = 3');
    db.close();
    const [one, other] = [new SqliteJournal(file), new SqliteJournal(file)];
    expect(await one.secret()).toHaveLength(32);
    expect(await other.secret()).toEqual(await one.secret());
    expect(await verify(one)).toEqual({ intact: true, entries: 5 });
    await one.close();
    await other.close();
  }));

test('one of version 4, which had an index that nothing asked, is without it', () =>
  inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    const before = new SqliteJournal(file);
    await before.append(numbered(5));
    await before.close();
    const db = new DatabaseSync(file);
    db.exec('CREATE INDEX IF NOT EXISTS entries_instant ON entries(instant); PRAGMA user_version = 4');
    const indexes = () =>
      db.prepare("SELECT name FROM sqlite_schema WHERE type = 'index' AND sql IS NOT NULL").all();
    expect(indexes().map(({ name }) => name)).toEqual(['entries_instant']);
    const journal = new SqliteJournal(file);
    expect(indexes()).toEqual([]);
    expect(await examine(journal)).toEqual({ whole: 5, faults: [], damage: [], notes: [] });
    await journal.close();
    db.close();
  }));

test('nobody changes or removes the identity by SQL', () =>
  inFolder(async (folder) => {
    const file = await olderFile(folder, 2);
    await new SqliteJournal(file).close();
    const db = new DatabaseSync(file);
    for (const sql of [
      `UPDATE archive SET identity = 'another'`,
      'DELETE FROM archive',
      `INSERT INTO archive VALUES (2, 'another')`,
    ])
      expect(() => db.exec(sql), sql).toThrow(/identity of an archive stays|CHECK/u);
    db.close();
  }));
