import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { CatalogueIndex } from '../../src/identification/catalogue-index.ts';
import { STANDARD_CONFUSION } from '../../src/identification/confusion.ts';
import { Habits, habitsWithout } from '../../src/identification/habits.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { PartTable } from '../../src/identification/part-table.ts';
import { type Posterior, posterior } from '../../src/identification/posterior.ts';
import { kindsOf, learntAhead, priorsOf } from '../../src/identification/priors.ts';
import { logOfChange } from '../../src/identification/siblings.ts';
import type { Sighting } from '../../src/identification/sighting.ts';
import { parseTemplate } from '../../src/identification/template.ts';
import { MarkedCounts, uncataloguedShare } from '../../src/identification/uncatalogued-share.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { partIdOf, partSchema } from '../../src/model/catalogue.ts';
import { parseMarking } from '../../src/model/marking.ts';

// Held to enumeration (all two-digit siblings), to shares that counts were drawn with, and to what an editor knows of the trade:
// that a package named after its terminals says nothing more when they are counted.

const SEEN: Sighting = {
  component: 'U1',
  marking: undefined,
  package: undefined,
  pins: undefined,
  body: undefined,
  side: undefined,
  appears: undefined,
  neighbours: [],
  deviceMaker: 'nobody',
  released: '2024',
};

describe('in the demo archive, a chip that nobody has catalogued', () => {
  let identifier: Identifier;
  beforeAll(async () => {
    const archive = await Archive.open(new MemoryJournal());
    const { documents } = readFiles([join(import.meta.dirname, '../../seed-data')]);
    await archive.importDocuments(documents, { actor: 'A', reason: 'demo' });
    identifier = new Identifier();
    identifier.follow(archive.state('desk'));
  });
  const oddsOf = (seen: Partial<Sighting>): Posterior =>
    identifier.posteriorOfSighting({ ...SEEN, ...seen }, 'none of them');
  const weightsOf = (odds: Posterior, kind: string) =>
    odds.candidates.map(
      ({ part }) => odds.evidenceFor(partIdOf(part)).find((one) => one.kind === kind)?.decibans ?? 0,
    );

  test('stays one when the terminals of its wafer-level package are counted', () => {
    const seen = { package: 'WLCSP-9', marking: parseMarking('8WXJ51') };
    const [without, counted] = [oddsOf(seen), oddsOf({ ...seen, pins: 9 })];
    expect(without.none).toBeGreaterThan(0.4);
    // It fell to 0.0001.
    expect(counted.none).toBeGreaterThan(0.4);
    // It was +40.6 dB for every part with nine terminals.
    expect(Math.max(...weightsOf(counted, 'pin-count'))).toBeLessThan(3);
  });

  test('is no less one for having the size that all of its package have', () => {
    const odds = oddsOf({ package: 'SOT-23-5', pins: 5, body: [2.9, 1.6] });
    // It was +23 to +25 dB.
    expect(Math.max(...weightsOf(odds, 'body-size'))).toBeLessThan(3);
  });

  test('of which nothing but place and neighbours is known is one as often as chips are', () => {
    const { uncatalogued } = identifier.lessonsFor('none of them');
    const odds = oddsOf({ side: 'top', neighbours: [{ category: 'Microcontroller', bus: 'I2C' }] });
    expect(odds.none / uncatalogued).toBeGreaterThan(0.5);
    expect(odds.none / uncatalogued).toBeLessThan(2);
  });

  test('no clue of neighbours weighs more than 10 log10(n + 1) decibans, n as often as such connections were seen', () => {
    const neighbours = ['Microcontroller', 'Charger', 'Memory', 'Microphone', 'BluetoothRadio'].map(
      (category) => ({ category, bus: 'I2C' }),
    );
    const odds = oddsOf({ neighbours });
    const { habits } = identifier.lessonsFor('none of them');
    for (const { part } of odds.candidates) {
      const weight =
        odds.evidenceFor(partIdOf(part)).find(({ kind }) => kind === 'neighbours')?.decibans ?? 0;
      const times = habits.totalGiven('neighbour', part.categories[0]);
      expect(Math.abs(weight)).toBeLessThanOrEqual(10 * Math.log10(times + 1) + 1e-9);
    }
  });
});

