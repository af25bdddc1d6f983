import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Accounts } from '../../src/access/accounts.ts';
import { postgresAccounts } from '../../src/access/postgres-accounts.ts';
import { digestOf } from '../../src/access/secrets.ts';
import { sqliteAccounts } from '../../src/access/sqlite-accounts.ts';
import { backupOf } from '../../src/journal/backup.ts';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { restoreIntoDatabase } from '../../src/journal/postgres/restore.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import type { StoredEntry } from '../../src/journal/stored.ts';
import { numbered } from '../journal/changes.ts';
import { execute } from '../postgres/server.ts';
import { sharedSchema } from '../postgres/shared.ts';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

// Backups of archives in a PostgreSQL database, and archives in one made of backups; what is there is read with SQL of our own.

type Schema = Awaited<ReturnType<typeof sharedSchema>>;

const folder = new Folder(FILES);
const at = (...names: string[]) => join(folder.path, ...names);
const schemas: Schema[] = [];
const empty = async (): Promise<string> => {
  const schema = await sharedSchema();
  schemas.push(schema);
  return schema.url;
};
const on = (url: string, ...args: string[]) =>
  caseback(args, { cwd: folder.path, env: { DATABASE_URL: url } });
const inFolder = (...args: string[]) => caseback(args, { cwd: folder.path });

let source: string;
const token = { secret: '' };
const session = { secret: '' };

beforeAll(async () => {
  source = await empty();
  for (const file of ['catalogue.yaml', 'band-1.yaml'])
    expect((await on(source, 'import', file)).code).toBe(0);
  const journal = new PostgresJournal(source);
  await journal.append(numbered(3), { key: 'three', fingerprint: 'f' });
  await journal.append([], { key: 'none', fingerprint: 'g' });
  await journal.close();
  const accounts = new Accounts(postgresAccounts(source));
  await accounts.add('A. Editor', { role: 'editor', displayName: 'Ada' });
  await accounts.add('B. Gone', { role: 'reader' });
  await accounts.remove('B. Gone');
  token.secret = (await accounts.makeToken('A. Editor', { label: 'bench' })).secret;
  session.secret = (await accounts.signIn(token.secret))?.secret ?? '';
  await accounts.close();
  expect((await on(source, 'backup', 'db.gz')).code).toBe(0);
});
afterAll(async () => {
  for (const schema of schemas) await schema.drop();
  folder.remove();
});

