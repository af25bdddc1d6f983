import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { SURROUNDINGS } from '../../src/classes/class-pinouts.ts';
import type { NetClues } from '../../src/classes/net-clues.ts';
import { CatalogueIndex } from '../../src/identification/catalogue-index.ts';
import { parseConfusion, STANDARD_CONFUSION } from '../../src/identification/confusion.ts';
import { Habits, habitsWithout, packageKey } from '../../src/identification/habits.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { expectedGainBits } from '../../src/identification/information.ts';
import { PartTable } from '../../src/identification/part-table.ts';
import { type Posterior, posterior } from '../../src/identification/posterior.ts';
import { kindsOf, priorsOf } from '../../src/identification/priors.ts';
import type { Sighting } from '../../src/identification/sighting.ts';
import { PRIOR_NONE } from '../../src/identification/uncatalogued-share.ts';
import { type Part, partIdOf, partSchema } from '../../src/model/catalogue.ts';
import { identificationSchema, judgementSchema, observationSchema } from '../../src/model/dossier.ts';
import { parseMarking } from '../../src/model/marking.ts';
import type { State } from '../../src/state/state.ts';
import { entropyBits } from '../../src/statistics/entropy.ts';
import { archiveOf } from '../service/serving.ts';

const published = JSON.parse(readFileSync(new URL('../reference/statistics.json', import.meta.url), 'utf8'));

const part = (number: string, more: object = {}): Part =>
  partSchema.parse({ number, maker: 'quistle', categories: ['Accelerometer'], ...more });
const PARTS = [
  part('QWR1', {
    ...{ package: 'LGA-12', pins: 12, body: { length: 2, width: 2 }, introduced: '2014' },
    pinout: [
      { number: '1', function: 'supply-input' },
      { number: '2', function: 'ground' },
      { number: '12', name: 'SDA', function: 'data' },
    ],
  }),
  part('QWR2', { package: 'LGA-14', pins: 14, body: { length: 3, width: 2.5 }, introduced: '2019' }),
  part('OS7', { maker: 'ostrel', categories: ['Microcontroller'], package: 'QFN-48', pins: 48 }),
  part('OS9', { maker: 'ostrel', categories: ['AnalogueFrontEnd'], markings: ['OS9{lot:2}'] }),
];
const TABLE = new PartTable(PARTS);
const INDEX = new CatalogueIndex(
  PARTS.map((one) => ({ id: partIdOf(one), number: one.number, markings: one.markings })),
  STANDARD_CONFUSION,
);
const HABITS = new Habits();
HABITS.add([
  { table: 'part', given: '', seen: 'quistle/QWR1' },
  { table: 'part', given: '', seen: 'ostrel/OS7' },
  { table: 'maker', given: 'tarn', seen: 'quistle' },
  { table: 'neighbour', given: 'Accelerometer', seen: 'Microcontroller' },
  { table: 'package', given: '', seen: 'LGA' },
]);
const habits = habitsWithout(HABITS, new Habits());
const priors = priorsOf(TABLE, habits);

const NOTHING_SEEN: Sighting = {
  component: 'U1',
  marking: undefined,
  package: undefined,
  pins: undefined,
  body: undefined,
  side: undefined,
  appears: undefined,
  neighbours: [],
  // A maker of devices that nothing is known of, and a year when all parts were there: no evidence.
  deviceMaker: 'nobody',
  released: '2024',
};

function oddsOf(sighting: Partial<Sighting>, judgements: Parameters<typeof posterior>[0]['judgements'] = []) {
  const { marking } = sighting;
  return posterior({
    sighting: { ...NOTHING_SEEN, ...sighting },
    habits,
    table: TABLE,
    priors,
    kinds: kindsOf(TABLE, priors),
    marking: marking && INDEX.weigh(marking, -10),
    judgements,
  });
}

const whole = ({ candidates, others, none }: Posterior) =>
  candidates.reduce((sum, { probability }) => sum + probability, others + none);

