import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { examine, verify } from '../../src/journal/verify.ts';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';
import { numbered } from './changes.ts';
import { killDuring } from './kill-during.ts';
import { inFolder } from './places.ts';

const CHILD = join(import.meta.dirname, 'child/append.ts');
const CHILD_ON = join(import.meta.dirname, 'child/append-on.ts');
const BEFORE = 3;
const IMPORTED = 400;
const KILLS = 20;
/** Kills of a process that writes without end; CASEBACK_KILLS=200 for the long trial. */
const KILLS_ON = Number(process.env.CASEBACK_KILLS ?? 4);

/** A journal with a few entries in it; answers their head. */
async function begin(file: string) {
  const journal = new SqliteJournal(file);
  await journal.append(numbered(BEFORE));
  const head = await journal.head();
  await journal.close();
  return head;
}

test('an import killed at any moment is in the journal completely or not at all', () =>
  inFolder(async (folder) => {
    const trial = join(folder, 'trial.sqlite');
    await begin(trial);
    const whole = await killDuring([CHILD, trial, String(IMPORTED)], Infinity, { mark: 'begun' });
    expect([whole.out, whole.err, whole.killed]).toEqual(['begun\ndone\n', '', false]);

    const random = seededRandom(testSeed());
    let killedInside = 0;
    // Where a kill falls is the machine's affair, so it goes on until enough fell inside.
    for (let i = 0; i < KILLS || killedInside < KILLS / 4; i++) {
      const file = join(folder, `journal-${i}.sqlite`);
      const head = await begin(file);
      const delay = random() * whole.passed;
      const { out, killed, err } = await killDuring([CHILD, file, String(IMPORTED)], delay, {
        mark: 'begun',
      });
      expect(err).toBe('');
      const journal = new SqliteJournal(file);
      const after = await journal.head();
      expect([BEFORE, BEFORE + IMPORTED]).toContain(after.sequence);
      // What was said to be durable is.
      if (out.includes('done')) expect(after.sequence).toBe(BEFORE + IMPORTED);
      if (after.sequence === BEFORE) expect(after).toEqual(head);
      expect(await verify(journal)).toEqual({ intact: true, entries: after.sequence });
      // It goes on from there.
      await journal.append(numbered(1), { expectedHead: after.sequence });
      await journal.close();
      if (killed && !out.includes('done')) killedInside++;
    }
  }));

test(
  'no entry that was acknowledged is lost when one process after another is killed',
  { timeout: 1_200_000 },
  () =>
    inFolder(async (folder) => {
      const file = join(folder, 'journal.sqlite');
      const random = seededRandom(testSeed());
      let acknowledged = 0;
      for (let i = 0; i < KILLS_ON; i++) {
        const { out, err, killed } = await killDuring([CHILD_ON, file], 20 + random() * 150, {
          mark: 'begun',
        });
        expect([err, killed]).toEqual(['', true]);
        const last = Number(/(\d+)\n[^\n]*$/u.exec(out)?.[1] ?? acknowledged);
        const journal = new SqliteJournal(file);
        const { sequence } = await journal.head();
        expect(sequence).toBeGreaterThanOrEqual(last);
        expect(await examine(journal)).toEqual({ whole: sequence, faults: [], damage: [], notes: [] });
        await journal.close();
        acknowledged = sequence;
      }
      expect(acknowledged).toBeGreaterThan(KILLS_ON);
      // What was left unfinished is cleared away by those who come after.
      expect(readdirSync(folder).sort()).toEqual(['journal.head.json', 'journal.sqlite']);
      if (KILLS_ON > 4) console.log(`${KILLS_ON} kills, ${acknowledged} entries`);
    }),
);
