import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { defaultPool } from '../../src/gql/gql.ts';
import { cochranArmitageOf } from '../../src/statistics/cochran-armitage.ts';
import { wilson } from '../../src/statistics/proportion.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { findStructures } from '../../src/structures/find-structures.ts';
import { entriesOf } from '../state/archive-of.ts';
import { by, changesOf, type Kind, liveWith, type Made, seen, viewOf } from './made.ts';

afterAll(() => defaultPool().close());

/** Processor 0 with a sensor on I2C and a regulator; a gauge between cell and regulator where asked. */
const circuit = (gauge: boolean): Pick<Made, 'components' | 'joined'> => ({
  components: [
    'Microcontroller',
    'Accelerometer',
    'LinearRegulator',
    'PouchCell',
    ...(gauge ? ['FuelGauge'] : []),
  ],
  joined: [
    by('I2C', 0, 1),
    by('power', 2, 0),
    ...(gauge ? [by('power', 3, 4), by('power', 4, 2)] : [by('power', 3, 2)]),
  ],
});

/** Two devices a year from 2010 on; the gauge comes in 2016. */
const YEARS = Array.from({ length: 24 }, (_, at): Made => {
  const year = 2010 + Math.floor(at / 2);
  return { id: `device-${String(at).padStart(2, '0')}`, released: String(year), ...circuit(year >= 2016) };
});

describe('an archive with fuel gauges from 2016 on', () => {
  const view = viewOf(YEARS, [
    {
      id: 'gauge-between',
      name: 'Gauge between cell and regulator',
      idea: 'All current passes the gauge.',
      text: "MATCH (c:PouchCell)~[:CONNECTS {bus: 'power'}]~(g:FuelGauge)~[:CONNECTS {bus: 'power'}]~(r:Regulator) RETURN c, g, r",
      reasons: ['To count every charge.'],
    },
    {
      id: 'listens',
      name: 'It listens',
      idea: 'A microphone is there.',
      text: 'MATCH (m:Microphone) RETURN m',
      reasons: ['To hear.'],
    },
  ]);

  test('structures, their number of devices, with the interval of the share', async () => {
    const answer = await findStructures(view, { minSize: 3, maxSize: 5, variants: true });
    expect(answer).toMatchObject({ devices: 24, minSupport: 3, complete: true });
    // Common to all: sensor, processor and regulator; and with all that hangs on it the circuit of each half.
    expect(answer.structures.map(({ support, kinds }) => [support, kinds.length]).sort()).toEqual([
      [12, 4],
      [12, 5],
      [24, 3],
    ]);
    expect(answer.found).toBe(3);
    for (const { support, share, shareInterval, possible, expected } of answer.structures) {
      expect(share).toBe(support / 24);
      expect(shareInterval).toEqual(wilson(support, 24));
      expect([possible, expected]).toEqual([support, support]);
    }
  });

  test('against the years: Cochran and Armitage, corrected over all structures found', async () => {
    const { structures } = await findStructures(view, { maxSize: 5, variants: true });
    const gauge = structures.find(({ words }) => words.includes('FuelGauge'));
    const years = Array.from({ length: 12 }, (_, at) => 2010 + at);
    const test = cochranArmitageOf(
      years.map((year) => (year >= 2016 ? 2 : 0)),
      years.map(() => 2),
      years,
    );
    if (!('p' in test)) throw new Error('it can be tested');
    expect(gauge?.year).toMatchObject({ n: 24, years: 12 });
    expect(gauge?.year?.p).toBeCloseTo(test.p, 12);
    expect(gauge?.year?.slope).toBeCloseTo(test.slope, 12);
    // Two were tested, with the same p: what all have cannot go with the years.
    expect(gauge?.year?.q).toBeCloseTo(test.p, 12);
    expect(structures.find(({ support }) => support === 24)?.year).toBeNull();
  });

  test('ordered by years, structures that follow them come first; with too few devices there is no verdict', async () => {
    const { structures } = await findStructures(view, { maxSize: 5, order: 'year', variants: true });
    expect(structures.at(-1)?.support).toBe(24);
    const few = await findStructures(viewOf(YEARS.slice(4, 20)), { maxSize: 5 });
    expect(few.structures.length).toBeGreaterThan(0);
    for (const { year } of few.structures) expect(year).toBeNull();
  });

  test('named patterns on the same components are listed, others are not', async () => {
    const { structures } = await findStructures(view, { maxSize: 5, variants: true });
    for (const { words, knownAs } of structures) {
      expect(knownAs).toEqual(
        words.includes('FuelGauge')
          ? [{ id: 'gauge-between', name: 'Gauge between cell and regulator', share: 1 }]
          : [],
      );
    }
  });

  test('only structures without a named pattern, when asked for', async () => {
    const { structures, found } = await findStructures(view, {
      maxSize: 5,
      variants: true,
      unwritten: true,
    });
    expect(found).toBeGreaterThan(structures.length);
    expect(structures.length).toBeGreaterThan(0);
    for (const { kinds, knownAs } of structures) {
      expect(knownAs).toEqual([]);
      expect(kinds).not.toContain('FuelGauge');
    }
  });

  test('variants that differ in one component are left out and counted, unless asked for', async () => {
    const few = await findStructures(view, { minSize: 2, maxSize: 5 });
    const all = await findStructures(view, { minSize: 2, maxSize: 5, variants: true });
    expect(all.structures.length).toBe(all.found);
    expect(few.found).toBe(all.found);
    expect(few.structures.length).toBeLessThan(all.found);
    const left = few.structures.reduce((sum, { variants }) => sum + variants, 0);
    expect(few.structures.length + left).toBe(all.found);
  });

  test('a size limit that cuts a structure off is reported', async () => {
    const { structures, cautions } = await findStructures(view, { maxSize: 3, variants: true });
    const cut = structures.find(({ kinds }) => kinds.includes('FuelGauge'));
    expect(cut?.growsFurther).toBe(true);
    expect(cautions.at(-1)).toMatch(/parts of larger ones/u);
    expect(structures.find(({ support }) => support === 24)?.growsFurther).toBe(false);
  });
});

