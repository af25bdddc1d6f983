import { existsSync, rmdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { openBackup } from '../../journal/read-backup.ts';
import { restoreInto } from '../../journal/sqlite/restore.ts';
import type { StoredEntry } from '../../journal/stored.ts';
import { counted } from '../answers/figures.ts';
import { readCompressed } from '../frame/backup-file.ts';
import { defineCommand } from '../frame/command.ts';
import { hasArchive, journalFile, written } from '../frame/data-folder.ts';
import { Unable } from '../frame/exit.ts';
import { putKeptFiles } from '../frame/kept-files.ts';
import { Progress } from '../frame/progress.ts';

export const command = defineCommand({
  name: 'restore',
  about:
    'Makes an archive of a backup, in a folder that has none. The whole backup is checked first: its digest, the hash of every entry, their number and the last one; nothing is put in place unless all of it is right. The archive is the same one as before: the same entries, hashes and identity.',
  arguments: [{ name: 'FROM', help: 'a file that "caseback backup" wrote' }],
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['restore monday.backup.gz --data ./restored'],

  async run(call) {
    const [from] = call.arguments;
    if (call.place.database !== undefined)
      throw new Unable(
        'DATABASE_URL names a database, and restore makes an archive in a folder; name one with --data',
      );
    const folder = call.ownFolder;
    if (call.place.database !== undefined)
      throw new Unable(
        'a backup is restored into a folder, not into the database of DATABASE_URL; name one with --data',
      );
    if (hasArchive(folder))
      throw new Unable(
        `${written(folder)} has an archive already, and nothing is ever written over one; name another folder with --data`,
      );
    if (!existsSync(from))
      throw new Unable(`${from} does not exist; name a file that "caseback backup" wrote`);
    if (statSync(from).isDirectory())
      throw new Unable(`${from} is a folder; name a file that "caseback backup" wrote`);
    const opened = await openBackup(readCompressed(from));
    const { header } = opened;
    const isNewFolder = !existsSync(folder);
    const progress = new Progress('restoring', header.entries);
    let put: readonly string[] = [];
    async function* checked(): AsyncGenerator<readonly StoredEntry[]> {
      let done = 0;
      for await (const entries of opened.entries) {
        yield entries;
        done += entries.length;
        progress.update(done);
      }
      // The whole backup is right from here on.
      put = putKeptFiles(folder, opened.files);
    }
    try {
      await restoreInto(journalFile(folder), header.archive, checked());
    } catch (error) {
      for (const name of put) rmSync(join(folder, name));
      if (isNewFolder && existsSync(folder)) rmdirSync(folder);
      throw error;
    } finally {
      progress.end();
    }
    const { archive, entries, head, madeOn } = header;
    const left = opened.files.map(({ name }) => name).filter((name) => !put.includes(name));
    return {
      text: () =>
        `${written(folder)} holds the archive as it was on ${madeOn}: ${[counted(entries, 'entry', 'entries'), ...put].join(', ')}\n  archive ${archive}\n  last    ${head}\n`,
      json: () => ({ folder, archive, entries, head, madeOn, files: put }),
      messages: left.map((name) => `${name} of the backup was left out, for the folder has one already`),
    };
  },
});
