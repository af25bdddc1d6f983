import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CHANGES, type ChangeKind } from '../../src/compare/align/changes.ts';
import { kindDistance, kindProfile } from '../../src/compare/align/kind-distance.ts';
import { DEFAULT_WEIGHTS, WEIGHT_TABLE } from '../../src/compare/align/weights.ts';
import { alignDevices, changed, type DeviceAlignment } from '../../src/compare/alignment.ts';
import { lineage } from '../../src/model/taxonomy.ts';
import type { State } from '../../src/state/state.ts';
import { seeds, viewOf, type Written, writtenDevice } from './dossiers.ts';

const MIRROR: Readonly<Record<ChangeKind, ChangeKind>> = {
  kept: 'kept',
  replaced: 'replaced',
  moved: 'moved',
  added: 'removed',
  removed: 'added',
  'not-observed': 'not-observed',
};

const nameOf = (column: number) => `device-${column}`;
const devices = (numbers: readonly number[]) => numbers.map((seed, at) => writtenDevice(nameOf(at), seed));

/** Rows as sets of "column component", free of the order of columns and rows. */
function rowsOf({ columns, rows }: DeviceAlignment): string[] {
  return rows
    .map(({ cells }) =>
      cells
        .flatMap((cell, at) => (cell ? [`${columns[at].specimen.id}/${cell.component}`] : []))
        .sort()
        .join(' '),
    )
    .sort();
}

const byPair = (view: State, a: string, b: string) => alignDevices(view, [a, b]);

describe('properties of alignment', () => {
  test('every component of every device is in exactly one row', () =>
    fc.assert(
      fc.asyncProperty(seeds(2, 4), async (numbers) => {
        const view = viewOf(devices(numbers));
        const alignment = await alignDevices(
          view,
          numbers.map((_, at) => nameOf(at)),
        );
        alignment.columns.forEach(({ specimen }, at) => {
          const found = alignment.rows.flatMap(({ cells }) => cells[at]?.component ?? []).sort();
          expect(found).toEqual([...specimen.components.keys()].sort());
        });
      }),
      { numRuns: 60 },
    ));

  test('the comparison of two is symmetric up to naming', () =>
    fc.assert(
      fc.asyncProperty(seeds(2), async (numbers) => {
        const view = viewOf(devices(numbers));
        const there = await byPair(view, nameOf(0), nameOf(1));
        const back = await byPair(view, nameOf(1), nameOf(0));
        for (const kind of CHANGES)
          expect(changed(back, 0, MIRROR[kind])).toEqual({
            ...changed(there, 0, kind),
            change: MIRROR[kind],
          });
      }),
      { numRuns: 150 },
    ));

  test('a device compared with itself keeps everything', () =>
    fc.assert(
      fc.asyncProperty(seeds(1), async (numbers) => {
        const view = viewOf(devices(numbers));
        const alignment = await byPair(view, nameOf(0), nameOf(0));
        const size = alignment.columns[0].specimen.components.size;
        expect(changed(alignment, 0, 'kept').rows).toBe(size);
        expect(alignment.rows).toHaveLength(size);
        for (const { cells, changes } of alignment.rows) {
          expect(cells[0]).toEqual(cells[1]);
          expect(changes[0]).toMatchObject({ change: 'kept', samePart: 1 });
        }
      }),
      { numRuns: 150 },
    ));

  test('the order of devices changes no row and no change between two of them', () =>
    fc.assert(
      fc.asyncProperty(
        seeds(3, 5).chain((numbers) =>
          fc.tuple(
            fc.constant(numbers),
            fc.shuffledSubarray([...numbers.keys()], { minLength: numbers.length }),
          ),
        ),
        async ([numbers, shuffled]) => {
          const view = viewOf(devices(numbers));
          const straight = await alignDevices(view, [...numbers.keys()].map(nameOf));
          const mixed = await alignDevices(view, shuffled.map(nameOf));
          expect(rowsOf(mixed)).toEqual(rowsOf(straight));
          mixed.steps.forEach(({ from, to }) => {
            const at = straight.steps.findIndex(
              (step) => step.from === shuffled[from] && step.to === shuffled[to],
            );
            if (at < 0) return;
            expect(mixed.steps[from].tallies).toEqual(straight.steps[at].tallies);
          });
        },
      ),
      { numRuns: 60 },
    ));

  test('probabilities are probabilities, and expectations do not exceed rows', () =>
    fc.assert(
      fc.asyncProperty(seeds(2), async (numbers) => {
        const { rows, steps } = await byPair(viewOf(devices(numbers)), nameOf(0), nameOf(1));
        for (const { changes } of rows) {
          for (const value of [changes[0]?.certainty, changes[0]?.pairing]) {
            expect(value).toBeGreaterThanOrEqual(0);
            expect(value).toBeLessThanOrEqual(1);
          }
          expect(changes[0]?.why).toMatch(/\w.*\.$/u);
        }
        const total = steps[0].tallies.reduce((sum, { expected }) => sum + expected, 0);
        expect(total).toBeLessThanOrEqual(rows.length + 1e-6);
      }),
      { numRuns: 60 },
    ));
});

