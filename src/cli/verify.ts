import { verify } from '../journal/verify.ts';
import { type Command, EXIT, textOf, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openKeptJournal } from './data-folder.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage: 'verify [--data FOLDER] [--noted HASH] [--json]',
  help: `Each entry of the journal carries the hash (SHA-256) of the one before. This recomputes them all and names the
first entry that does not fit; exit code 3 then. The hash of the last entry stands in the answer: note it
elsewhere, and a later --noted shows that nothing up to there was changed or cut off since.

${DATA_HELP}
  --noted HASH      a hash that the chain must contain
  --json            the verdict as JSON

  caseback verify
  caseback verify --data ./backup --noted 9f2c…`,
  options: { ...DATA_OPTION, noted: { type: 'string' }, json: { type: 'boolean' } },
  words: 0,

  async run(_, values) {
    const noted = textOf(values, 'noted')?.toLowerCase();
    if (noted !== undefined && !/^[0-9a-f]{64}$/u.test(noted))
      throw new UsageError('--noted is no SHA-256: 64 hexadecimal characters');
    const journal = openKeptJournal(dataFolder(values));
    try {
      const verdict = await verify(journal);
      const { hash } = await journal.head();
      const missing = verdict.whole && noted !== undefined && !(await contains(journal, noted));
      const whole = verdict.whole && !missing;
      if (values.json)
        process.stdout.write(
          `${JSON.stringify({ ...verdict, whole, head: hash, ...(missing ? { missing: noted } : {}) }, null, 2)}\n`,
        );
      else if (!verdict.whole)
        process.stdout.write(`damaged: entry ${verdict.sequence} ${verdict.why}; restore it from a copy\n`);
      else if (missing) process.stdout.write(`damaged: no entry has the noted hash ${noted}\n`);
      else
        process.stdout.write(
          `whole: ${counted(verdict.entries, 'entry', 'entries')}, each with the hash it should have; the last is ${hash}\n`,
        );
      return whole ? EXIT.fine : EXIT.damaged;
    } finally {
      await journal.close();
    }
  },
};

async function contains(journal: ReturnType<typeof openKeptJournal>, noted: string): Promise<boolean> {
  for await (const entries of journal.read()) if (entries.some(({ hash }) => hash === noted)) return true;
  return false;
}
