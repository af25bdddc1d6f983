import { expect, test } from 'vitest';
import type { Surrounding } from '../../src/classes/class-pinouts.ts';
import type { NetClues } from '../../src/classes/net-clues.ts';
import { STANDARD_CONFUSION } from '../../src/identification/confusion.ts';
import { Habits, habitsWithout } from '../../src/identification/habits.ts';
import { BENCH_METHODS } from '../../src/identification/methods.ts';
import { nextObservations } from '../../src/identification/next-observation.ts';
import { PartTable } from '../../src/identification/part-table.ts';
import { kindsOf, priorsOf } from '../../src/identification/priors.ts';
import type { Sighting } from '../../src/identification/sighting.ts';
import { partSchema } from '../../src/model/catalogue.ts';
import { cautionsFor, hazardsOfStep } from '../../src/model/cautions.ts';
import { parseMarking } from '../../src/model/marking.ts';

const part = (number: string, category: string) =>
  partSchema.parse({ number, maker: 'quistle', categories: [category] });
const TABLE = new PartTable([part('QWR1', 'Accelerometer'), part('QWR2', 'Microcontroller')]);
const habits = habitsWithout(new Habits(), new Habits());

function nextFor(sighting: Sighting, table: PartTable) {
  const priors = priorsOf(table, habits);
  return nextObservations(
    { sighting, habits, table, priors, kinds: kindsOf(table, priors), marking: undefined, judgements: [] },
    { weigh: () => undefined, confusion: STANDARD_CONFUSION, siblings: 0.5 },
  );
}

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
  return nextFor(sighting, TABLE).find(({ method }) => method.id === 'lift-shield');
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

test('whoever is told to open a package, probe or X-ray is told of acid and fumes, mains and rays', () => {
  const told = (id: string) => {
    const method = BENCH_METHODS.find((one) => one.id === id);
    if (!method) throw new Error(`no method ${id}`);
    return cautionsFor(hazardsOfStep(method)).join(' ');
  };
  expect(told('open-package')).toMatch(/fume hood/u);
  expect(told('probe-bus')).toMatch(/never from a mains charger.*Disconnect chargers/u);
  expect(told('x-ray')).toMatch(/interlocked cabinet/u);
  // A method that touches more than a ruler and a lamp has a hazard.
  const harmless = BENCH_METHODS.filter(({ hazards }) => hazards.length === 0).map(({ id }) => id);
  expect(harmless).toEqual(['raking-light', 'count-pins', 'measure-body', 'name-package', 'follow-trace']);
});

test('an open component has no shield to lift', () => {
  expect(liftingFor({ package: 'QFN-48' })).toBeUndefined();
  expect(liftingFor({ body: [3, 2] })).toBeUndefined();
  expect(liftingFor({ marking: parseMarking('QWR?') })).toBeUndefined();
});

test('a pin that no net reaches yet is proposed by name, the one that tells most, once its neighbours are traced', () => {
  const regulators = new PartTable([part('QN3', 'LinearRegulator'), part('QN4', 'OperationalAmplifier')]);
  const pin = (label: string, may: Surrounding) => ({ label, net: label, may: [may], volts: undefined });
  const proposed = (nets: NetClues | undefined) => {
    const sighting = { ...HIDDEN, package: 'SOT-23-5', pins: 5, nets };
    return nextFor(sighting, regulators).filter((one) => one.pin !== undefined);
  };
  const traced: NetClues = {
    pins: [pin('2', 'ground')],
    ...{ terminals: 5, package: 'SOT-23-5', seenBy: 'numbered', met: () => [] },
  };
  const [best, ...others] = proposed(traced);
  // Pin 2 is ground of both kinds; of the rest the supply input of the one is the output of the other.
  expect(best.pin).not.toBe('2');
  expect(best.action).toBe(`Follow the trace of pin ${best.pin} to what it leads to`);
  expect(best.gainBits).toBeGreaterThan(0.05);
  expect(others.map(({ method }) => method.id).sort()).toEqual(['probe-bus', 'x-ray']);
  // A probe at the same pin sees no more than a trace that leads to what hangs there.
  for (const one of others) expect(one.gainBits).toBeLessThanOrEqual(best.gainBits);
  // When every pin is traced, or none ever was, no pin is proposed.
  const all = ['1', '2', '3', '4', '5'].map((label) => pin(label, label === '2' ? 'ground' : 'rail'));
  expect(proposed({ ...traced, pins: all })).toEqual([]);
  expect(proposed(undefined)).toEqual([]);
});
