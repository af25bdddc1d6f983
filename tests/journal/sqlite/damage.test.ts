import { copyFileSync, mkdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { examine } from '../../../src/journal/verify.ts';
import type { Entry } from '../../../src/model/entry.ts';
import { CasebackError } from '../../../src/model/problems.ts';
import { seededRandom } from '../../bench/generate.ts';
import { testSeed } from '../../random.ts';
import { numbered } from '../changes.ts';
import { entriesOf } from '../contract.ts';
import { inFolder } from '../places.ts';

// Bits flipped, stretches overwritten, files cut and removed, at random places of a journal that is in use: afterwards it
// gives the very entries that were written, or refuses with a clear word. CASEBACK_DAMAGE_ROUNDS=300 for the long trial.
const ROUNDS = Number(process.env.CASEBACK_DAMAGE_ROUNDS ?? 30);
const NAMES = ['journal.sqlite', 'journal.sqlite-wal', 'journal.head.json'] as const;

type Outcome = 'refused' | 'refused while reading' | 'found by verify alone' | 'of no consequence';

/** A folder as it stands while a service writes: 60 entries over several pages, and four more in the log alone. */
async function inUse(folder: string): Promise<{ place: string; entries: readonly Entry[] }> {
  const [from, place] = [join(folder, 'from'), join(folder, 'in-use')];
  const journal = new SqliteJournal(join(from, 'journal.sqlite'));
  await journal.append(numbered(60));
  for (let i = 0; i < 4; i++) await journal.append(numbered(1));
  mkdirSync(place);
  for (const name of NAMES) copyFileSync(join(from, name), join(place, name));
  const entries = await entriesOf(journal);
  await journal.close();
  return { place, entries };
}

/** Harms one file; says how. */
function harm(folder: string, random: () => number): string {
  const under = (limit: number) => Math.floor(random() * limit);
  const name = NAMES[under(NAMES.length)];
  const file = join(folder, name);
  const bytes = readFileSync(file);
  const at = under(bytes.length);
  switch (under(8)) {
    case 0:
      rmSync(file);
      return `${name} removed`;
    case 1:
      truncateSync(file, at);
      return `${name} cut to ${at} bytes`;
    case 2: {
      const end = Math.min(bytes.length, at + 1 + under(300));
      for (let i = at; i < end; i++) bytes[i] = under(256);
      writeFileSync(file, bytes);
      return `${name} overwritten from ${at} to ${end}`;
    }
    default: {
      const bit = under(8);
      bytes[at] ^= 1 << bit;
      writeFileSync(file, bytes);
      return `${name} bit ${bit} of byte ${at} flipped`;
    }
  }
}

/** What comes of reading everything; throws where an answer has changed, or an error is not one of ours. */
async function outcomeOf(file: string, written: readonly Entry[]): Promise<Outcome> {
  let journal: SqliteJournal;
  try {
    journal = new SqliteJournal(file);
  } catch (error) {
    mustBeClear(error);
    return 'refused';
  }
  try {
    expect(await entriesOf(journal)).toEqual(written);
    // What reads on from the middle, as one who follows does.
    expect(await entriesOf(journal, { after: 30 })).toEqual(written.slice(30));
    const { faults, damage, notes } = await examine(journal);
    return faults.length + damage.length + notes.length > 0 ? 'found by verify alone' : 'of no consequence';
  } catch (error) {
    if (!(error instanceof Error) || error.name === 'AssertionError') throw error;
    mustBeClear(error);
    return 'refused while reading';
  } finally {
    await journal.close();
  }
}

function mustBeClear(error: unknown): void {
  expect(error).toBeInstanceOf(CasebackError);
  const { code, message } = error as CasebackError;
  expect(['DAMAGED_JOURNAL', 'UNAVAILABLE'], message).toContain(code);
}

test(`${ROUNDS} random damages change no answer unnoticed`, { timeout: 600_000 }, () =>
  inFolder(async (folder) => {
    const random = seededRandom(testSeed());
    const { place, entries } = await inUse(folder);
    const counts = new Map<Outcome, number>();
    for (let round = 0; round < ROUNDS; round++) {
      const trial = join(folder, `trial-${round}`);
      mkdirSync(trial);
      for (const name of NAMES) copyFileSync(join(place, name), join(trial, name));
      const done = harm(trial, random);
      try {
        const outcome = await outcomeOf(join(trial, 'journal.sqlite'), entries);
        counts.set(outcome, (counts.get(outcome) ?? 0) + 1);
      } catch (error) {
        throw new Error(`round ${round}, ${done}: ${(error as Error).message}`, { cause: error });
      }
      rmSync(trial, { recursive: true });
    }
    if (ROUNDS > 30) console.log(Object.fromEntries(counts));
    expect(counts.get('refused')).toBeGreaterThan(0);
  }),
);
