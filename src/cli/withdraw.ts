import { parseThingId, specimenOfId } from '../model/ids.ts';
import { type Command, EXIT, textOf, UsageError } from './command.ts';
import { AUTHOR_OPTIONS, authorship, DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage: 'withdraw OBSERVATION --reason TEXT [--actor NAME] [--data FOLDER]',
  help: `Takes an observation back: it stays on record, marked, and counts for nothing. Where something published may rest on it,
"correct withdraw" does the same and names every sentence that it touches.

${DATA_HELP}
  --actor NAME      who takes it back (default: your login name)
  --reason TEXT     why; kept in the journal

  caseback withdraw tarn-loop-3/a/o4 --reason "another unit was on the bench"`,
  options: { ...DATA_OPTION, ...AUTHOR_OPTIONS },
  words: 1,

  async run([id], values) {
    const thing = id === undefined ? undefined : parseThingId(id);
    if (id === undefined || !thing) throw new UsageError('name an observation, such as tarn-loop-3/a/o4');
    const reason = textOf(values, 'reason')?.trim();
    if (!reason) throw new UsageError('say why with --reason');
    const archive = await openArchive(dataFolder(values));
    try {
      const by = authorship(values, reason);
      const entry = await archive.withdrawObservation(specimenOfId(id), thing.local, by, 'desk');
      process.stderr.write(`${id} withdrawn, journaled as entry ${entry.sequence}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
