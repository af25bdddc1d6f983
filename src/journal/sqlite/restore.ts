import { mkdirSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import type { KeptKey } from '../journal.ts';
import type { StoredEntry } from '../stored.ts';
import { HeadFile, type HeadNote } from './head-file.ts';
import { noteOf } from './open.ts';
import { openDatabase } from './schema.ts';
import { asJournalError } from './sqlite-errors.ts';
import { MACHINE } from './system.ts';

const COLUMNS = 'sequence, id, instant, actor, reason, kind, payload, previousHash, hash, version';

/**
 * Writes the entries of another store into a new journal file, all or nothing: into a file beside it, which takes its
 * place once everything is on disk. The caller has made sure that there is no journal yet.
 * @param identity of the archive that they belong to
 * @param keys idempotency keys, complete once the entries were read
 * @throws what reading the entries throws; nothing is left behind then
 */
export async function restoreInto(
  file: string,
  identity: string,
  entries: AsyncIterable<readonly StoredEntry[]>,
  keys: readonly KeptKey[],
): Promise<void> {
  const made = `${file}.restoring-${process.pid}`;
  const remove = () => {
    for (const end of ['', '-wal', '-shm', '-journal']) rmSync(made + end, { force: true });
  };
  try {
    mkdirSync(dirname(file), { recursive: true });
    remove();
    const db = openDatabase(made, identity);
    let note: HeadNote | undefined;
    try {
      const insert = db.prepare(`INSERT INTO entries (${COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`);
      db.exec('BEGIN IMMEDIATE');
      for await (const batch of entries)
        for (const one of batch)
          insert.run(
            one.sequence,
            one.id,
            one.instant,
            one.actor,
            one.reason,
            one.kind,
            one.payload,
            one.previousHash,
            one.hash,
            one.version,
          );
      const insertKey = db.prepare('INSERT INTO appends (key, digest, first, last) VALUES (?, ?, ?, ?)');
      for (const { key, fingerprint, first, last } of keys) insertKey.run(key, fingerprint, first, last);
      db.exec('COMMIT; PRAGMA wal_checkpoint(TRUNCATE)');
      note = noteOf(db);
    } finally {
      // Takes the log away: everything is in the file then.
      db.close();
    }
    MACHINE.sync(made);
    renameSync(made, file);
    MACHINE.sync(dirname(file));
    if (note) new HeadFile(file).write(note);
  } catch (error) {
    remove();
    throw asJournalError(error, file);
  }
}
