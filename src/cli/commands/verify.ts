import type { Journal } from '../../journal/journal.ts';
import { verify } from '../../journal/verify.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { readBy } from '../frame/options.ts';

export const command = defineCommand({
  name: 'verify',
  about:
    'Each entry of the journal carries the hash (SHA-256) of the one before. This calculates them all anew and names the first entry that does not fit; exit code 3 then. The answer has the hash of the last entry: note it elsewhere, and a later --noted shows that nothing up to there was changed or cut off since.',
  options: { noted: readBy('HASH', 'a hash that the chain must contain', hashIn) },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['verify', 'verify --data ./backup --noted 9f2c…'],

  async run(call) {
    const { noted } = call.options;
    const journal = call.journal();
    const verdict = await verify(journal);
    const { hash } = await journal.head();
    const isMissing = verdict.intact && noted !== undefined && !(await contains(journal, noted));
    const intact = verdict.intact && !isMissing;
    return {
      text: () => {
        if (!verdict.intact)
          return `damaged: entry ${verdict.sequence} ${verdict.why}; restore it from a copy\n`;
        if (isMissing) return `damaged: no entry has the noted hash ${noted}\n`;
        const entries = counted(verdict.entries, 'entry', 'entries');
        return `intact: ${entries}, each with the hash it should have; the last is ${hash}\n`;
      },
      json: () => ({ ...verdict, intact, head: hash, ...(isMissing ? { missing: noted } : {}) }),
      exit: intact ? EXIT.fine : EXIT.damaged,
    };
  },
});

function hashIn(written: string, option: string): string {
  const hash = written.toLowerCase();
  if (/^[0-9a-f]{64}$/u.test(hash)) return hash;
  throw new UsageError(`${option} is not a valid SHA-256 hash; give all 64 hexadecimal characters`);
}

async function contains(journal: Journal, hash: string): Promise<boolean> {
  for await (const entries of journal.read()) if (entries.some((entry) => entry.hash === hash)) return true;
  return false;
}
