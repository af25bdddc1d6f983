import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Archive } from '../../../src/archive.ts';
import { anchorOf, differenceFrom } from '../../../src/journal/anchor.ts';
import { PostgresJournal } from '../../../src/journal/postgres/journal.ts';
import { MachineNote } from '../../../src/journal/postgres/machine-note.ts';
import { examine } from '../../../src/journal/verify.ts';
import { execute } from '../../postgres/server.ts';
import { sharedSchema } from '../../postgres/shared.ts';
import { numbered } from '../changes.ts';

// What is noticed when rows of a journal in PostgreSQL are removed, altered or set back by somebody with SQL of his own. Each
// journal here has ten entries, of which the machine `here` knows and the machine `there` does not.

let schema: Awaited<ReturnType<typeof sharedSchema>>;
let folder: string;
const here = () => new MachineNote(join(folder, 'here'));
const there = () => new MachineNote(join(folder, 'there'));
const sql = (text: string) => execute(schema.url, text);
/** Opened as `verify` does. */
const opened = (note?: MachineNote) => new PostgresJournal(schema.url, { note, whatIsWhole: true });

beforeEach(async () => {
  schema = await sharedSchema();
  folder = mkdtempSync(join(tmpdir(), 'caseback-test-'));
  const journal = new PostgresJournal(schema.url, { note: here() });
  for (let i = 0; i < 5; i++) await journal.append(numbered(2));
  await journal.close();
});
afterEach(async () => {
  rmSync(folder, { recursive: true });
  await schema.drop();
});

async function found(note?: MachineNote) {
  const journal = opened(note);
  try {
    return await examine(journal);
  } finally {
    await journal.close();
  }
}

async function read(note?: MachineNote): Promise<number> {
  const journal = new PostgresJournal(schema.url, { note });
  let last = 0;
  try {
    for await (const entries of journal.read()) last = entries.at(-1)?.sequence ?? last;
    return last;
  } finally {
    await journal.close();
  }
}

/** Rows and head as a copy of the database from six entries ago had them. */
const SET_BACK = `
  DELETE FROM caseback_entries WHERE sequence > 4;
  UPDATE caseback_head SET (sequence, hash, instant) = (SELECT sequence, hash, instant FROM caseback_entries WHERE sequence = 4)`;

