import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { backupOf } from '../../src/journal/backup.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { seededRandom } from '../bench/generate.ts';
import { numbered } from '../journal/changes.ts';
import { testSeed } from '../random.ts';
import { dossier, FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

const FIXTURE = new URL('../fixtures/journal-version-1.sqlite.gz', import.meta.url);

const folder = new Folder({ ...FILES, 'draft.yaml': `${dossier(3)}visibility: draft\n` });
const at = (...names: string[]) => join(folder.path, ...names);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const BACKUP = 'backup.gz';
/** Number of entries, counted by SQLite. */
let entries = 0;

beforeAll(async () => {
  for (const files of [['catalogue.yaml', 'band-1.yaml', 'band-2.yaml'], ['draft.yaml']])
    expect((await run('import', ...files)).code).toBe(0);
  const made = await run('backup', BACKUP);
  entries = (contentOf(journalIn('data')) as object[][])[0]?.length ?? 0;
  expect(made.err).toBe('');
  expect(made.code).toBe(0);
});
afterAll(() => folder.remove());

/** Everything that a journal file holds, read by SQLite alone. */
function contentOf(file: string): unknown {
  const db = new DatabaseSync(file, { readOnly: true });
  try {
    return ['entries', 'archive', 'appends'].map((table) => db.prepare(`SELECT * FROM ${table}`).all());
  } finally {
    db.close();
  }
}

const journalIn = (name: string) => at(name, 'journal.sqlite');
const linesOf = (file: string) =>
  gunzipSync(readFileSync(at(file)))
    .toString('utf8')
    .split('\n');

describe('a backup', () => {
  test('restores to the same archive: every row, the identity, the answers', async () => {
    const { code, out } = await run('restore', BACKUP, '--data', 'restored');
    expect(entries).toBeGreaterThan(8);
    expect(out).toMatch(
      new RegExp(`restored holds the archive as it was on \\d{4}-.*: ${entries} entries`, 'u'),
    );
    expect(code).toBe(0);
    expect(contentOf(journalIn('restored'))).toEqual(contentOf(journalIn('data')));
    expect((await run('verify', '--data', 'restored')).code).toBe(0);
    const asked = ['devices', '--format', 'json'];
    expect((await run(...asked, '--data', 'restored')).out).toBe((await run(...asked, '--data', 'data')).out);
    const later = await run('import', 'band-1.yaml', '--data', 'restored');
    expect(later.code).toBe(0);
  });

  test('is lines of JSON that anybody can read and check: one for each entry, SHA-256 of all at the end', () => {
    const lines = linesOf(BACKUP);
    expect(lines.pop()).toBe('');
    const end = JSON.parse(lines.pop() as string);
    const digest = createHash('sha256')
      .update(lines.map((line) => `${line}\n`).join(''))
      .digest('hex');
    expect(end).toEqual({ end: lines.length, sha256: digest });
    const [header, ...written] = lines.map((line) => JSON.parse(line));
    expect(header).toMatchObject({ caseback: 'backup', version: 3, entries });
    const [rows, [{ identity }]] = contentOf(journalIn('data')) as [object[], [{ identity: string }]];
    expect(written).toEqual(rows.map((row) => ({ ...row })));
    expect(header.archive).toBe(identity);
    expect(header.head).toBe(written.at(-1).hash);
  });

  test('is read by its owner alone', () => {
    if (process.platform !== 'win32') expect(statSync(at(BACKUP)).mode & 0o777).toBe(0o600);
  });

  test('takes the confusion table of the data folder along, and nothing else that lies there', async () => {
    const table = readFileSync(new URL('../../schema/confusions.yaml', import.meta.url));
    mkdirSync(at('with-table'));
    writeFileSync(at('with-table', 'confusion.yaml'), table);
    writeFileSync(at('with-table', 'notes.txt'), 'mine');
    await run('import', 'catalogue.yaml', '--data', 'with-table');
    const { out } = await run('backup', 'with-table.gz', '--data', 'with-table', '--format', 'json');
    expect(JSON.parse(out).files).toEqual(['confusion.yaml']);
    await run('restore', 'with-table.gz', '--data', 'table-restored');
    expect(readdirSync(at('table-restored')).filter((name) => !name.startsWith('journal'))).toEqual([
      'confusion.yaml',
    ]);
    expect(readFileSync(at('table-restored', 'confusion.yaml'))).toEqual(table);
  });

  test('takes accounts along, with what their log holds while a service has them open', async () => {
    await run('import', 'catalogue.yaml', '--data', 'with-people');
    const db = new DatabaseSync(at('with-people', 'accounts.sqlite'));
    db.exec('PRAGMA journal_mode = WAL; CREATE TABLE people (name TEXT); INSERT INTO people VALUES (1), (2)');
    const { out } = await run('backup', 'people.gz', '--data', 'with-people', '--format', 'json');
    db.close();
    expect(JSON.parse(out).files).toEqual(['accounts.sqlite']);
    expect((await run('restore', 'people.gz', '--data', 'people-restored')).code).toBe(0);
    const restored = new DatabaseSync(at('people-restored', 'accounts.sqlite'), { readOnly: true });
    expect(restored.prepare('SELECT count(*) AS n FROM people').get()).toEqual({ n: 2 });
    restored.close();
    if (process.platform !== 'win32')
      expect(statSync(at('people-restored', 'accounts.sqlite')).mode & 0o777).toBe(0o600);
  });

  test('of a journal from before payloads had versions keeps every byte and hash', async () => {
    mkdirSync(at('old'));
    writeFileSync(journalIn('old'), gunzipSync(readFileSync(FIXTURE)));
    expect((await run('backup', 'old.gz', '--data', 'old')).code).toBe(0);
    expect((await run('restore', 'old.gz', '--data', 'old-restored')).code).toBe(0);
    expect(contentOf(journalIn('old-restored'))).toEqual(contentOf(journalIn('old')));
    // The head that was noted when the journal was written, as in tests/journal/version-1.test.ts.
    const { out } = await run('verify', '--data', 'old-restored');
    expect(out).toContain('4081579184bfb21fd246beba7933caba220990445553e9e010571bb1b227cb63');
  });

  test('of version 1, which had no keys, restores as before', async () => {
    const [header, ...rest] = linesOf(BACKUP).slice(0, -2);
    const lines = [JSON.stringify({ ...JSON.parse(header as string), version: 1 }), ...rest];
    const text = lines.map((line) => `${line}\n`).join('');
    const sha256 = createHash('sha256').update(text).digest('hex');
    writeFileSync(at('first.gz'), gzipSync(`${text}${JSON.stringify({ end: lines.length, sha256 })}\n`));
    expect((await run('restore', 'first.gz', '--data', 'first-restored')).code).toBe(0);
    expect(contentOf(journalIn('first-restored'))).toEqual(contentOf(journalIn('data')));
  });

  test('made while entries come in is the archive as it was when it began', async () => {
    const journal = new SqliteJournal(at('busy', 'journal.sqlite'));
    await journal.append(numbered(1200));
    const before = await journal.head();
    let text = '';
    for await (const piece of backupOf(journal, [], new Date())) {
      text += piece;
      await journal.append(numbered(3));
    }
    await journal.close();
    const lines = text.trimEnd().split('\n');
    expect(JSON.parse(lines[0] as string)).toMatchObject({ entries: 1200, head: before.hash });
    expect(lines).toHaveLength(1202);
    writeFileSync(at('busy.gz'), gzipSync(text));
    expect((await run('restore', 'busy.gz', '--data', 'busy-restored')).code).toBe(0);
  });

  test('into a folder is named after its time; an existing file is never written over', async () => {
    mkdirSync(at('copies'));
    const { code, out } = await run('backup', 'copies', '--format', 'json');
    expect(code).toBe(0);
    const [name] = readdirSync(at('copies'));
    expect(name).toMatch(/^caseback-\d{4}-\d\d-\d\dT\d{6}Z\.backup\.gz$/u);
    expect(JSON.parse(out).file).toBe(join('copies', name as string));
    const before = readFileSync(at(BACKUP));
    const again = await run('backup', BACKUP);
    expect(again.code).not.toBe(0);
    expect(again.err).toContain('exists already; name a new file');
    expect(readFileSync(at(BACKUP))).toEqual(before);
  });
});

describe('restore refuses', () => {
  /** Tries to restore; whatever it says, nothing may be left of it. */
  async function refused(bytes: Uint8Array | string): Promise<string> {
    writeFileSync(at('altered.gz'), bytes);
    const { code, out, err } = await run('restore', 'altered.gz', '--data', 'nothing');
    expect(existsSync(at('nothing'))).toBe(false);
    expect(out).toBe('');
    expect(code).toBe(1);
    expect(err.length).toBeLessThan(600);
    return err;
  }

  test('a folder that has an archive', async () => {
    const before = contentOf(journalIn('data'));
    const { code, err } = await run('restore', BACKUP, '--data', 'data');
    expect(err).toContain('has an archive already');
    expect(code).not.toBe(0);
    expect(contentOf(journalIn('data'))).toEqual(before);
  });

  test('what is no backup, of a later version, or names a file elsewhere', async () => {
    expect(await refused('hello')).toContain('is no backup');
    expect(await refused(gzipSync('{"a":1}\n'))).toContain('not a backup of Caseback');
    const [header, ...rest] = linesOf(BACKUP);
    const later = JSON.stringify({ ...JSON.parse(header as string), version: 4 });
    expect(await refused(gzipSync([later, ...rest].join('\n')))).toContain('use a newer program');
    const elsewhere = '{"file":"../confusion.yaml","content":""}';
    expect(await refused(gzipSync([header, elsewhere, ...rest].join('\n')))).toContain(
      'not a valid file of a data folder',
    );
    expect((await run('restore', 'nowhere.gz', '--data', 'nothing')).err).toContain('does not exist');
  });

  test('lines left out, doubled, exchanged or added, with the digest made to fit', async () => {
    const lines = linesOf(BACKUP).slice(0, -2);
    const sealed = (some: readonly string[]) => {
      const text = some.map((line) => `${line}\n`).join('');
      const sha256 = createHash('sha256').update(text).digest('hex');
      return gzipSync(`${text}${JSON.stringify({ end: some.length, sha256 })}\n`);
    };
    expect(await refused(sealed(lines.toSpliced(3, 1)))).toContain('does not follow entry 2');
    expect(await refused(sealed(lines.toSpliced(3, 0, lines[3] as string)))).toContain('does not follow');
    expect(await refused(sealed(lines.toSpliced(3, 2, lines[4] as string, lines[3] as string)))).toContain(
      'does not follow',
    );
    expect(await refused(sealed(lines.slice(0, -1)))).toContain(
      `should end with entry ${entries}, and ends with ${entries - 1}`,
    );
    expect(await refused(sealed(lines.map((line) => line.replace('Ferrule', 'Ferrula'))))).toContain(
      'it was altered',
    );
  });

  test('a flipped bit or a cut anywhere, in the file or below its compression', async () => {
    const random = seededRandom(testSeed());
    const packed = readFileSync(at(BACKUP));
    const plain = gunzipSync(packed);
    for (let round = 0; round < 60; round++) {
      const [from, pack] = round % 2 === 0 ? [packed, (bytes: Buffer) => bytes] : [plain, gzipSync];
      const place = Math.floor(random() * from.length);
      const bytes = Buffer.from(from);
      if (round % 3 === 0) {
        if (place === from.length - 1) continue;
        await refused(pack(bytes.subarray(0, place)));
        continue;
      }
      bytes[place] = (bytes[place] as number) ^ (1 << Math.floor(random() * 8));
      // Header fields of gzip that say when and on what it was packed carry nothing (RFC 1952, section 2.3.1).
      if (from === packed && place >= 3 && place <= 9) continue;
      await refused(pack(bytes));
    }
    rmSync(at('altered.gz'));
  });
});