test('a ring planted in a third of randomly connected devices is the most surprising structure', async () => {
  const random = seededRandom(5);
  const kinds = ['Accelerometer', 'Microcontroller', 'FlashMemory', 'Charger', 'Microphone', 'Speaker'];
  const made = Array.from({ length: 90 }, (_, at): Made => {
    const components = [...kinds, ...kinds];
    const joined = Array.from({ length: 14 }, () => {
      const a = random.integer(0, 10);
      return by('I2C', a, random.integer(a + 1, 11));
    });
    const ring = [by('I2C', 2, 3), by('I2C', 3, 4), by('I2C', 4, 2)];
    return { id: `random-${at}`, components, joined: [...joined, ...(at % 3 === 0 ? ring : [])] };
  });
  const { structures } = await findStructures(viewOf(made), { maxSize: 3 });
  expect([...structures[0].kinds].sort()).toEqual(['Charger', 'FlashMemory', 'Microphone']);
  expect(structures[0].links).toHaveLength(3);
  expect(structures[0].support).toBeGreaterThanOrEqual(30);
  expect(structures[0].chance.lift).toBeGreaterThan(2);
});

test('a device whose second specimen shows a structure has it; parts of two specimens do not form a structure', async () => {
  const half = (specimen: string, joined: Made['joined'], further: boolean): Made => ({
    id: 'twice',
    specimen,
    further,
    components: ['Microcontroller', 'Accelerometer', 'LinearRegulator'],
    joined,
  });
  const whole = [by('I2C', 0, 1), by('power', 2, 0)];
  const others = YEARS.slice(0, 3);
  const apart = [half('a', [whole[0]], false), half('b', [whole[1]], true)];
  const once = [half('a', [], false), half('b', whole, true)];
  const having = async (made: readonly Made[]) => {
    const { structures } = await findStructures(viewOf(made), { minSupport: 3, maxSize: 3 });
    return structures.find(({ words }) => words.includes('Accelerometer'))?.support;
  };
  expect(await having([...others, ...apart])).toBe(3);
  expect(await having([...others, ...once])).toBe(4);
});

test('a doubtful kind does not count as support, but as possible', async () => {
  const sensor = (kind: Kind, id: string): Made => ({
    id,
    components: ['Microcontroller', kind],
    joined: [by('I2C', 0, 1)],
  });
  const view = viewOf([
    sensor('Accelerometer', 'a'),
    sensor({ Accelerometer: 0.96 }, 'b'),
    sensor({ Accelerometer: 0.94 }, 'c'),
    sensor({ Accelerometer: 0.5, Gyroscope: 0.5 }, 'd'),
  ]);
  const { structures } = await findStructures(view, { minSupport: 2, minSize: 2, variants: true });
  expect(structures.map(({ kinds }) => [...kinds].sort())).toEqual([
    ['InertialSensor', 'Microcontroller'],
    ['Accelerometer', 'Microcontroller'],
  ]);
  const accelerometer = structures.find(({ kinds }) => kinds.includes('Accelerometer'));
  expect(accelerometer).toMatchObject({ support: 2, possible: 4 });
  expect(accelerometer?.expected).toBeCloseTo(1 + 0.96 + 0.94 + 0.5, 9);
  // The one that may be either is an inertial sensor for certain, and so are the sure ones.
  expect(structures.find(({ kinds }) => kinds.includes('InertialSensor'))?.support).toBe(3);
});

