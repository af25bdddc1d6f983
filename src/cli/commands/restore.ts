import { existsSync, rmdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { type OpenedBackup, openBackup } from '../../journal/read-backup.ts';
import { restoreInto } from '../../journal/sqlite/restore.ts';
import type { StoredEntry } from '../../journal/stored.ts';
import { CasebackError } from '../../model/problems.ts';
import type { PhotoStore } from '../../photos/store.ts';
import { counted } from '../answers/figures.ts';
import { readCompressed } from '../frame/backup-file.ts';
import { defineCommand } from '../frame/command.ts';
import { hasArchive, headFile, journalFile, written } from '../frame/data-folder.ts';
import { databaseToFill, writtenPlace } from '../frame/database.ts';
import { Unable } from '../frame/exit.ts';
import { ACCOUNTS, putKeptFiles } from '../frame/kept-files.ts';
import { photosOf } from '../frame/photos.ts';
import { Progress } from '../frame/progress.ts';

export const command = defineCommand({
  name: 'restore',
  about:
    'Makes an archive of a backup, in a folder or a database (DATABASE_URL) that has none. The whole backup is checked: its digest, the hash of every entry, their number and the last one; nothing is put in place unless all of it is right, in a database in one transaction. The archive is the same one as before: the same entries, hashes, keys of changes and identity. Accounts come along, and confusion.yaml into the data folder.',
  arguments: [{ name: 'FROM', help: 'a file that "caseback backup" wrote' }],
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['restore monday.backup.gz --data ./restored'],

  async run(call) {
    const [from] = call.arguments;
    const { place } = call;
    const { database } = place;
    const folder = database === undefined ? call.ownFolder : place.folder;
    const where = writtenPlace({ folder, database });
    if (database === undefined) refuseNote(folder, where);
    if (database === undefined ? hasArchive(folder) : await hasEntries(database, folder))
      throw new Unable(
        `${where} has an archive already, and nothing is ever written over one; name ${database === undefined ? 'another folder with --data' : 'an empty database in DATABASE_URL, or a folder with --data'}`,
      );
    if (!existsSync(from))
      throw new Unable(`${from} does not exist; name a file that "caseback backup" wrote`);
    if (statSync(from).isDirectory())
      throw new Unable(`${from} is a folder; name a file that "caseback backup" wrote`);
    const photos = new RestoredPhotos(photosOf({ ...place, folder }).store);
    const opened = await openBackup(readCompressed(from), photos.keep);
    const { archive, entries, head, madeOn } = opened.header;
    const progress = new Progress('restoring', entries);
    const put = await (database === undefined
      ? intoFolder(folder, opened, (done) => progress.update(done))
      : intoDatabase(database, folder, opened, (done) => progress.update(done))
    )
      .catch(async (error) => {
        await photos.remove();
        throw error;
      })
      .finally(() => progress.end());
    const left = opened.files.map(({ name }) => name).filter((name) => !put.includes(name));
    return {
      text: () =>
        `${where} holds the archive as it was on ${madeOn}: ${[counted(entries, 'entry', 'entries'), ...(photos.count > 0 ? [counted(photos.count, 'photo')] : []), ...put].join(', ')}\n  archive ${archive}\n  last    ${head}\n`,
      json: () => ({
        ...(database === undefined ? { folder } : { database: where }),
        archive,
        entries,
        head,
        madeOn,
        photos: photos.count,
        files: put,
      }),
      messages: left.map(
        (name) =>
          `${name} of the backup was left out, for ${database !== undefined && name === ACCOUNTS ? 'the database has people already' : 'the folder has one already'}`,
      ),
    };
  },
});

/**
 * What is left of a lost archive may be its note alone, which would refuse the backup as one with fewer entries.
 * @throws CasebackError DAMAGED_JOURNAL
 */
function refuseNote(folder: string, where: string): void {
  const [note, log] = [headFile(folder), `${journalFile(folder)}-wal`];
  const isEmpty = (file: string) => !existsSync(file) || statSync(file).size === 0;
  if (!existsSync(note) || existsSync(journalFile(folder)) || !isEmpty(log)) return;
  throw new CasebackError(
    'DAMAGED_JOURNAL',
    `${where} has no journal, and ${written(note)} notes how long one was that is gone; move that file away and restore again, or name another folder with --data`,
  );
}

/** Photos of a backup that were put in place; taken away again where the backup turns out not to be whole. */
class RestoredPhotos {
  readonly #store: PhotoStore;
  readonly #put: string[] = [];
  count = 0;

  constructor(store: PhotoStore) {
    this.#store = store;
  }

  readonly keep = async (sha256: string, content: Uint8Array): Promise<void> => {
    this.count++;
    if (await this.#store.has(sha256)) return;
    await this.#store.put(sha256, content);
    this.#put.push(sha256);
  };

  async remove(): Promise<void> {
    for (const sha256 of this.#put) await this.#store.remove(sha256);
  }
}

/** Makes the journal of a folder; answers which files were put beside it. */
async function intoFolder(
  folder: string,
  opened: OpenedBackup,
  onProgress: (entries: number) => void,
): Promise<readonly string[]> {
  const isNewFolder = !existsSync(folder);
  let put: readonly string[] = [];
  async function* checked(): AsyncGenerator<readonly StoredEntry[]> {
    yield* counting(opened, onProgress);
    // The whole backup is right from here on.
    put = putKeptFiles(folder, opened.files);
  }
  try {
    await restoreInto(journalFile(folder), opened.header.archive, checked(), opened.keys);
    return put;
  } catch (error) {
    for (const name of put) rmSync(join(folder, name));
    if (isNewFolder && existsSync(folder)) rmdirSync(folder);
    throw error;
  }
}

/** Makes the journal and the accounts of a database; answers which files of the backup were put there or beside it. */
async function intoDatabase(
  database: string,
  folder: string,
  opened: OpenedBackup,
  onProgress: (entries: number) => void,
): Promise<readonly string[]> {
  const [{ restoreIntoDatabase }, { putAccounts }, { nameOf }, { MachineNote }] = await Promise.all([
    import('../../journal/postgres/restore.ts'),
    import('../../access/kept-accounts.ts'),
    import('../../journal/postgres/connections.ts'),
    import('../../journal/postgres/machine-note.ts'),
  ]);
  const put: string[] = [];
  const { keys, files, header } = opened;
  let instant = '';
  async function* entries(): AsyncGenerator<readonly StoredEntry[]> {
    for await (const batch of counting(opened, onProgress)) {
      instant = batch.at(-1)?.instant ?? instant;
      yield batch;
    }
  }
  const restored = { identity: header.archive, entries: entries(), keys };
  await restoreIntoDatabase(database, restored, async (client) => {
    const accounts = files.find(({ name }) => name === ACCOUNTS);
    if (accounts && (await putAccounts(client, nameOf(database), accounts.content))) put.push(ACCOUNTS);
  });
  // Whoever restores an older backup means to: on this machine the note says so from now on.
  new MachineNote(folder).set({
    archive: header.archive,
    entries: header.entries,
    hash: header.head,
    instant,
  });
  return [
    ...putKeptFiles(
      folder,
      files.filter(({ name }) => name !== ACCOUNTS),
    ),
    ...put,
  ];
}

async function* counting(
  { entries }: OpenedBackup,
  onProgress: (entries: number) => void,
): AsyncGenerator<readonly StoredEntry[]> {
  let done = 0;
  for await (const batch of entries) {
    yield batch;
    done += batch.length;
    onProgress(done);
  }
}

/** Whether a database has entries already; tables that somebody made and nobody wrote to are no archive. */
async function hasEntries(database: string, folder: string): Promise<boolean> {
  const { journal, isBlank } = await databaseToFill(database, folder);
  await journal.close();
  return !isBlank;
}
