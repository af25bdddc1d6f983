import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { type Verification, verify } from '../../../src/journal/verify.ts';
import { numbered } from '../changes.ts';
import { entriesOf } from '../contract.ts';
import { inFolder } from '../places.ts';

const COUNT = 9;

/** Writes a journal of nine entries, has something done to its closed file, and checks the chain. */
function verdictAfter(harm: (file: string) => void): Promise<Verification> {
  return inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    await written(file);
    harm(file);
    const journal = new SqliteJournal(file, { whatIsWhole: true });
    try {
      return await verify(journal);
    } finally {
      await journal.close();
    }
  });
}

async function written(file: string): Promise<void> {
  let second = 0;
  const journal = new SqliteJournal(file, { clock: () => new Date(Date.UTC(2026, 0, 1, 0, 0, second++)) });
  for (let i = 0; i < COUNT; i += 3) await journal.append(numbered(3));
  await journal.close();
}

/** What someone with the file and a SQLite shell can do: drop the triggers, then change what they like. */
function byShell(sql: string): (file: string) => void {
  return (file) => {
    const db = new DatabaseSync(file);
    for (const { name } of db.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").all())
      db.exec(`DROP TRIGGER ${name}`);
    db.exec(sql);
    db.close();
  };
}

describe('the check of the chain names the first entry that was', () => {
  const cases: readonly (readonly [string, string, number, string])[] = [
    [
      'altered in its payload',
      `SET payload = replace(payload, 'Maker 1', 'Maker 7') WHERE sequence = 5`,
      5,
      'altered',
    ],
    ['altered in who did it', `SET actor = 'desk' WHERE sequence = 2`, 2, 'altered'],
    ['altered in why', `SET reason = '' WHERE sequence = 9`, 9, 'altered'],
    ['altered in its kind', `SET kind = 'dossier-put' WHERE sequence = 4`, 4, 'altered'],
    ['given another id', `SET id = '019b7700-0000-7000-8000-000000000000' WHERE sequence = 3`, 3, 'altered'],
    ['dated later', `SET instant = '2026-01-01T00:00:00.500Z' WHERE sequence = 3`, 3, 'altered'],
    ['dated earlier', `SET instant = '2020-01-01T00:00:00.000Z' WHERE sequence = 7`, 7, 'altered'],
    ['given another version', `SET version = 1 WHERE sequence = 4`, 4, 'altered'],
    ['given an unknown version', `SET version = 9 WHERE sequence = 4`, 4, 'version 9'],
    ['written anew in other bytes', `SET payload = payload || ' ' WHERE sequence = 4`, 4, 'altered'],
    ['given another hash', `SET hash = previousHash WHERE sequence = 6`, 6, 'altered'],
    [
      'cut off from the one before',
      `SET previousHash = hash WHERE sequence = 6`,
      6,
      'hash of the entry before',
    ],
    ['moved', `SET sequence = 100 WHERE sequence = 4`, 4, 'is missing'],
    ['made unreadable', `SET payload = substr(payload, 2) WHERE sequence = 8`, 8, 'cannot be read'],
  ];
  for (const [what, change, sequence, why] of cases) {
    test(what, async () => {
      expect(await verdictAfter(byShell(`UPDATE entries ${change}`))).toEqual({
        intact: false,
        sequence,
        why: expect.stringContaining(why),
      });
    });
  }

  test('removed from among others', async () => {
    expect(await verdictAfter(byShell('DELETE FROM entries WHERE sequence = 4'))).toMatchObject({
      sequence: 4,
      why: 'is missing',
    });
  });

  test('altered by one bit in the file, without SQLite', async () => {
    const verdict = await verdictAfter((file) => {
      const bytes = readFileSync(file);
      // The second of three entries of each append says "Maker 1"; the last written lies first in the page.
      bytes[bytes.indexOf('"Maker 1"') + 7] ^= 1;
      writeFileSync(file, bytes);
    });
    expect(verdict).toEqual({ intact: false, sequence: 8, why: expect.stringContaining('altered') });
  });
});

test('an unaltered journal verifies, and a cut-off end is noticed only by a hash noted earlier', async () => {
  expect(await verdictAfter(() => undefined)).toEqual({ intact: true, entries: COUNT });
  expect(await verdictAfter(byShell('DELETE FROM entries WHERE sequence > 6'))).toEqual({
    intact: true,
    entries: 6,
  });
});

test('entries before an unreadable one can still be read', () =>
  inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    await written(file);
    byShell(`UPDATE entries SET payload = '{' WHERE sequence = 5`)(file);
    const journal = new SqliteJournal(file);
    const seen: number[] = [];
    const reading = (async () => {
      for await (const entries of journal.read()) seen.push(...entries.map(({ sequence }) => sequence));
    })();
    await expect(reading).rejects.toMatchObject({ code: 'DAMAGED_JOURNAL', sequence: 5 });
    expect(seen).toEqual([1, 2, 3, 4]);
    await journal.close();
  }));

test('the store itself refuses to change, remove, replace or insert an entry', () =>
  inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    await written(file);
    const db = new DatabaseSync(file);
    const columns = 'id, instant, actor, reason, kind, payload, previousHash, hash, version';
    const copyAs = (sequence: number) =>
      `SELECT ${sequence}, 'x' || ${columns} FROM entries WHERE sequence = 9`;
    const into = `INTO entries (sequence, ${columns})`;
    for (const [sql, message] of [
      [`UPDATE entries SET actor = 'desk'`, 'append-only'],
      ['DELETE FROM entries WHERE sequence = 9', 'append-only'],
      [`INSERT OR REPLACE ${into} ${copyAs(9)}`, 'must follow'],
      [`INSERT ${into} ${copyAs(0)}`, 'must follow'],
      [`INSERT ${into} ${copyAs(11)}`, 'must follow'],
      // Next in number, but not chained to the last hash.
      [`INSERT ${into} ${copyAs(10)}`, 'must follow'],
    ]) {
      expect(() => db.exec(sql), sql).toThrow(message);
    }
    db.close();
    const journal = new SqliteJournal(file);
    expect(await verify(journal)).toEqual({ intact: true, entries: COUNT });
    await journal.close();
  }));

test('the hash covers the previous hash and the stored text, so that anyone can check it with SQL alone', () =>
  inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    await written(file);
    const db = new DatabaseSync(file);
    // SQLite's own JSON functions write the canonical form for these plain values.
    const rows = db
      .prepare(
        `SELECT hash, previousHash || json_object('actor', actor, 'id', id, 'instant', instant, 'kind', kind,
           'payload', json(payload), 'reason', reason, 'sequence', sequence, 'version', version) AS covered
         FROM entries ORDER BY sequence`,
      )
      .all() as { hash: string; covered: string }[];
    db.close();
    expect(rows).toHaveLength(COUNT);
    for (const { hash, covered } of rows)
      expect(createHash('sha256').update(covered, 'utf8').digest('hex')).toBe(hash);
    const journal = new SqliteJournal(file);
    expect((await entriesOf(journal)).map(({ hash }) => hash)).toEqual(rows.map(({ hash }) => hash));
    await journal.close();
  }));
