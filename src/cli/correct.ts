import { AMENDMENT_HELP, AMENDMENT_OPTION, amendmentOf } from './amendment.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError } from './command.ts';
import { AUTHOR_OPTIONS, authorship, DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { spokenDifference } from './difference.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage: 'correct CHANGE ... | --file FILE --reason TEXT [--actor NAME] [--format text|json] [--data FOLDER]',
  help: `Puts the record right and journals it, together with the publications and sentences that the change touches; prints what it
came to and a text for each correction notice. Try it with what-if first.

${AMENDMENT_HELP}

${DATA_HELP}
  --file FILE       the change from a file; - for standard input
  --actor NAME      who puts it right (default: your login name)
  --reason TEXT     why; it stands in the journal and in the notice
  --format text     tables and words (default); json has everything

  caseback correct withdraw sallowby-keelson-3/a/o2 --actor "I. Marrow" --reason "misread in daylight"`,
  options: { ...DATA_OPTION, ...AUTHOR_OPTIONS, ...AMENDMENT_OPTION, format: { type: 'string' } },

  async run(words, values) {
    const format = choiceOf(values, 'format', ['text', 'json'], 'text');
    const amendment = amendmentOf(words, values);
    if (!textOf(values, 'reason')?.trim())
      throw new UsageError('say why with --reason; it stands in the notice');
    const by = authorship(values, '');
    const archive = await openArchive(dataFolder(values));
    try {
      const { correction, difference, entry } = await archive.correct(amendment, by, 'desk');
      if (format === 'json') {
        process.stdout.write(`${JSON.stringify({ correction, difference, entry }, null, 2)}\n`);
        return EXIT.fine;
      }
      process.stdout.write(spokenDifference(difference));
      for (const { notice } of correction.publications) process.stdout.write(`\n${notice}\n`);
      process.stderr.write(`${correction.id} journaled as entry ${entry.sequence}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
