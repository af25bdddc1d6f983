/** A journal file that is deleted or exchanged while it is open: nothing more is acknowledged, since it would be lost. */
import { copyFileSync, cpSync, existsSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { examine } from '../../../src/journal/verify.ts';
import { numbered } from '../changes.ts';
import { entriesOf } from '../contract.ts';
import { inFolder } from '../places.ts';

interface Held {
  readonly file: string;
  /** The same journal with three entries fewer, in another folder. */
  readonly older: string;
}

/** An open journal of eight entries, and a copy of when it had five; its log is in the file, or has the last three. */
function open<T>(
  isLogEmpty: boolean,
  work: (journal: SqliteJournal, held: Held, warnings: readonly string[]) => Promise<T>,
): Promise<T> {
  return inFolder(async (folder) => {
    const file = join(folder, 'data', 'journal.sqlite');
    const older = join(folder, 'older.sqlite');
    const warnings: string[] = [];
    const journal = new SqliteJournal(file, { warn: (message) => warnings.push(message) });
    await journal.append(numbered(5));
    copyFileSync(file, older);
    if (isLogEmpty) await journal.append(numbered(3));
    else for (let i = 0; i < 3; i++) await journal.append(numbered(1));
    try {
      return await work(journal, { file, older }, warnings);
    } finally {
      await journal.close();
    }
  });
}

const noted = (file: string) =>
  JSON.parse(readFileSync(file.replace('.sqlite', '.head.json'), 'utf8')).entries as number;

const CASES: readonly (readonly [string, (held: Held) => void, string])[] = [
  ['deleted', ({ file }) => rmSync(file), 'was deleted, moved or renamed'],
  ['deleted with its folder', ({ file }) => rmSync(join(file, '..'), { recursive: true }), 'was deleted'],
  ['renamed', ({ file }) => renameSync(file, `${file}.old`), 'was deleted, moved or renamed'],
  [
    'replaced by an older copy',
    ({ file, older }) => {
      rmSync(file);
      cpSync(older, file);
    },
    'was replaced by another file',
  ],
  ['without its log', ({ file }) => rmSync(`${file}-wal`), 'journal.sqlite-wal was deleted'],
];

describe.each([
  ['with all in the file', true],
  ['with some in the log', false],
])('%s', (_, isLogEmpty) => {
  test.each(CASES)('a journal that was %s takes no more entries', (_what, harm, message) =>
    open(isLogEmpty, async (journal, held, warnings) => {
      harm(held);
      for (const key of [undefined, 'again', undefined])
        await expect(journal.append(numbered(1), key ? { key } : {})).rejects.toMatchObject({
          code: 'UNAVAILABLE',
          message: expect.stringContaining(message),
        });
      expect((await journal.head()).sequence).toBe(8);
      await journal.close();
      // What was acknowledged before stays on record, so that the next start tells of the loss.
      if (existsSync(join(held.file, '..'))) expect(noted(held.file)).toBe(8);
      expect(warnings.join()).toContain(message);
    }),
  );
});

test('one that was overwritten with an older copy takes no more entries', () =>
  open(true, async (journal, { file, older }) => {
    copyFileSync(older, file);
    for (let i = 0; i < 2; i++)
      await expect(journal.append(numbered(1))).rejects.toMatchObject({
        code: 'UNAVAILABLE',
        message: expect.stringContaining('was overwritten'),
      });
    await journal.close();
    expect(noted(file)).toBe(8);
  }));

test.each([0, 40, 400])(
  'one that was overwritten while %i and some more are in the log loses nothing, or takes nothing more',
  (more) =>
    open(false, async (journal, { file, older }) => {
      for (let i = 0; i < more; i += 40) await journal.append(numbered(40));
      await journal.append(numbered(1));
      copyFileSync(older, file);
      const written = await journal.append(numbered(1)).then(
        () => 1,
        (error) => {
          expect(error).toMatchObject({ code: 'UNAVAILABLE' });
          return 0;
        },
      );
      if (more > 0) expect(written).toBe(0);
      await journal.close();
      // What the log has, laid over a small older file, may be all of it.
      if (written === 0) return;
      const again = new SqliteJournal(file);
      expect(await examine(again)).toEqual({ whole: 10, faults: [], damage: [], notes: [] });
      await again.close();
    }),
);

test('questions are answered from what was read before it was deleted', () =>
  open(true, async (journal, { file }) => {
    rmSync(file);
    await expect(journal.append(numbered(1))).rejects.toMatchObject({ code: 'UNAVAILABLE' });
    expect(await entriesOf(journal)).toHaveLength(8);
  }));

test('a file that is put back takes entries again', () =>
  open(false, async (journal, { file }) => {
    renameSync(file, `${file}.away`);
    await expect(journal.append(numbered(1))).rejects.toMatchObject({ code: 'UNAVAILABLE' });
    renameSync(`${file}.away`, file);
    expect(await journal.append(numbered(1))).toMatchObject([{ sequence: 9 }]);
  }));

test('one that is overwritten with what it had takes entries again', () =>
  open(true, async (journal, { file, older }) => {
    const newer = `${older}.newer`;
    copyFileSync(file, newer);
    copyFileSync(older, file);
    await expect(journal.append(numbered(1))).rejects.toMatchObject({ code: 'UNAVAILABLE' });
    copyFileSync(newer, file);
    expect(await journal.append(numbered(1))).toMatchObject([{ sequence: 9 }]);
  }));

test('others who write the same file, and bring their log into it, are no exchange', () =>
  open(true, async (journal, { file }, warnings) => {
    const other = new SqliteJournal(file);
    for (let i = 0; i < 3; i++) {
      await other.append(numbered(2));
      expect(await journal.append(numbered(1))).toMatchObject([{ sequence: 11 + 3 * i }]);
    }
    await other.close();
    await journal.append(numbered(1));
    expect(await entriesOf(journal)).toHaveLength(18);
    expect(warnings).toEqual([]);
  }));