describe('a journal in PostgreSQL', () => {
  test('that is whole has no damage; a machine that knows it has nothing to say, another says that it does not', async () => {
    expect(await found(here())).toEqual({ whole: 10, faults: [], damage: [], notes: [] });
    const elsewhere = await found(there());
    expect(elsewhere).toMatchObject({ whole: 10, faults: [], damage: [] });
    expect(elsewhere.notes).toEqual([expect.stringContaining('has not noted yet')]);
    expect(existsSync(join(folder, 'there'))).toBe(false);
  });

  test('names rows removed at the end, in the middle, altered or exchanged, and is not read past them', async () => {
    await sql('DELETE FROM caseback_entries WHERE sequence IN (4, 9, 10)');
    expect((await found()).faults).toEqual([
      { first: 4, last: 4, why: 'is missing' },
      { first: 9, last: 10, why: 'is missing' },
    ]);
    await expect(read()).rejects.toMatchObject({ code: 'DAMAGED_JOURNAL', sequence: 5 });
    await sql("UPDATE caseback_entries SET payload = '{}' WHERE sequence = 6");
    expect((await found()).faults.map(({ first }) => first)).toEqual([4, 6, 9]);
  });

  test('cut at the end is not taken for a shorter one: a question is refused, unless what is whole is asked for', async () => {
    await sql('DELETE FROM caseback_entries WHERE sequence > 7');
    await expect(read()).rejects.toMatchObject({ code: 'DAMAGED_JOURNAL', sequence: 8 });
    const warned: string[] = [];
    const journal = new PostgresJournal(schema.url, { whatIsWhole: true, warn: (one) => warned.push(one) });
    let last = 0;
    for await (const entries of journal.read()) last = entries.at(-1)?.sequence ?? 0;
    await journal.close();
    expect(last).toBe(7);
    expect(warned).toEqual([expect.stringContaining('Entry 8 of the journal cannot be read: it is missing')]);
  });

  test('without the row of its head, its identity, a unique column or a table says which', async () => {
    await sql('DELETE FROM caseback_head');
    const headless = await found(here());
    expect(headless).toMatchObject({ whole: 10, faults: [] });
    expect(headless.damage).toEqual([expect.stringContaining('caseback_head')]);
    await expect(read()).rejects.toMatchObject({ message: expect.stringContaining('lost its head') });
    // Rows are counted by the note then.
    await sql('DELETE FROM caseback_entries WHERE sequence = 10');
    expect((await found(here())).damage.join()).toContain('Entry 10 is missing at the end');
    await sql('DELETE FROM caseback_archive');
    expect((await found(here())).damage.join()).toContain('caseback_archive');
    await sql('ALTER TABLE caseback_entries DROP CONSTRAINT caseback_entries_previous_hash_key');
    expect((await found()).damage.join()).toContain('"previous_hash" unique');
    await sql('DROP TABLE caseback_appends');
    await expect(found()).rejects.toMatchObject({
      code: 'DAMAGED_JOURNAL',
      message: expect.stringContaining('has lost a table'),
    });
  });

  test('set back as a whole is whole by itself; keys, the note of a machine and an anchor tell', async () => {
    const before = opened();
    const anchor = await anchorOf(before, new Date());
    await before.close();
    await sql(SET_BACK);
    expect(await found()).toMatchObject({ whole: 4, faults: [], damage: [] });
    expect((await found(there())).damage).toEqual([]);
    expect((await found(here())).damage).toEqual([
      expect.stringMatching(/^Entries 5 to 10 are missing at the end: this machine has seen/u),
    ]);
    await expect(read(here())).rejects.toMatchObject({ code: 'DAMAGED_JOURNAL' });
    expect(await read(there())).toBe(4);
    const after = opened();
    expect(await differenceFrom(after, anchor)).toBe('the anchor is of 10 entries, and the archive has 4');
    await after.close();
    await sql("INSERT INTO caseback_appends (key, digest, first, last) VALUES ('k', 'd', 8, 9)");
    expect((await found()).damage).toEqual([
      expect.stringMatching(/^Entries 5 to 9 are missing at the end: caseback_appends/u),
    ]);
    // On purpose, with the note out of the way.
    for (const name of readdirSync(join(folder, 'here'))) rmSync(join(folder, 'here', name));
    expect(await read(here())).toBe(4);
  });

  test('set back and written anew is another one to whoever knows it, however long it has become', async () => {
    await sql(SET_BACK);
    const journal = new PostgresJournal(schema.url);
    await journal.append(numbered(20));
    await journal.close();
    expect(await found()).toMatchObject({ whole: 24, faults: [], damage: [] });
    expect((await found(here())).damage).toEqual([
      expect.stringContaining('Entry 10 is not the one that it was'),
    ]);
  });
});

describe('a process that has read a journal which is then set back', () => {
  test('says so, at once and when it has grown again, writes nothing, and goes on answering what it has', async () => {
    // Changes of a kind that can be folded.
    const fresh = await sharedSchema();
    const journal = new PostgresJournal(fresh.url);
    const archive = await Archive.open(journal);
    try {
      const maker = (id: string) => ({
        actor: 'A',
        reason: 'r',
        kind: 'record-put' as const,
        payload: {
          collection: 'makers' as const,
          record: { id, name: id, makes: ['parts' as const], invented: true as const },
        },
      });
      for (const id of ['m1', 'm2', 'm3', 'm4', 'm5', 'm6']) await journal.append([maker(id)]);
      await archive.follow();
      expect(archive.version).toBe(6);
      await execute(fresh.url, SET_BACK);
      const isOther = {
        code: 'DAMAGED_JOURNAL',
        message: expect.stringContaining('an older copy was put in its place'),
      };
      await expect(archive.follow()).rejects.toMatchObject(isOther);
      const other = new PostgresJournal(fresh.url);
      await other.append(['m7', 'm8', 'm9', 'm10'].map(maker));
      await expect(archive.recallRecord('m1', { actor: 'A', reason: 'r' })).rejects.toMatchObject(isOther);
      expect((await other.head()).sequence).toBe(8);
      await other.close();
      expect([...archive.state('desk').makers()].map(({ id }) => id)).toEqual([
        'm1',
        'm2',
        'm3',
        'm4',
        'm5',
        'm6',
      ]);
    } finally {
      await archive.close();
      await fresh.drop();
    }
  });
});