/** Two devices of one chip each that differ in what is given. */
async function changeOf(before: Partial<Written>, after: Partial<Written>) {
  const view = viewOf([writtenDevice('device-0', 1, before), writtenDevice('device-1', 1, after)]);
  const { rows } = await byPair(view, 'device-0', 'device-1');
  return rows.map(({ role, changes }) => ({ role, ...changes[0] }));
}
const chip = (part: string, more: object = {}): Partial<Written> => ({
  components: [{ id: 'U1', board: 'main', side: 'top', ...more }],
  connections: [],
  boards: [
    { id: 'main', kind: 'rigid', fullyInventoried: true },
    { id: 'flex', kind: 'flex', fullyInventoried: true },
  ],
  identifications: [{ component: 'U1', candidates: [{ part, probability: 0.98 }] }],
});

describe('changes of a component', () => {
  test('the same part in the same place is kept', async () => {
    expect(await changeOf(chip('quistle/A1'), chip('quistle/A1'))).toMatchObject([
      { role: 'Accelerometer', change: 'kept', why: expect.stringContaining('quistle/A1') },
    ]);
  });
  test('another part in the same role is replaced', async () => {
    expect(await changeOf(chip('quistle/A1'), chip('ostrel/A3'))).toMatchObject([
      { change: 'replaced', why: expect.stringContaining('ostrel/A3 in place of quistle/A1') },
    ]);
  });
  test('a relabelled part is replaced, and reported as the same part under another label', async () => {
    const [change] = await changeOf(chip('quistle/A1'), chip('ostrel/A1R'));
    expect(change).toMatchObject({
      change: 'replaced',
      why: expect.stringContaining('same part under another label'),
    });
  });
  test('the same part on another side is moved', async () => {
    expect(await changeOf(chip('quistle/A1'), chip('quistle/A1', { side: 'bottom' }))).toMatchObject([
      { change: 'moved', elsewhere: true, why: expect.stringContaining('top before') },
    ]);
  });
  test('a chip that nobody named is no resistor, and has the role of another chip at most perhaps', async () => {
    const bare = (component: NonNullable<Written['components']>[number]): Partial<Written> => ({
      ...chip('quistle/A1'),
      components: [component],
      identifications: [],
    });
    const resistor = { id: 'R1', board: 'main', side: 'top', appears: 'Resistor', value: '4k7' } as const;
    for (const more of [{}, { appears: 'IntegratedCircuit' }]) {
      const nameless = bare({ id: 'U7', board: 'main', side: 'top', package: 'WLCSP-5', ...more });
      expect((await changeOf(bare(resistor), nameless)).map(({ change }) => change).sort()).toEqual([
        'added',
        'removed',
      ]);
      expect(await changeOf(chip('quistle/A1', { package: 'LGA-12' }), nameless)).toMatchObject([
        {
          change: 'replaced',
          why: expect.stringMatching(
            /^Perhaps the same role \(Accelerometer; the kind of the second is not known\)/u,
          ),
        },
      ]);
    }
  });
  test('unlike roles are a removal and an addition', async () => {
    const changes = await changeOf(chip('quistle/P1'), chip('ostrel/R1'));
    expect(changes.map(({ change }) => change).sort()).toEqual(['added', 'removed']);
    for (const { why, certainty } of changes) {
      expect(why).toContain('can have its role');
      expect(certainty).toBe(1);
    }
  });
  test('doubt of the identification lowers the certainty', async () => {
    const doubtful = {
      ...chip('quistle/A1'),
      identifications: [{ component: 'U1', candidates: [{ part: 'quistle/A1', probability: 0.6 }] }],
    };
    const [sure] = await changeOf(chip('quistle/A1'), chip('quistle/A1'));
    const [unsure] = await changeOf(chip('quistle/A1'), doubtful);
    expect(unsure.change).toBe('kept');
    expect(unsure.certainty).toBeLessThan(sure.certainty as number);
  });
});