const sighting = fc.record(
  {
    marking: fc.constantFrom('QWR1', 'QWR?', 'OS9A1', 'ZZZ', 'O59[8B]1').map(parseMarking),
    package: fc.constantFrom('LGA-12', 'QFN-48', 'BGA-64'),
    pins: fc.integer({ min: 1, max: 60 }),
    body: fc.tuple(fc.double({ min: 2, max: 9, noNaN: true }), fc.double({ min: 0.3, max: 2, noNaN: true })),
    side: fc.constantFrom('top' as const, 'bottom' as const),
    appears: fc.constantFrom('Sensor', 'Processor', 'Battery'),
    nets: fc
      .array(
        fc.record({
          label: fc.constantFrom('1', '2', '7', '12', undefined),
          net: fc.constantFrom('n1', 'n2', undefined),
          may: fc.subarray([...SURROUNDINGS], { minLength: 1 }),
          volts: fc.constantFrom(1.8, 3.3, undefined),
        }),
        { maxLength: 6 },
      )
      .map(
        (pins): NetClues => ({
          ...{ pins, terminals: 12, package: 'LGA-12', seenBy: 'numbered' },
          met: () => [],
        }),
      ),
    deviceMaker: fc.constantFrom('tarn', 'veil'),
    released: fc.constantFrom('2010', '2016-05', '2024'),
  },
  { requiredKeys: [] },
);

describe('posterior', () => {
  test('sums to 1, whatever was seen', () => {
    fc.assert(
      fc.property(sighting, (seen) => {
        expect(whole(oddsOf(seen))).toBeCloseTo(1, 12);
      }),
      { numRuns: 300 },
    );
  });

  test('without evidence is the prior: kinds by use and the root of their parts, parts by use; "none" as often as stated', () => {
    const { candidates, none } = oddsOf({});
    expect(none).toBeCloseTo(PRIOR_NONE, 12);
    // Two accelerometers, one of them used once: the kind counts 1 + √2 / 2 of 2 uses and half of √2 + 1 + 1 ahead of them; within
    // it half a use ahead for each part makes shares of 1.5 : 0.5.
    const byPart = new Map(candidates.map((one) => [one.part.number, one.probability]));
    const ofKind = (1 + Math.SQRT1_2) / (2 + Math.SQRT1_2 + 1);
    expect(byPart.get('QWR1')).toBeCloseTo((1 - PRIOR_NONE) * ofKind * (1.5 / 2), 12);
    expect(byPart.get('QWR2')).toBeCloseTo((1 - PRIOR_NONE) * ofKind * (0.5 / 2), 12);
  });

  test('weights of evidence add up to the odds against "none" (Good 1950)', () => {
    fc.assert(
      fc.property(sighting, (seen) => {
        const odds = oddsOf(seen);
        for (const { part: one, probability, priorDecibans } of odds.candidates) {
          const weights = odds.evidenceFor(partIdOf(one)).reduce((sum, { decibans }) => sum + decibans, 0);
          expect(priorDecibans + weights).toBeCloseTo(10 * Math.log10(probability / odds.none), 6);
        }
      }),
      { numRuns: 200 },
    );
  });

  test('is the same to the last digit in whatever order judgements and connections came', () => {
    const judgement = fc.record({
      part: fc.constantFrom(...PARTS.map(partIdOf)),
      decibans: fc.double({ min: -60, max: 60, noNaN: true }),
      by: fc.constantFrom('A', 'B'),
      reason: fc.constantFrom('x', 'y'),
    });
    const neighbour = fc.record({
      category: fc.constantFrom('Microcontroller', 'Memory', 'Battery'),
      bus: fc.constantFrom('I2C', 'SPI', undefined),
    });
    fc.assert(
      fc.property(
        sighting,
        fc.array(judgement, { maxLength: 5 }).chain((all) => fc.tuple(fc.constant(all), shuffled(all))),
        fc.array(neighbour, { maxLength: 5 }).chain((all) => fc.tuple(fc.constant(all), shuffled(all))),
        (seen, [judgements, judgements2], [neighbours, neighbours2]) => {
          const numbers = ({ candidates, none }: Posterior) => [none, ...candidates];
          expect(numbers(oddsOf({ ...seen, neighbours: neighbours2 }, judgements2))).toEqual(
            numbers(oddsOf({ ...seen, neighbours }, judgements)),
          );
        },
      ),
      { numRuns: 200 },
    );
  });

  test("Bayes' worked example (Eddy 1982; Gigerenzer & Hoffrage 1995), the test result entered as evidence", () => {
    const { prior, p_e_given_h, p_e_given_not_h, posterior: expected, ...rest } = published.bayes_odds;
    const decibans = 10 * Math.log10(p_e_given_h / p_e_given_not_h);
    expect(decibans).toBeCloseTo(rest.weight_of_evidence_decibans, 4);
    // One part alone, its prior brought to that of the example by a judgement.
    const table = new PartTable([PARTS[0]]);
    const none = habitsWithout(new Habits(), new Habits());
    const toPrior = 10 * Math.log10(prior / (1 - prior)) - 10 * Math.log10((1 - PRIOR_NONE) / PRIOR_NONE);
    const judged = (weight: number) => ({
      part: 'quistle/QWR1',
      decibans: weight,
      by: 'A',
      reason: 'example',
    });
    const { candidates } = posterior({
      sighting: NOTHING_SEEN,
      habits: none,
      table,
      priors: priorsOf(table, none),
      kinds: kindsOf(table, priorsOf(table, none)),
      marking: undefined,
      judgements: [judged(toPrior), judged(decibans)],
    });
    expect(candidates[0].probability).toBeCloseTo(expected, 5);
  });
});

