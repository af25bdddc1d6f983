import { hashOf } from './chain.ts';
import { type Journal, NO_HASH } from './journal.ts';

export type Verdict =
  | { readonly whole: true; readonly entries: number }
  | { readonly whole: false; readonly sequence: number; readonly why: string };

/** Recomputes the whole chain and names the first entry that does not fit. */
export async function verify(journal: Journal): Promise<Verdict> {
  let sequence = 0;
  let hash = NO_HASH;
  let instant = '';
  for await (const entries of journal.read()) {
    for (const entry of entries) {
      const bad = (why: string): Verdict => ({ whole: false, sequence: entry.sequence, why });
      if (entry.sequence !== sequence + 1) return bad(`does not follow entry ${sequence}`);
      if (entry.previousHash !== hash) return bad('does not carry the hash of the entry before');
      if (entry.instant < instant) return bad('is dated before the entry before');
      if (hashOf(entry) !== entry.hash) return bad('has been altered: its hash does not match its content');
      ({ sequence, hash, instant } = entry);
    }
  }
  const head = await journal.head();
  if (head.sequence !== sequence) return { whole: false, sequence: sequence + 1, why: 'is missing' };
  return { whole: true, entries: sequence };
}
