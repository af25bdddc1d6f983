import { AMENDMENT_HELP, AMENDMENT_OPTION, amendmentOf } from './amendment.ts';
import { AUDIENCE_OPTION } from './audience.ts';
import { type Command, choiceOf, EXIT } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { spokenDifference } from './difference.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage: 'what-if CHANGE ... | --file FILE [--format text|json] [--data FOLDER] [--audience reader|desk]',
  help: `What a change would come to: decisions gained and lost, probabilities moved, cells of comparisons and points of trends
that read otherwise, sentences whose wording no longer fits. Nothing is written.

${AMENDMENT_HELP}

${DATA_HELP}
  --file FILE       the change from a file; - for standard input
  --format text     tables and words (default); json has everything
  --audience desk   drafts and embargoed records too (default); reader leaves them out

  caseback what-if withdraw tarn-loop-3/a/o2
  caseback what-if identify tarn-loop-3/a/U3 quillon/QN4416=0.9`,
  options: { ...DATA_OPTION, ...AUDIENCE_OPTION, ...AMENDMENT_OPTION, format: { type: 'string' } },

  async run(words, values) {
    const format = choiceOf(values, 'format', ['text', 'json'], 'text');
    const amendment = amendmentOf(words, values);
    const audience = choiceOf(values, 'audience', ['reader', 'desk'], 'desk');
    const archive = await openArchive(dataFolder(values));
    try {
      const difference = await archive.whatIf(archive.view(audience), amendment);
      process.stdout.write(
        format === 'json' ? `${JSON.stringify(difference, null, 2)}\n` : spokenDifference(difference),
      );
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