describe('a part marked like a sibling of catalogued ones', () => {
  // Ten siblings of one family and thirty others; four of the family's hundred numbers end in 4.
  const family = ['00', '05', '10', '15', '20', '30', '40', '50', '60', '80'].map((end) => `HR29${end}`);
  const others = Array.from(
    { length: 30 },
    (_, i) => `${'BCDFGHKLMN'[i % 10]}${'TUVX'[i % 4]}${1000 + 271 * i}`,
  );
  const parts = [...family, ...others].map((number) =>
    partSchema.parse({
      ...{ number, maker: 'quistle', categories: ['Accelerometer'], markings: [`${number}{date:YWW}`] },
      ...{ package: 'LGA-12', pins: 12, body: { length: 2, width: 2 } },
    }),
  );
  const table = new PartTable(parts);
  const index = new CatalogueIndex(
    parts.map((one) => ({ id: partIdOf(one), number: one.number, markings: one.markings })),
    STANDARD_CONFUSION,
  );
  const habits = habitsWithout(new Habits(), new Habits());
  const priors = priorsOf(table, habits);
  const oddsOf = (written: string) =>
    posterior({
      sighting: { ...SEEN, package: 'LGA-12', pins: 12, body: [2, 2] },
      ...{ habits, table, priors, kinds: kindsOf(table, priors), judgements: [] },
      marking: index.weigh(parseMarking(written), -10),
    });

  test('is not taken for the nearest of them: HR2944 read in full is none, HR2940 read in full is HR2940', () => {
    // Nobody has read anything yet: one character in a hundred is misread, one chip in ten in no catalogue. It was 0.9993 HR2940.
    const full = oddsOf('HR2944517');
    expect(full.none).toBeGreaterThan(0.5);
    expect(full.candidates[0].probability).toBeLessThan(0.5);
    const { candidates, none } = oddsOf('HR2940517');
    expect(candidates[0].part.number).toBe('HR2940');
    expect(candidates[0].probability).toBeGreaterThan(0.97);
    expect(none).toBeLessThan(0.02);
  });

  test('a digit that was not read leaves those of the family and a sibling of theirs', () => {
    const { candidates, none } = oddsOf('HR294?517');
    expect(candidates[0].part.number).toBe('HR2940');
    expect(candidates[0].probability).toBeLessThan(0.995);
    expect(none).toBeGreaterThan(0.004);
  });

  test('changes of a text are probabilities: all texts of one length with the same letters sum to less than 1', () => {
    const text = (written: string) => String.fromCharCode(...parseTemplate(written).symbols);
    let sum = 0;
    for (let i = 0; i < 10_000; i++)
      sum += Math.exp(logOfChange(text('HR2940'), text(`HR${String(i).padStart(4, '0')}`)));
    // Two letters stay as they are.
    expect(sum).toBeCloseTo((1 - 0.06) ** 2, 9);
  });
});

describe('shares are learnt', () => {
  test('how often a chip is in no catalogue: counts drawn with 30 in 100 give that back', () => {
    const counts = new MarkedCounts();
    // Of 1,000 chips 300 are in none: their markings speak against the catalogue by 20 dB; 100 others are open and speak for it.
    counts.add(
      { settled: 600, open: [...Array(300).fill('against'), ...Array(100).fill('for')] },
      (marking) => (marking === 'for' ? Math.log(100) : -Math.log(100)),
    );
    expect(uncataloguedShare(counts)).toBeCloseTo(0.3, 1);
    counts.add({ settled: 0, open: Array(300).fill('against') }, () => -Math.log(100), -1);
    expect(uncataloguedShare(counts)).toBeLessThan(0.06);
  });

  test('what use elsewhere says: much where devices share parts, little where each has its own', () => {
    const table = new PartTable(
      Array.from({ length: 50 }, (_, i) =>
        partSchema.parse({ number: `P${i}`, maker: 'quistle', categories: ['Charger'] }),
      ),
    );
    const used = (parts: readonly number[]) => {
      const habits = new Habits();
      habits.add(parts.map((i) => ({ table: 'part', given: '', seen: `quistle/P${i}` })));
      return learntAhead(table, habitsWithout(habits, new Habits()));
    };
    const shared = used(Array.from({ length: 40 }, (_, i) => i % 4));
    const own = used(Array.from({ length: 40 }, (_, i) => i));
    expect(shared).toBeLessThan(0.5);
    expect(own).toBeGreaterThan(2);
  });
});
