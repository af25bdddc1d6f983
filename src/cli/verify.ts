import { verify } from '../journal/verify.ts';
import { type Command, EXIT } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openJournal } from './dataFolder.ts';

export const command: Command = {
  summary: 'recomputes the hash chain of the journal',
  usage: 'verify',
  help: `Each entry carries the hash of the one before. This recomputes them all and names the first entry that does not
fit; exit code 3 then.

${DATA_HELP}`,
  options: { ...DATA_OPTION },

  async run(_, values) {
    const journal = openJournal(dataFolder(values));
    try {
      const verdict = await verify(journal);
      if (verdict.whole)
        process.stdout.write(`whole: ${verdict.entries} entries, each with the hash it should have\n`);
      else process.stdout.write(`damaged: entry ${verdict.sequence} ${verdict.why}\n`);
      return verdict.whole ? EXIT.fine : EXIT.damaged;
    } finally {
      await journal.close();
    }
  },
};
