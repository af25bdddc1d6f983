import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';
import { databaseStore, embeddedStore } from './kills/stores.ts';
import { killServices } from './kills/trial.ts';

// A killed service is started again on what is left, and its clients go on. CASEBACK_KILLS=200 for the long trial: so many kills of a
// service over each store, a third of them while it starts, and half as many of the database.
const FEW = 3;
const KILLS = Number(process.env.CASEBACK_KILLS ?? FEW);
const starting = Math.floor(KILLS / 3);
const LONGEST = 7_200_000;
/** A long trial says how far it has come. */
const progress = (kills: number, changes: number): void => {
  if (KILLS > FEW && kills % 20 === 0) console.log(`${kills} kills, ${changes} changes`);
};

test('a service over the embedded store is killed under writing clients: what was acknowledged is there, once, and whole', {
  timeout: LONGEST,
}, async () => {
  const store = embeddedStore();
  try {
    const kills = { serving: KILLS - starting, starting, server: 0 };
    const outcome = await killServices(store, 1, kills, seededRandom(testSeed()), progress);
    expect(outcome).toMatchObject({ unanswered: 0, said: '' });
    expect(outcome.acknowledged).toBeGreaterThan(KILLS);
    expect(outcome.counts.lost).toBeGreaterThan(0);
    // What was left unfinished has been cleared away by those who started next.
    const left = readdirSync(join(store.folder, 'data-0'));
    expect(left.sort()).toEqual(['journal.head.json', 'journal.sqlite', 'snapshot']);
    if (KILLS > FEW) console.log(outcome);
  } finally {
    await store.remove();
  }
});

test('services over one database, and the database, are killed under writing clients: all converge on what was acknowledged', {
  timeout: LONGEST,
}, async () => {
  const store = await databaseStore();
  try {
    const kills =
      KILLS > FEW
        ? { serving: KILLS - starting, starting, server: Math.ceil(KILLS / 2) }
        : { serving: 1, starting: 0, server: 1 };
    const outcome = await killServices(store, 2, kills, seededRandom(testSeed()), progress);
    expect(outcome).toMatchObject({ unanswered: 0 });
    expect(outcome.acknowledged).toBeGreaterThan(KILLS);
    expect(outcome.counts.lost).toBeGreaterThan(0);
    if (KILLS > FEW) console.log(outcome);
  } finally {
    await store.remove();
  }
});