async function rows(url: string, sql: string): Promise<Record<string, unknown>[]> {
  const client = new Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

/** Everything that must be the same of two archives. */
async function contentOf(url: string): Promise<unknown> {
  return Promise.all(
    [
      'SELECT * FROM caseback_entries ORDER BY sequence',
      'SELECT * FROM caseback_head',
      'SELECT one, identity FROM caseback_archive',
      'SELECT * FROM caseback_appends ORDER BY key',
      'SELECT * FROM access_people ORDER BY key',
      'SELECT id, digest, person, label, created, expires FROM access_tokens ORDER BY id',
    ].map((sql) => rows(url, sql)),
  );
}

const tablesOf = (url: string) =>
  rows(url, 'SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()');

describe('a backup of an archive in a database', () => {
  test('restores into another: every row, head, key, identity and account; a secret of its own', async () => {
    const target = await empty();
    const { code, out, err } = await on(target, 'restore', 'db.gz');
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('the database 127.0.0.1');
    expect(await contentOf(target)).toEqual(await contentOf(source));
    expect(await rows(target, 'SELECT * FROM access_sessions')).toEqual([]);
    const secret = 'SELECT secret FROM caseback_archive';
    expect(await rows(target, secret)).not.toEqual(await rows(source, secret));
    expect((await on(target, 'verify')).code).toBe(0);
    const devices = ['devices', '--format', 'json'];
    expect((await on(target, ...devices)).out).toBe((await on(source, ...devices)).out);
    // Whoever had a token signs in; the key of a change is known, and the next change follows.
    const accounts = new Accounts(postgresAccounts(target));
    expect(await accounts.bearer(token.secret)).toMatchObject({ name: 'A. Editor', role: 'editor' });
    expect(await accounts.session(session.secret)).toBeUndefined();
    await accounts.close();
    const journal = new PostgresJournal(target);
    const { sequence } = await journal.head();
    const again = await journal.append(numbered(3), { key: 'three', fingerprint: 'f' });
    expect(again.map((one) => one.sequence)).toEqual([sequence - 2, sequence - 1, sequence]);
    expect((await journal.append(numbered(1)))[0]?.sequence).toBe(sequence + 1);
    await journal.close();
  });

  test('restores into a folder, and from there into a database again', async () => {
    expect((await inFolder('restore', 'db.gz', '--data', 'restored')).code).toBe(0);
    const journal = new SqliteJournal(at('restored', 'journal.sqlite'));
    expect(await journal.appended('three')).toMatchObject({ fingerprint: 'f', entries: { length: 3 } });
    expect(await journal.appended('none')).toMatchObject({ fingerprint: 'g', entries: [] });
    await journal.close();
    const accounts = new Accounts(sqliteAccounts(at('restored')));
    const { secret } = (await accounts.signIn(token.secret)) ?? {};
    expect(secret).toBeDefined();
    await accounts.close();
    expect((await inFolder('backup', 'folder.gz', '--data', 'restored')).code).toBe(0);
    // A session that lasts is in no backup, of a folder either.
    expect(accountsIn('folder.gz').includes(digestOf(secret as string))).toBe(false);
    const target = await empty();
    expect((await on(target, 'restore', 'folder.gz')).code).toBe(0);
    expect(await contentOf(target)).toEqual(await contentOf(source));
  });

  test('is read by its owner alone, and has the digests of tokens and no others', async () => {
    if (process.platform !== 'win32') expect(statSync(at('db.gz')).mode & 0o777).toBe(0o600);
    const accounts = accountsIn('db.gz');
    expect(accounts.includes(digestOf(token.secret))).toBe(true);
    expect(accounts.includes(digestOf(session.secret))).toBe(false);
    const all = gunzipSync(readFileSync(at('db.gz')));
    expect(all.includes(token.secret)).toBe(false);
    expect(all.includes(digestOf(token.secret))).toBe(false);
    const [{ secret }] = (await rows(source, 'SELECT secret FROM caseback_archive')) as [{ secret: string }];
    expect(all.includes(secret)).toBe(false);
  });

  test('is of one instant, whatever is written, removed or keyed while it is made', async () => {
    const url = await empty();
    const journal = new PostgresJournal(url);
    await journal.append(numbered(1_200), { key: 'k', fingerprint: 'f' });
    const before = await journal.head();
    let text = '';
    let pieces = 0;
    for await (const piece of backupOf(journal, [], new Date())) {
      text += piece;
      if (pieces++ > 0) continue;
      await journal.append(numbered(2), { key: 'later', fingerprint: 'g' });
      // What only one transaction does not see.
      await execute(url, "UPDATE caseback_entries SET payload = '{}' WHERE sequence = 1190");
      await execute(url, "DELETE FROM caseback_appends WHERE key = 'k'");
    }
    await journal.close();
    expect(pieces).toBeGreaterThan(1);
    writeFileSync(at('busy.gz'), gzipSync(text));
    const target = await empty();
    expect((await on(target, 'restore', 'busy.gz')).code).toBe(0);
    expect(await rows(target, 'SELECT sequence, hash FROM caseback_head')).toEqual([
      { sequence: '1200', hash: before.hash },
    ]);
    expect(await rows(target, 'SELECT key FROM caseback_appends')).toEqual([{ key: 'k' }]);
    // Its transaction has ended.
    const idle =
      "SELECT 1 FROM pg_stat_activity WHERE state = 'idle in transaction' AND query LIKE '%caseback%'";
    expect(await rows(target, idle)).toEqual([]);
  });
});

describe('doctor of an archive in a database', () => {
  const journalOf = (out: string) =>
    (JSON.parse(out).findings as { about: string; standing: string; says: string }[]).filter(
      ({ about }) => about === 'journal',
    );

  test('finds nothing wrong with one that is well, names what was altered, and says when it is out of reach', async () => {
    const url = await empty();
    expect((await on(url, 'restore', 'db.gz')).code).toBe(0);
    const well = await on(url, 'doctor', '--format', 'json');
    expect(well.code).toBe(0);
    const [{ entries }] = await rows(url, 'SELECT count(*) AS entries FROM caseback_entries');
    expect(journalOf(well.out)).toEqual([
      expect.objectContaining({ standing: 'fine', says: expect.stringContaining(`${entries} entries`) }),
    ]);
    expect((await on(url, 'doctor')).out).toContain('the database 127.0.0.1');
    await execute(url, 'UPDATE caseback_entries SET reason = \'"another"\' WHERE sequence = 7');
    const altered = await on(url, 'doctor', '--format', 'json');
    expect(altered.code).toBe(3);
    expect(journalOf(altered.out)[0]).toMatchObject({
      standing: 'wrong',
      says: expect.stringContaining('entry 7 '),
    });
    const nowhere = new URL(url);
    nowhere.port = '1';
    const away = await on(nowhere.href, 'doctor', '--format', 'json');
    expect(away.code).toBe(3);
    expect(journalOf(away.out)[0]?.says).toContain('out of reach');
  });
});

describe('a database that was set back to an older copy', () => {
  test('is refused on the machine that knows better, named by verify, and read once its note is moved away', async () => {
    const url = await empty();
    const env = { DATABASE_URL: url, DATA_DIR: 'knowing' };
    const here = (...args: string[]) => caseback(args, { cwd: folder.path, env });
    expect((await here('import', 'catalogue.yaml')).code).toBe(0);
    expect((await here('backup', 'older.gz')).code).toBe(0);
    const [{ older }] = await rows(url, 'SELECT sequence AS older FROM caseback_head');
    expect((await here('import', 'band-1.yaml')).code).toBe(0);
    const [{ newest }] = await rows(url, 'SELECT sequence AS newest FROM caseback_head');
    expect((await here('verify')).code).toBe(0);
    await execute(
      url,
      `DELETE FROM caseback_entries WHERE sequence > ${older};
       UPDATE caseback_head SET (sequence, hash, instant) = (SELECT sequence, hash, instant FROM caseback_entries WHERE sequence = ${older})`,
    );
    const lost = `Entries ${Number(older) + 1} to ${newest} are missing at the end`;
    const verified = await here('verify');
    expect([verified.code, verified.out]).toEqual([3, expect.stringContaining(lost)]);
    const asked = await here('devices');
    expect([asked.code, asked.err]).toEqual([3, expect.stringContaining(lost)]);
    expect((await here('import', 'band-1.yaml')).code).toBe(3);
    expect((await here('devices', '--what-is-whole')).code).toBe(0);
    expect((await here('doctor')).out).toContain(lost);
    // A machine that never saw more cannot tell, and says so.
    const elsewhere = await on(url, 'verify');
    expect([elsewhere.code, elsewhere.err]).toEqual([0, expect.stringContaining('has not noted yet')]);
    // Restored on purpose it is the archive again, on this machine at once.
    const target = { ...env, DATABASE_URL: await empty() };
    expect((await caseback(['restore', 'older.gz'], { cwd: folder.path, env: target })).code).toBe(0);
    expect((await caseback(['verify'], { cwd: folder.path, env: target })).code).toBe(0);
    const note = readdirSync(at('knowing')).find((name) => name.startsWith('database-'));
    rmSync(at('knowing', note as string));
    expect((await here('import', 'band-1.yaml')).code).toBe(0);
  });
});

describe('restore into a database', () => {
  test('refuses one that has entries, or keys without entries, and changes nothing there', async () => {
    const before = await contentOf(source);
    const { code, err } = await on(source, 'restore', 'db.gz');
    expect(code).not.toBe(0);
    expect(err).toContain('has an archive already');
    expect(await contentOf(source)).toEqual(before);
    const keyed = await empty();
    const journal = new PostgresJournal(keyed);
    await journal.append([], { key: 'only', fingerprint: 'f' });
    await journal.close();
    expect((await on(keyed, 'restore', 'db.gz')).err).toContain('has an archive already');
  });

  test('takes tables that nobody has written to, with people who are there already left alone', async () => {
    const target = await empty();
    const journal = new PostgresJournal(target);
    await journal.head();
    await journal.close();
    const accounts = new Accounts(postgresAccounts(target));
    await accounts.add('C. Admin', { role: 'administrator' });
    await accounts.close();
    const { code, err } = await on(target, 'restore', 'db.gz');
    expect(code).toBe(0);
    expect(err).toContain('accounts.sqlite of the backup was left out, for the database has people already');
    const identity = 'SELECT identity FROM caseback_archive';
    expect(await rows(target, identity)).toEqual(await rows(source, identity));
    expect(await rows(target, 'SELECT name FROM access_people')).toEqual([{ name: 'C. Admin' }]);
  });

  test('leaves nothing behind of a backup that is not whole, wherever it is damaged', async () => {
    const target = await empty();
    const plain = gunzipSync(readFileSync(at('db.gz')));
    const lines = plain.toString('utf8').split('\n');
    for (const bytes of [
      plain.subarray(0, plain.length - 40),
      plain.subarray(0, plain.length / 2),
      plain.toString('utf8').replace('Ferrule', 'Ferrula'),
      lines.toSpliced(-4, 1).join('\n'),
      plain.toString('utf8').replace('"key":"three"', '"key":"other"'),
    ]) {
      writeFileSync(at('altered.gz'), gzipSync(bytes));
      const { code, err } = await on(target, 'restore', 'altered.gz');
      expect([code, err]).toEqual([1, expect.stringContaining('The backup cannot be restored')]);
      expect(await tablesOf(target)).toEqual([]);
    }
  });

  test('of two at once one puts its archive there, the other is refused', async () => {
    const target = await empty();
    const read = async () => {
      const journal = new PostgresJournal(source);
      const batches: (readonly StoredEntry[])[] = [];
      for await (const batch of journal.readStored()) batches.push(batch);
      await journal.close();
      return batches;
    };
    const batches = await read();
    const one = (identity: string) =>
      restoreIntoDatabase(
        target,
        {
          identity,
          keys: [],
          entries: (async function* () {
            yield* batches;
          })(),
        },
        async () => undefined,
      );
    const ended = await Promise.allSettled([one('a'), one('b')]);
    expect(ended.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(ended.find(({ status }) => status === 'rejected')).toMatchObject({ reason: { code: 'CONFLICT' } });
    const winner = ended[0]?.status === 'fulfilled' ? 'a' : 'b';
    expect(await rows(target, 'SELECT identity FROM caseback_archive')).toEqual([{ identity: winner }]);
  });

  test('that loses its connection half way leaves nothing, and says that it may be tried again', async () => {
    const target = await empty();
    const failing = restoreIntoDatabase(
      target,
      {
        identity: 'x',
        keys: [],
        entries: (async function* (): AsyncGenerator<readonly StoredEntry[]> {
          const journal = new PostgresJournal(source);
          for await (const batch of journal.readStored({ batchSize: 5 })) {
            yield batch;
            await execute(
              target,
              "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND state = 'idle in transaction' AND query LIKE 'INSERT INTO caseback_entries%'",
            );
          }
          await journal.close();
        })(),
      },
      async () => undefined,
    );
    await expect(failing).rejects.toMatchObject({ code: 'UNAVAILABLE' });
    expect(await tablesOf(target)).toEqual([]);
  });

  test('puts confusion.yaml into the data folder', async () => {
    mkdirSync(at('desk'));
    writeFileSync(
      at('desk', 'confusion.yaml'),
      readFileSync(new URL('../../schema/confusions.yaml', import.meta.url)),
    );
    const env = { DATABASE_URL: source, DATA_DIR: 'desk' };
    const made = await caseback(['backup', 'table.gz', '--format', 'json'], { cwd: folder.path, env });
    expect(JSON.parse(made.out).files).toEqual(['confusion.yaml', 'accounts.sqlite']);
    const elsewhere = { DATABASE_URL: await empty(), DATA_DIR: 'other-desk' };
    expect((await caseback(['restore', 'table.gz'], { cwd: folder.path, env: elsewhere })).code).toBe(0);
    expect(readFileSync(at('other-desk', 'confusion.yaml'))).toEqual(
      readFileSync(at('desk', 'confusion.yaml')),
    );
  });
});

/** The bytes of the accounts in a backup. */
function accountsIn(file: string): Buffer {
  const line = gunzipSync(readFileSync(at(file)))
    .toString('utf8')
    .split('\n')
    .find((one) => one.startsWith('{"file":"accounts.sqlite"'));
  return Buffer.from(JSON.parse(line as string).content, 'base64');
}
