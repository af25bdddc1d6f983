import { beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { SetCalibration } from '../../src/identification/conformal.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { partIdOf } from '../../src/model/catalogue.ts';
import type { State } from '../../src/state/state.ts';
import { type HabitArchive, habitArchive, otherYears } from '../bench/habits/habits.ts';
import { measureCoverage } from '../bench/measure-coverage.ts';

// Held against the truth of generated worlds (tests/bench/habits/), which know nothing of odds or sets. What is measured there
// with thousands of chips is in the notes of `npm run bench:calibration`; here worlds are small.

async function setsOf(archive: Archive): Promise<{ readonly view: State; readonly sets: SetCalibration }> {
  const view = archive.state('desk');
  return { view, sets: await SetCalibration.of(new Identifier(), view) };
}

describe('on a world of 60 devices', () => {
  let world = {} as HabitArchive;
  let view = {} as State;
  let sets = {} as SetCalibration;
  beforeAll(async () => {
    world = await habitArchive('uncatalogued', { devices: 60, seed: 11 });
    ({ view, sets } = await setsOf(world.archive));
  }, 120_000);

  test('sets hold what chips are as often as stated, settled or not, in the catalogue or not', () => {
    for (const coverage of [0.6, 0.8]) {
      const { held, error, chips } = measureCoverage(view, sets, world.truth, coverage);
      expect(chips).toBeGreaterThan(700);
      // Up: at most the weight of one device in thirty, and sets that stand for empty ones. Down: four standard errors, and
      // what thirty calibrating devices vary by, as the beta distribution has it.
      const spread = Math.sqrt((coverage * (1 - coverage)) / 30);
      expect(held).toBeGreaterThan(coverage - 4 * error - spread);
      expect(held).toBeLessThan(coverage + 4 * error + spread + 0.1);
    }
  });

  test('a higher coverage only adds members', () => {
    for (const row of view.specimenRows().slice(0, 6)) {
      const [specimen, device] = [view.specimen(row.id), view.device(row.deviceId)];
      if (!specimen || !device) throw new Error('no specimen');
      for (const component of specimen.counted.filter(({ appears }) => appears === undefined)) {
        const [narrow, wide] = [0.5, 0.8].map((coverage) =>
          sets.setOf(specimen, component, device, coverage),
        );
        if (narrow.among !== wide.among || narrow.void || wide.void) continue;
        expect(wide.size).toBeGreaterThanOrEqual(narrow.size);
        const wider = new Set(wide.parts.map(({ part }) => partIdOf(part)));
        // A set that stands for an empty one holds the likeliest, which a wide set has unless none is likelier.
        if (narrow.size > 1) expect(narrow.parts.every(({ part }) => wider.has(partIdOf(part)))).toBe(true);
        expect(wide.size).toBe(wide.parts.length + Number(wide.none));
        expect(wide.size).toBeGreaterThan(0);
      }
    }
  });

  test('more than the devices bear out is void, and says how many it takes', () => {
    const [row] = view.specimenRows();
    const [specimen, device] = [view.specimen(row.id), view.device(row.deviceId)];
    if (!specimen || !device) throw new Error('no specimen');
    const set = sets.setOf(specimen, specimen.counted[0], device, 0.99);
    expect(set).toMatchObject({ size: 0, none: false, parts: [] });
    expect(set.void).toContain('takes 99 other devices');
  });

  test('of another maker, or of other years, nothing is guaranteed, and it says why', () => {
    const [row] = view.specimenRows();
    const [specimen, device] = [view.specimen(row.id), view.device(row.deviceId)];
    if (!specimen || !device) throw new Error('no specimen');
    const [component] = specimen.counted;
    const stranger = sets.setOf(specimen, component, { ...device, maker: 'unheard-of' }, 0.8);
    expect(stranger.void).toContain('no other device of the maker unheard-of');
    const early = sets.setOf(specimen, component, { ...device, released: '2001-05' }, 0.8);
    expect(early.void).toContain('it is of 2001');
    expect(early.size).toBe(0);
    expect(sets.setOf(specimen, component, device, 0.8).void).toBeUndefined();
  });
});

test('a device neither teaches the odds of its own sets nor counts among those that they are based on', async () => {
  // Another truth settled in a device changes no set of its own: what is settled there is asked about by nobody.
  const world = await habitArchive('twins', { devices: 30, seed: 3 });
  const { view, sets } = await setsOf(world.archive);
  const [row] = view.specimenRows();
  const specimen = view.specimen(row.id);
  const device = view.device(row.deviceId);
  if (!specimen || !device) throw new Error('no specimen');
  const [{ component }] = specimen.dossier.identifications;
  const wrong = view
    .parts()
    .find((part) => partIdOf(part) !== world.truth.get(`${row.id}/${component}`)?.part);
  if (!wrong) throw new Error('no part');
  await world.archive.setIdentification(
    row.id,
    {
      component,
      candidates: [{ part: partIdOf(wrong), probability: 1 }],
      state: 'settled',
      basis: [],
    },
    { actor: 'A', reason: 'a mistake' },
    'desk',
  );
  const after = await setsOf(world.archive);
  const [now] = [after.view.specimen(row.id)];
  for (const one of specimen.counted.filter(({ appears }) => appears === undefined)) {
    const [a, b] = [
      sets.setOf(specimen, one, device, 0.7),
      after.sets.setOf(now ?? specimen, one, device, 0.7),
    ];
    expect(b.parts.map(({ part }) => partIdOf(part))).toEqual(a.parts.map(({ part }) => partIdOf(part)));
    expect([b.none, b.devices]).toEqual([a.none, a.devices]);
  }
});

test('makers and years that nobody has settled anything of are told void, device by device', async () => {
  const options = { devices: 12, seed: 5 };
  const { dossiers, catalogue } = await habitArchive('siblings', otherYears(options));
  const world = await habitArchive('siblings', { devices: 30, seed: 5 });
  const place = { file: 'generated', locate: () => ({ line: 1, column: 1 }) };
  const foreign = dossiers.map((dossier, at) => ({
    ...dossier,
    device: typeof dossier.device === 'string' ? dossier.device : { ...dossier.device, id: `other-${at}` },
    identifications: [],
  }));
  await world.archive.importDocuments(
    [
      { ...place, kind: 'catalogue', catalogue },
      ...foreign.map((dossier) => ({ ...place, kind: 'dossier' as const, dossier })),
    ],
    { actor: 'A', reason: 'others' },
  );
  const { view, sets } = await setsOf(world.archive);
  for (const row of view.specimenRows()) {
    const [specimen, device] = [view.specimen(row.id), view.device(row.deviceId)];
    if (!specimen || !device) throw new Error('no specimen');
    const set = sets.setOf(specimen, specimen.counted[0], device, 0.5);
    const ofMaker = world.dossiers.filter(
      (one) => typeof one.device !== 'string' && one.device.maker === device.maker,
    );
    expect(set.void !== undefined, row.id).toBe(row.id.startsWith('other-') || ofMaker.length < 2);
  }
});

test('ends when it is told to', async () => {
  const { archive } = await habitArchive('twins', { devices: 5, seed: 3 });
  const asked = SetCalibration.of(new Identifier(), archive.state('desk'), {
    signal: AbortSignal.abort(new Error('enough')),
  });
  await expect(asked).rejects.toThrow('enough');
});