describe('weights', () => {
  test('a query can change them: no cost of leaving over leaves all over', async () => {
    const view = viewOf([
      writtenDevice('device-0', 1, chip('quistle/A1')),
      writtenDevice('device-1', 1, chip('quistle/A1')),
    ]);
    const { steps, weights } = await alignDevices(view, ['device-0', 'device-1'], {
      weights: { unmatched: 0 },
    });
    expect(weights).toEqual({ ...DEFAULT_WEIGHTS, unmatched: 0 });
    expect(steps[0].tallies.filter(({ rows }) => rows > 0).map(({ change }) => change)).toEqual([
      'added',
      'removed',
    ]);
  });
  test.each([
    [{ labels: -1 }, 'weight labels is -1'],
    [{ role: 2 }, 'weight role is 2'],
    [{ margin: 0 }, 'weight margin is 0'],
    [{ colour: 1 } as object, '"colour" is not a weight'],
  ])('refuses %j', async (weights, message) => {
    const view = viewOf([writtenDevice('device-0', 1), writtenDevice('device-1', 2)]);
    await expect(alignDevices(view, ['device-0', 'device-1'], { weights })).rejects.toThrow(message);
  });
  test('each has its meaning in words', () => {
    for (const { is } of Object.values(WEIGHT_TABLE)) expect(is).toMatch(/\.$/u);
  });
});

test('too few or unknown devices are refused, hidden devices like unknown ones', async () => {
  const view = viewOf([writtenDevice('device-0', 1), writtenDevice('device-1', 2, { visibility: 'draft' })]);
  await expect(alignDevices(view, ['device-0'])).rejects.toMatchObject({ code: 'BAD_INPUT' });
  const refusal = (id: string) =>
    alignDevices(view, ['device-0', id]).catch((error: Error) => error.message.replaceAll(id, 'ID'));
  expect(await refusal('device-1')).toBe(await refusal('device-9'));
});

test('cancelled work ends', async () => {
  const view = viewOf([writtenDevice('device-0', 1), writtenDevice('device-1', 2)]);
  const signal = AbortSignal.abort(new Error('gone'));
  await expect(alignDevices(view, ['device-0', 'device-1'], { signal })).rejects.toThrow('gone');
});

describe('distance of kinds', () => {
  const sure = (term: string) => kindProfile(new Map(lineage(term).map((one) => [one, 1])));
  test('grows with the distance in the taxonomy', () => {
    const accelerometer = sure('Accelerometer');
    const distances = ['Accelerometer', 'Gyroscope', 'PressureSensor', 'Capacitor'].map((term) =>
      kindDistance(accelerometer, sure(term)),
    );
    expect(distances[0]).toBe(0);
    expect(distances[3]).toBe(1);
    expect([...distances].sort((a, b) => a - b)).toEqual(distances);
  });
  test('is half where nothing is known', () => {
    expect(kindDistance(kindProfile(new Map()), sure('Capacitor'))).toBe(0.5);
  });
});

test('what one of two units has on record is not gone from the other where nobody inventoried that', async () => {
  const board = (fullyInventoried: boolean) => [{ id: 'main', kind: 'rigid' as const, fullyInventoried }];
  const chip = { id: 'U1', board: 'main', marking: 'K1' };
  const resistor = { id: 'R7', board: 'main', appears: 'Resistor' };
  const bare = { identifications: [], connections: [], subsystems: [] };
  const changesWith = async (isInventoried: boolean) => {
    const view = viewOf([
      writtenDevice('one', 1, { ...bare, boards: board(true), components: [chip, resistor] }),
      writtenDevice('two', 1, { ...bare, boards: board(isInventoried), components: [chip] }),
    ]);
    const { rows } = await byPair(view, 'one', 'two');
    const back = await byPair(view, 'two', 'one');
    const of = (all: typeof rows) =>
      all.find(({ cells }) => cells.some((cell) => cell?.component === 'R7'))?.changes[0];
    return [of(rows), of(back.rows)];
  };
  expect((await changesWith(true)).map((one) => one?.change)).toEqual(['removed', 'added']);
  const [there, back] = await changesWith(false);
  expect([there?.change, back?.change]).toEqual(['not-observed', 'not-observed']);
  expect(there?.why).toContain('not every board of two/a is recorded as fully inventoried');
});