describe('visibility', () => {
  test("hidden devices change nothing in a reader's answer", async () => {
    await fc.assert(
      fc.asyncProperty(fc.uniqueArray(fc.nat(23), { minLength: 1, maxLength: 12 }), async (hidden) => {
        const drafts = YEARS.map(
          (one, at): Made => ({
            ...one,
            ...(hidden.includes(at) ? { visibility: 'draft' as const } : {}),
          }),
        );
        const left = YEARS.filter((_, at) => !hidden.includes(at));
        const question = { minSupport: 3, minSize: 2, maxSize: 4, variants: true };
        const told = await findStructures(seen(liveWith(drafts)), question);
        expect(told).toEqual(await findStructures(viewOf(left), question));
        expect(await findStructures(seen(liveWith(drafts), 'desk'), question)).toEqual(
          await findStructures(viewOf(YEARS), question),
        );
      }),
      { numRuns: 8 },
    );
  });

  test('answers are kept as long as nothing changes, for each audience separately', async () => {
    const live = liveWith(YEARS.map((one, at) => ({ ...one, ...(at < 6 ? { visibility: 'draft' } : {}) })));
    const first = await findStructures(seen(live));
    expect(await findStructures(seen(live))).toBe(first);
    const desk = await findStructures(seen(live, 'desk'));
    expect([first.devices, desk.devices]).toEqual([18, 24]);
    live.apply(entriesOf(changesOf([{ id: 'late', released: '2024', ...circuit(true) }]), live.sequence + 1));
    const later = await findStructures(seen(live));
    expect(later.devices).toBe(19);
  });

  test('the order of import changes nothing', async () => {
    expect(await findStructures(viewOf([...YEARS].reverse()))).toEqual(await findStructures(viewOf(YEARS)));
  });
});

describe('ending early', () => {
  test('an aborted signal ends the work with its reason', async () => {
    const control = new AbortController();
    const asked = findStructures(
      viewOf(YEARS),
      {},
      { signal: control.signal, onProgress: () => control.abort() },
    );
    await expect(asked).rejects.toThrow(/abort/u);
  });

  test('a cancelled or timed-out search gives what was found, says that it is incomplete, and is not kept', async () => {
    const random = seededRandom(3);
    const dense = Array.from(
      { length: 8 },
      (_, at): Made => ({
        id: `dense-${at}`,
        components: new Array<string>(14).fill('Accelerometer'),
        joined: Array.from({ length: 40 }, () => {
          const a = random.integer(0, 12);
          return by('power', a, random.integer(a + 1, 13));
        }),
      }),
    );
    const view = viewOf(dense);
    const question = { minSupport: 2, maxSize: 8 };
    const fractions: number[] = [];
    const done = new Set<string>();
    const control = new AbortController();
    const stopped = await findStructures(view, question, {
      enough: control.signal,
      onProgress: (fraction, doing) => {
        done.add(doing);
        if (doing !== 'searching') return;
        fractions.push(fraction);
        if (fractions.length === 3) control.abort();
      },
    });
    expect(stopped.complete).toBe(false);
    expect(stopped.cautions[0]).toMatch(/ended early/u);
    expect(fractions.length).toBeGreaterThanOrEqual(3);
    expect([...done].slice(-2)).toEqual(['searching', 'weighing']);
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    expect(fractions.every((fraction) => fraction >= 0 && fraction < 1)).toBe(true);
    const timed = await findStructures(view, question, { budget: 1 });
    expect(timed.complete).toBe(false);
    expect(timed).not.toBe(stopped);
  });
});

test.each([
  [{ minSupport: 1 }, /minSupport is 1/u],
  [{ maxSize: 9 }, /maxSize is 9/u],
  [{ minSize: 5, maxSize: 4 }, /minSize is 5; it must be a whole number from 2 to 4/u],
  [{ first: 0 }, /first is 0/u],
  [{ level: 0 }, /level is 0/u],
  [{ without: ['Pasive'] }, /did you mean "Passive"/u],
])('%j is refused', async (question, why) => {
  await expect(findStructures(viewOf([]), question)).rejects.toThrow(why);
});

test('an archive without devices has no structures', async () => {
  expect(await findStructures(viewOf([]))).toMatchObject({
    structures: [],
    found: 0,
    devices: 0,
    complete: true,
  });
});

test('a connection whose observations were all withdrawn joins nothing, as in the patterns', async () => {
  const three = ['a', 'b', 'c'].map(
    (id): Made => ({
      id,
      components: ['Microcontroller', 'Accelerometer', 'LinearRegulator'],
      joined: [{ ...by('I2C', 0, 1), basis: ['o1'] }, by('power', 2, 0)],
    }),
  );
  const told = changesOf(three).map((change) => {
    if (change.kind !== 'dossier-put') return change;
    const o1 = { id: 'o1', about: ['U1'], kind: 'trace' as const };
    return { ...change, payload: { ...change.payload, observations: [o1] } };
  });
  const live = liveWith([]);
  live.apply(entriesOf(told, live.sequence + 1));
  const kinds = async () => {
    const { structures } = await findStructures(seen(live), {
      minSupport: 3,
      minSize: 2,
      variants: true,
    });
    return structures.map((one) => [...one.kinds].sort().join(' '));
  };
  expect(await kinds()).toEqual(['Accelerometer LinearRegulator Microcontroller']);
  const takenBack = three.map(({ id }) => ({
    actor: 'bench',
    reason: 'another unit',
    kind: 'observation-withdrawn' as const,
    payload: { specimen: `${id}/a`, observation: 'o1' },
  }));
  live.apply(entriesOf(takenBack, live.sequence + 1));
  expect(await kinds()).toEqual(['LinearRegulator Microcontroller']);
});