function shuffled<T>(all: readonly T[]) {
  return fc.shuffledSubarray([...all], { minLength: all.length, maxLength: all.length });
}

describe('observations recorded in any order', () => {
  test('give the same probabilities', async () => {
    const written = [
      { id: 's1', kind: 'pin-count', value: '12', on: '2024-02-01' },
      { id: 's2', kind: 'pin-count', value: '14', on: '2024-03-01' },
      { id: 's3', kind: 'package', text: 'LGA-14', on: '2024-02-01' },
      { id: 's4', kind: 'marking', marking: '4T?0\n352' },
      { id: 's5', kind: 'marking', marking: '4T10\n3?2' },
    ];
    const answers = new Set<string>();
    for (const order of [written, written.toReversed(), [2, 4, 1, 0, 3].map((i) => written[i])]) {
      const archive = await archiveOf();
      for (const one of order) {
        const observation = observationSchema.parse({ about: ['U10'], ...one });
        await archive.recordObservation('tarn-sennit-1/a', observation, { actor: 'A', reason: 'b' }, 'desk');
      }
      answers.add(JSON.stringify(probabilities(archive.state('desk'))));
    }
    expect(answers.size).toBe(1);
  });
});

describe('a single change', () => {
  const BY = { actor: 'A', reason: 'b' };
  const SPECIMEN = 'tarn-sennit-1/a';

  /** Probabilities of every component that the desk sees, by its global id. */
  function allNumbers(identifier: Identifier, view: State): ReadonlyMap<string, string> {
    const numbers = new Map<string, string>();
    for (const { id, deviceId } of view.specimenRows()) {
      const opened = view.specimen(id);
      const device = view.device(deviceId);
      if (!opened || !device) continue;
      for (const component of opened.dossier.components) {
        const { candidates, none } = identifier.posteriorOf(opened, component, device);
        const said = candidates.map((one) => [partIdOf(one.part), one.probability]);
        numbers.set(`${id}/${component.id}`, JSON.stringify([none, ...said]));
      }
    }
    return numbers;
  }

  /** Components whose numbers a change made others, followed step by step; and none are other than from scratch. */
  async function changedBy(change: (archive: Archive) => Promise<unknown>) {
    const archive = await archiveOf();
    const identifier = new Identifier();
    identifier.follow(archive.state('desk'));
    const { habitsVersion } = identifier;
    const before = allNumbers(identifier, archive.state('desk'));
    await change(archive);
    identifier.follow(archive.state('desk'));
    const after = allNumbers(identifier, archive.state('desk'));
    const anew = new Identifier();
    anew.follow(archive.state('desk'));
    expect(after).toEqual(allNumbers(anew, archive.state('desk')));
    const changed = [...after].filter(([id, said]) => before.get(id) !== said).map(([id]) => id);
    return { changed, all: after.size, learnt: identifier.habitsVersion !== habitsVersion };
  }

  test('of one observation changes the numbers of its component and no others', async () => {
    const observation = observationSchema.parse({ id: 's1', about: ['U10'], kind: 'pin-count', value: '12' });
    const { changed, all, learnt } = await changedBy((archive) =>
      archive.recordObservation(SPECIMEN, observation, BY, 'desk'),
    );
    expect(all).toBeGreaterThan(20);
    expect(changed).toEqual([`${SPECIMEN}/U10`]);
    expect(learnt).toBe(false);
  });

  test('of one judgement does the same', async () => {
    const judgement = judgementSchema.parse({
      ...{ component: 'U10', part: 'quistle/QWR4T10', decibans: 5 },
      ...{ by: 'A', reason: 'b' },
    });
    const { changed, learnt } = await changedBy((archive) =>
      archive.judgeIdentification(SPECIMEN, judgement, BY, 'desk'),
    );
    expect(changed).toEqual([`${SPECIMEN}/U10`]);
    expect(learnt).toBe(false);
  });

  test('of a settled identification changes what other devices learn, but not its own device', async () => {
    const identification = identificationSchema.parse({
      component: 'U10',
      candidates: [{ part: 'quistle/QWR4T10', probability: 0.99 }],
      state: 'settled',
    });
    const { changed, learnt } = await changedBy((archive) =>
      archive.setIdentification(SPECIMEN, identification, BY, 'desk'),
    );
    expect(learnt).toBe(true);
    expect(changed.some((id) => id.startsWith('tarn-sennit-2/'))).toBe(true);
    // Its neighbours may count it as theirs; the component itself learns nothing of itself.
    expect(changed).not.toContain(`${SPECIMEN}/U10`);
  });
});

