import { chainBreak } from './checked.ts';
import { DamagedEntry } from './errors.ts';
import { type Head, type Inspection, type Journal, NO_HASH } from './journal.ts';
import { entryOf, hasItsHash, type StoredEntry } from './stored.ts';

/** Result of checking the entire chain; `sequence` names the first entry that does not fit. */
export type Verification =
  | { readonly intact: true; readonly entries: number }
  | { readonly intact: false; readonly sequence: number; readonly why: string };

/** Entries that are missing or are not what was written. */
export interface Fault {
  readonly first: number;
  readonly last: number;
  /** Continues "entry 5": `is missing`, `has been altered: …`. */
  readonly why: string;
}

export interface Examination extends Inspection {
  /** Number of entries that are what was written. */
  readonly whole: number;
  /** What is wrong with entries, in order. */
  readonly faults: readonly Fault[];
}

/**
 * Recomputes the entire chain over what is stored, and reads every payload. Entries cut off at the end leave a valid
 * chain: the store's own note of its length shows that (`examine`), or an anchor kept elsewhere.
 * @param onProgress called with the number of entries checked so far, once a batch
 */
export async function verify(
  journal: Journal,
  onProgress?: (checked: number) => void,
): Promise<Verification> {
  let entries = 0;
  for await (const found of checks(journal, onProgress)) {
    if (typeof found !== 'number') return { intact: false, sequence: found.first, why: found.why };
    entries = found;
  }
  return { intact: true, entries };
}

/** Checks everything there is to check, and does not stop at the first fault. */
export async function examine(journal: Journal): Promise<Examination> {
  const faults: Fault[] = [];
  let whole = 0;
  for await (const found of checks(journal)) {
    if (typeof found === 'number') whole = found;
    else addTo(faults, found);
  }
  const { damage = [], notes = [] } = (await journal.inspect?.()) ?? {};
  return { whole, faults, damage, notes };
}

/** Faults that say the same of entries that follow one another are one. */
function addTo(faults: Fault[], { first, last, why }: Fault): void {
  const before = faults.at(-1);
  if (before?.why === why && before.last === first - 1) faults[faults.length - 1] = { ...before, last };
  else faults.push({ first, last, why });
}

/** Goes through all entries; gives each fault, and behind every batch the number of entries that are whole so far. */
async function* checks(
  journal: Journal,
  onProgress?: (checked: number) => void,
): AsyncGenerator<Fault | number> {
  // Others may append meanwhile, so that what was the last entry before is looked for, too.
  const end = await journal.head();
  let last: Head = { sequence: 0, hash: NO_HASH };
  let atEnd: Head = last;
  /** Whether the entry before is as it was written, so that its hash may be held against the next. */
  let isKnown = true;
  let whole = 0;
  for (;;) {
    try {
      for await (const entries of journal.readStored({ after: last.sequence })) {
        for (const entry of entries) {
          if (entry.sequence > last.sequence + 1) {
            yield { first: last.sequence + 1, last: entry.sequence - 1, why: 'is missing' };
            isKnown = false;
          }
          const fault: string | undefined =
            unreadable(entry) ?? (isKnown ? chainBreak(entry, last) : altered(entry));
          if (fault !== undefined) yield { first: entry.sequence, last: entry.sequence, why: fault };
          else whole++;
          isKnown = fault === undefined;
          last = entry;
          if (entry.sequence === end.sequence) atEnd = entry;
        }
        onProgress?.(last.sequence);
        yield whole;
      }
      break;
    } catch (error) {
      if (!(error instanceof DamagedEntry)) throw error;
      // Goes on behind it, as far as there should be entries.
      const sequence = Math.max(error.sequence, last.sequence + 1);
      yield { first: sequence, last: sequence, why: `cannot be read (${error.why})` };
      if (sequence >= end.sequence) break;
      last = { sequence, hash: NO_HASH };
      isKnown = false;
    }
  }
  const now = await journal.head();
  const hasGoneOn = now.sequence > last.sequence && last.sequence >= end.sequence && end.hash === atEnd.hash;
  // The store knows of an entry that reading did not give.
  if (now.sequence > last.sequence && !hasGoneOn)
    yield { first: last.sequence + 1, last: now.sequence, why: 'is missing' };
  else if (isKnown && !hasGoneOn && (now.sequence < last.sequence || now.hash !== last.hash))
    yield {
      first: last.sequence,
      last: last.sequence,
      why: 'is not what the store gives as the last entry',
    };
  yield whole;
}

function altered(entry: StoredEntry): string | undefined {
  return hasItsHash(entry) ? undefined : 'has been altered: its hash does not match its content';
}

function unreadable(entry: StoredEntry): string | undefined {
  try {
    entryOf(entry);
    return undefined;
  } catch (error) {
    if (!(error instanceof DamagedEntry)) throw error;
    return `cannot be read (${error.why})`;
  }
}
