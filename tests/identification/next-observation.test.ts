import { expect, test } from 'vitest';
import { Habits, habitsWithout } from '../../src/identification/habits.ts';
import { nextObservations } from '../../src/identification/next-observation.ts';
import { PartTable } from '../../src/identification/part-table.ts';
import { posterior } from '../../src/identification/posterior.ts';
import { kindsOf, priorsOf } from '../../src/identification/priors.ts';
import type { Sighting } from '../../src/identification/sighting.ts';
import { partSchema } from '../../src/model/catalogue.ts';
import { parseMarking } from '../../src/model/marking.ts';

const part = (number: string, category: string) =>
  partSchema.parse({ number, maker: 'quillon', categories: [category] });
const TABLE = new PartTable([part('QWR1', 'Accelerometer'), part('QWR2', 'Microcontroller')]);
const habits = habitsWithout(new Habits(), new Habits());
const priors = priorsOf(TABLE, habits);

const HIDDEN: Sighting = {
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

function liftingFor(seen: Partial<Sighting>) {
  const sighting = { ...HIDDEN, ...seen };
  const odds = posterior({
    sighting,
    habits,
    table: TABLE,
    priors,
    kinds: kindsOf(TABLE, priors),
    marking: undefined,
    judgements: [],
  });
  return nextObservations(sighting, odds, habits).find(({ method }) => method.id === 'lift-shield');
}

test('lifting the shield is offered where nothing under it was seen, and for a shield, with its cautions', () => {
  const lifting = liftingFor({});
  expect(lifting?.method).toMatchObject({
    reads: 'appearance',
    minutes: 15,
    destructive: true,
    hazards: ['heat'],
  });
  expect(lifting?.bitsPerMinute).toBeCloseTo((lifting?.gainBits ?? 0) / 15, 12);
  // The caution of heat beside the standing one.
  expect(lifting?.cautions.length).toBeGreaterThan(1);
  expect(liftingFor({ appears: 'Shield', package: 'QFN-48' })).toBeDefined();
});

test('an open component has no shield to lift', () => {
  expect(liftingFor({ package: 'QFN-48' })).toBeUndefined();
  expect(liftingFor({ body: [3, 2] })).toBeUndefined();
  expect(liftingFor({ marking: parseMarking('QWR?') })).toBeUndefined();
});