function probabilities(view: Parameters<Identifier['follow']>[0]) {
  const identifier = new Identifier();
  identifier.follow(view);
  const opened = view.specimen('tarn-sennit-1/a');
  const component = opened?.components.get('U10');
  const device = view.device('tarn-sennit-1');
  if (!opened || !component || !device) throw new Error('the invented archive has changed');
  const { candidates, none } = identifier.posteriorOf(opened, component, device);
  return [none, ...candidates.map((one) => [partIdOf(one.part), one.probability])];
}

test('terminals under a wafer-level package or ball grid are not visible, so only the package family counts', () => {
  expect(packageKey('WLCSP-36')).toBe(packageKey('wlcsp 49'));
  expect(packageKey('BGA-64')).toBe('BGA');
  expect(packageKey('QFN-48')).not.toBe(packageKey('QFN-40'));
});

test('an editor may replace the standard confusion table', () => {
  const one = [{ id: 'a/W8', number: 'W8', markings: ['W8W8W8'] }];
  const strange = parseConfusion(
    '{confusions: [{a: "8", b: "T", probability: 0.4}], otherwise: 0.01, overlooked: 0.01, imagined: 0.005}',
  );
  const weigh = (table: typeof strange) =>
    new CatalogueIndex(one, table).weigh(parseMarking('WTWTWT'), -50)?.ratios[0] ?? -50;
  expect(weigh(strange)).toBeGreaterThan(weigh(STANDARD_CONFUSION) + 5);
});

describe('information gain', () => {
  test("of Quinlan's weather table: entropy 0.940 bits, gain of outlook 0.246 (Quinlan 1986, section 4)", () => {
    const { entropy_bits, gain_outlook_bits } = published.information_gain;
    expect(entropyBits([9 / 14, 5 / 14])).toBeCloseTo(entropy_bits, 5);
    const given = (sunny: number, overcast: number, rain: number) => {
      const sum = sunny + overcast + rain;
      return new Map([
        ['sunny', sunny / sum],
        ['overcast', overcast / sum],
        ['rain', rain / sum],
      ]);
    };
    expect(expectedGainBits([9 / 14, 5 / 14], [given(2, 4, 3), given(3, 0, 2)])).toBeCloseTo(
      gain_outlook_bits,
      4,
    );
  });

  test('lies between 0 and the entropy of the question, and is all of it where outcomes differ', () => {
    expect(expectedGainBits([0.5, 0.5], [new Map([['a', 1]]), new Map([['b', 1]])])).toBeCloseTo(1, 12);
    expect(expectedGainBits([0.5, 0.5], [new Map([['a', 1]]), new Map([['a', 1]])])).toBeCloseTo(0, 12);
  });
});
