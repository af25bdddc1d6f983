import { judgementSchema } from '../model/dossier.ts';
import { lastOfId, specimenOfId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { type Command, EXIT, textOf, UsageError } from './command.ts';
import { AUTHOR_OPTIONS, authorship, DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage:
    'judge-identification COMPONENT for|against PART DECIBANS --reason TEXT [--actor NAME] [--data FOLDER]',
  help: `Enters an editor's own judgement of what a component is, as one more piece of evidence beside all others; nothing is
overwritten, and "candidates" shows it with its weight. 10 decibans for a part make it ten times as likely, 10 against it
a tenth; 0 to 60. To put another identification in place of the one on record, use "correct identify".

${DATA_HELP}
  --actor NAME      who judges (default: your login name)
  --reason TEXT     why; kept in the journal

  caseback judge-identification tarn-loop-5/a/U2 for quillon/QN4470 6 --reason "the same lid as in the Loop 6"
  caseback judge-identification tarn-loop-5/a/U2 against quillon/QN4460 10 --reason "that one was out of production"`,
  options: { ...DATA_OPTION, ...AUTHOR_OPTIONS },
  words: 4,

  async run([id, side, part, weight], values) {
    if (id === undefined || part === undefined || weight === undefined || !/^(?:for|against)$/u.test(side))
      throw new UsageError('write COMPONENT for PART DECIBANS, or COMPONENT against PART DECIBANS');
    const decibans = Number(weight);
    if (!(decibans >= 0)) throw new UsageError(`"${weight}" is no weight; give decibans, 0 to 60`);
    const reason = textOf(values, 'reason')?.trim();
    if (!reason) throw new UsageError('say why with --reason');
    const by = authorship(values, reason);
    const on = new Date().toISOString().slice(0, 10);
    const read = judgementSchema.safeParse({
      component: lastOfId(id),
      part,
      decibans: side === 'for' ? decibans : -decibans,
      by: by.actor,
      reason: by.reason,
      on,
    });
    if (!read.success) {
      const [{ path, message }] = read.error.issues;
      throw new CasebackError('BAD_INPUT', `the judgement may not stand: ${path.join('.')}: ${message}`);
    }
    const archive = await openArchive(dataFolder(values));
    try {
      const entry = await archive.judgeIdentification(specimenOfId(id), read.data, by, 'desk');
      process.stderr.write(`${id} judged, journaled as entry ${entry.sequence}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
