import fc from 'fast-check';
import { expect, test } from 'vitest';
import { lineage, TERMS } from '../../src/model/taxonomy.ts';
import { numberOf, presenceIn } from '../../src/presence/row.ts';
import { catalogueChanges, dossierChange, liveOf } from '../state/archive-of.ts';

// Outside check: every world that a few uncertain components allow, one by one, with nothing of the module under test.

const CATEGORIES: Readonly<Record<string, readonly string[]>> = {
  'quistle/A1': ['Accelerometer'],
  'quistle/A2': ['Accelerometer', 'Gyroscope'],
  'ostrel/M1': ['Microcontroller', 'BluetoothRadio'],
  'ostrel/P1': ['PressureSensor'],
};
const CATALOGUE = catalogueChanges({
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'] },
    { id: 'quistle', name: 'Quistle', makes: ['parts'] },
    { id: 'ostrel', name: 'Ostrel', makes: ['parts'] },
  ],
  parts: Object.entries(CATEGORIES).map(([id, categories]) => {
    const [maker, number] = id.split('/') as [string, string];
    return { number, maker, categories: [...categories] };
  }),
});
const NAMES = [...TERMS, ...Object.keys(CATEGORIES), 'quistle', 'ostrel'];

interface Candidate {
  readonly part?: string;
  readonly category?: string;
  readonly maker?: string;
  readonly probability: number;
}

const outcome = fc.oneof(
  fc.constantFrom(...Object.keys(CATEGORIES)).map((part) => ({ part })),
  fc.constantFrom('Microphone', 'Accelerometer', 'Radio', 'Sensor').map((category) => ({ category })),
  fc.constantFrom('quistle', 'ostrel').map((maker) => ({ maker })),
);
const component = fc.record(
  {
    appears: fc.constantFrom('IntegratedCircuit', 'Module', 'Capacitor', 'PouchCell'),
    candidates: fc
      .array(fc.tuple(outcome, fc.integer({ min: 1, max: 60 })), { maxLength: 3 })
      .map((all): Candidate[] => {
        const total = Math.max(60, ...[all.reduce((sum, [, weight]) => sum + weight, 0)]);
        return all.map(([one, weight]) => ({
          ...one,
          probability: Number((weight / total).toFixed(3)) * 0.999,
        }));
      }),
  },
  { requiredKeys: ['candidates'] },
);

/** What is true of a component under one of its candidates. */
function namesUnder({ part, category, maker }: Omit<Candidate, 'probability'>, appears?: string) {
  const terms = [...(part ? (CATEGORIES[part] as readonly string[]) : []), ...(category ? [category] : [])];
  const names = new Set([...terms.flatMap(lineage), ...lineage(appears ?? 'Component')]);
  if (part) names.add(part);
  const by = part ? part.slice(0, part.indexOf('/')) : maker;
  if (by) names.add(by);
  return names;
}

test('probability, expected number, variance and counts are those of the worlds, counted one by one', () =>
  fc.assert(
    fc.property(fc.array(component, { minLength: 1, maxLength: 4 }), (written) => {
      const live = liveOf([
        ...CATALOGUE,
        dossierChange({
          device: { id: 'd', name: 'D', maker: 'tarn', released: '2020', bodySite: 'wrist' },
          specimen: { id: 'a' },
          components: written.map(({ appears }, at) => ({
            id: `U${at + 1}`,
            ...(appears ? { appears } : {}),
          })),
          identifications: written.flatMap(({ candidates }, at) =>
            candidates.length > 0 ? [{ component: `U${at + 1}`, candidates }] : [],
          ),
        }),
      ]);
      const specimen = live.state('reader', '2026-01-01T00:00:00.000Z').specimen('d/a');
      if (!specimen) throw new Error('the specimen is there');
      // What an unnamed component may be is a list of candidates like any other.
      const things = written.map(({ candidates, appears }, at) => {
        const all = [...candidates, ...(specimen.spreads.get(`U${at + 1}`) ?? [])];
        const rest = 1 - all.reduce((sum, { probability }) => sum + probability, 0);
        return [...all, { probability: rest }].map(({ probability, ...one }) => ({
          probability,
          names: namesUnder(one, appears),
        }));
      });
      const row = presenceIn(specimen);
      for (const name of NAMES) {
        const { some, mean, square } = overWorlds(things, name);
        const each = things.map((alternatives) =>
          alternatives.reduce(
            (sum, { probability, names }) => (names.has(name) ? sum + probability : sum),
            0,
          ),
        );
        const amount = row.amountOf(numberOf(name));
        if (amount === undefined) {
          expect([name, some]).toEqual([name, 0]);
          continue;
        }
        expect([name, amount]).toEqual([
          name,
          {
            probability: expect.closeTo(some, 8),
            expected: expect.closeTo(mean, 8),
            variance: expect.closeTo(square - mean ** 2, 8),
            certain: each.filter((p) => p >= 0.95 - 1e-12).length,
            likely: each.filter((p) => p >= 0.5 - 1e-12).length,
            possible: each.filter((p) => p >= 0.05 - 1e-12).length,
          },
        ]);
      }
    }),
    { numRuns: 60 },
  ));

type Thing = readonly { readonly probability: number; readonly names: ReadonlySet<string> }[];

/** Over all worlds: probability that something is of a name, mean number of things that are, and mean of its square. */
function overWorlds(things: readonly Thing[], name: string) {
  let worlds: readonly { readonly probability: number; readonly count: number }[] = [
    { probability: 1, count: 0 },
  ];
  for (const thing of things) {
    // Alternatives that the name does not tell apart are one.
    const told = Map.groupBy(thing, ({ names }) => names.has(name));
    const sum = (alternatives: Thing = []) => alternatives.reduce((all, one) => all + one.probability, 0);
    worlds = worlds.flatMap(({ probability, count }) => [
      { probability: probability * sum(told.get(true)), count: count + 1 },
      { probability: probability * sum(told.get(false)), count },
    ]);
  }
  const over = (of: (count: number) => number) =>
    worlds.reduce((all, { probability, count }) => all + probability * of(count), 0);
  return {
    some: over((count) => (count > 0 ? 1 : 0)),
    mean: over((count) => count),
    square: over((count) => count ** 2),
  };
}
