import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { backupOf, type MadeBackup } from '../../journal/backup.ts';
import { counted } from '../answers/figures.ts';
import { writeCompressed } from '../frame/backup-file.ts';
import { defineCommand } from '../frame/command.ts';
import { keptFilesOf } from '../frame/kept-files.ts';
import { photosOf } from '../frame/photos.ts';
import { Progress } from '../frame/progress.ts';

export const command = defineCommand({
  name: 'backup',
  about:
    'Writes everything that the archive holds into one new file, also while a service runs and others import: the archive as it is when the command begins, drafts and embargoed records too, the keys of changes, the files of photos, and accounts with the digests of their tokens (sessions are left out). "caseback restore" makes an archive of it again, on another machine or in another kind of store. The file is compressed with gzip and has a line of JSON for each entry, so that it can be read without this program. Keep it elsewhere than the archive.',
  arguments: [
    {
      name: 'TO',
      help: 'the file to write; in a folder that exists, a file named after the time of the backup',
    },
  ],
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['backup monday.backup.gz', 'backup /mnt/copies'],

  async run(call) {
    const [to] = call.arguments;
    const madeOn = new Date();
    const file =
      existsSync(to) && statSync(to).isDirectory()
        ? join(to, `caseback-${madeOn.toISOString().replaceAll(/:|\.\d+/gu, '')}.backup.gz`)
        : to;
    const journal = call.journal();
    const { sequence } = await journal.head();
    const files = await keptFilesOf(call.place);
    const progress = new Progress('writing the backup', sequence);
    let made: MadeBackup | undefined;
    async function* pieces(): AsyncGenerator<string> {
      made = yield* backupOf(journal, files, madeOn, photosOf(call.place).store, (entries) =>
        progress.update(entries),
      );
    }
    try {
      await writeCompressed(file, pieces());
    } finally {
      progress.end();
    }
    const { archive, entries, head, photos, photosLeftOut } = made as MadeBackup;
    const bytes = statSync(file).size;
    const names = files.map(({ name }) => name);
    return {
      text: () =>
        `${file} holds ${[counted(entries, 'entry', 'entries'), ...(photos > 0 ? [counted(photos, 'photo')] : []), ...names].join(', ')}, ${Math.ceil(bytes / 1024).toLocaleString('en')} KiB\n  archive ${archive}\n  last    ${head}\n"caseback restore" makes an archive of it again; keep it elsewhere than the archive.\n`,
      json: () => ({
        file,
        bytes,
        archive,
        entries,
        head,
        photos,
        ...(photosLeftOut.length > 0 ? { photosLeftOut } : {}),
        files: names,
        madeOn: madeOn.toISOString(),
      }),
      messages: photosLeftOut.map(
        (photo) => `caution: the file of ${photo} is missing or altered, and is not in the backup`,
      ),
    };
  },
});
