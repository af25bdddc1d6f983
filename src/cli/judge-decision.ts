import { DECISION_VERDICTS } from '../model/decision.ts';
import { type Command, EXIT, textOf, UsageError } from './command.ts';
import { AUTHOR_OPTIONS, authorship, DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage: 'judge-decision DECISION endorsed|doubted|rejected --reason TEXT [--actor NAME] [--data FOLDER]',
  help: `Enters what an editor makes of a design decision. The number stays what the evidence makes it. A rejected decision
counts for nothing until its evidence changes; then it is listed as reopened.

${DATA_HELP}
  --actor NAME      who judges (default: your login name)
  --reason TEXT     why, kept in the journal

  caseback judge-decision tarn-loop-3:duplicated-sensors rejected --reason "second one is an assembly option"`,
  options: { ...DATA_OPTION, ...AUTHOR_OPTIONS },
  words: 2,

  async run([id, written], values) {
    if (id === undefined || written === undefined)
      throw new UsageError(`name a decision and one of ${DECISION_VERDICTS.join(', ')}`);
    const verdict = DECISION_VERDICTS.find((one) => one === written);
    if (!verdict) throw new UsageError(`"${written}" is no verdict; say ${DECISION_VERDICTS.join(', ')}`);
    if (!textOf(values, 'reason')?.trim()) throw new UsageError('say why with --reason');
    const archive = await openArchive(dataFolder(values));
    try {
      const entry = await archive.judgeDecision(id, verdict, authorship(values, ''), 'desk');
      process.stderr.write(`${id} ${verdict}, journaled as entry ${entry.sequence}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
