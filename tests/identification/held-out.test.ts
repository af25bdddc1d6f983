import { expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import {
  type CalibrationWithoutParts,
  calibrate,
  calibrateWithoutParts,
} from '../../src/identification/calibration.ts';
import { settledPart } from '../../src/identification/contributions.ts';
import { dealt, without } from '../../src/identification/held-out.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { type Catalogue, partIdOf } from '../../src/model/catalogue.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import type { State } from '../../src/state/state.ts';
import { HABITS, habitArchive } from '../bench/habits/habits.ts';
import { generateWorld } from '../bench/habits/world.ts';

function learnt(view: State): Identifier {
  const identifier = new Identifier();
  identifier.follow(view);
  return identifier;
}

async function viewOf(catalogue: Catalogue, dossiers: readonly Dossier[]): Promise<State> {
  const place = { file: 'generated', locate: () => ({ line: 1, column: 1 }) };
  const archive = await Archive.open(new MemoryJournal());
  const documents: ReadDocument[] = [
    { ...place, kind: 'catalogue', catalogue },
    ...dossiers.map((dossier) => ({ ...place, kind: 'dossier' as const, dossier })),
  ];
  await archive.importDocuments(documents, { actor: 'A', reason: 'generated' });
  return archive.state('desk');
}

test('what is held out leaves the odds of an archive that never had it: another archive, imported without these records', async () => {
  const world = generateWorld(HABITS.siblings, { devices: 30, seed: 4 });
  // What a neighbour is settled as is known whether or not a catalogue has it, so connections are left out of both.
  const dossiers = world.dossiers.map((one) => ({ ...one, connections: [], nets: [] }));
  const gone = (id: string) => dealt(id, 8, 3) === 0;
  const goneDevice = ({ device }: Dossier) => typeof device !== 'string' && dealt(device.id, 3, 5) === 0;
  const poorer = await viewOf(
    { ...world.catalogue, parts: world.catalogue.parts.filter((part) => !gone(partIdOf(part))) },
    dossiers
      .filter((one) => !goneDevice(one))
      .map((one) => ({
        ...one,
        identifications: one.identifications.filter(({ candidates }) =>
          candidates.every(({ part }) => part === undefined || !gone(part)),
        ),
      })),
  );
  const whole = await viewOf(world.catalogue, dossiers);
  const kept = new Set(poorer.devices().map(({ id }) => id));
  expect(kept.size).toBeGreaterThan(10);
  expect(kept.size).toBeLessThan(30);
  const held = new Identifier();
  held.follow(without(whole, { keepsPart: (id) => !gone(id), keepsDevice: (id) => kept.has(id) }));
  const other = learnt(poorer);
  let compared = 0;
  for (const row of poorer.specimenRows()) {
    const [mine, theirs] = [whole.specimen(row.id), poorer.specimen(row.id)];
    const device = poorer.device(row.deviceId);
    if (!mine || !theirs || !device) throw new Error(`${row.id} is missing`);
    for (const component of theirs.counted.filter(({ appears }) => appears === undefined)) {
      const a = held.posteriorOf(mine, component, device);
      const b = other.posteriorOf(theirs, component, device);
      expect(a.none).toBeCloseTo(b.none, 9);
      expect(a.candidates.map(({ part }) => partIdOf(part))).toEqual(
        b.candidates.map(({ part }) => partIdOf(part)),
      );
      a.candidates.forEach(({ probability }, at) => {
        expect(probability).toBeCloseTo(b.candidates[at].probability, 9);
      });
      compared++;
    }
  }
  expect(compared).toBeGreaterThan(200);
});

test('what was read of specimens without parts that are held out is taken up, and says the same as if it were read again', async () => {
  const { archive } = await habitArchive('siblings', { devices: 30, seed: 2 });
  const view = archive.state('desk');
  const identifier = learnt(view);
  const isGone = (id: string) => dealt(id, 8, 3) === 0;
  const rows = view.specimenRows();
  const hasGone = ({ id }: { readonly id: string }) => {
    const specimen = view.specimen(id);
    return specimen?.counted.some((one) => isGone(settledPart(specimen, one.id) ?? '')) ?? false;
  };
  const lessons = without(view, { keepsPart: (id) => !isGone(id) });
  const took = identifier.unlearnt(lessons);
  took.follow(lessons);
  const read = new Identifier();
  read.follow(lessons);
  expect(read.readings).toBe(rows.length);
  expect(took.readings).toBe(rows.filter(hasGone).length);
  expect(took.readings).toBeGreaterThan(0);
  expect(took.readings).toBeLessThan(rows.length);
  const odds = (of: Identifier) =>
    rows.flatMap((row) => {
      const [specimen, device] = [view.specimen(row.id), view.device(row.deviceId)];
      if (!specimen || !device) throw new Error(`${row.id} is missing`);
      return specimen.counted.map((one) => {
        const { candidates, none } = of.posteriorOf(specimen, one, device);
        return [none, candidates.map(({ part, probability }) => [partIdOf(part), probability])];
      });
    });
  expect(odds(took)).toEqual(odds(read));
  // Without some devices nothing is read at all.
  const half = without(view, { keepsDevice: (id) => dealt(id, 2, 1) === 0 });
  const other = identifier.unlearnt(half);
  other.follow(half);
  expect(other.readings).toBe(0);
  expect(half.specimenRows().length).toBeGreaterThan(5);
  await archive.close();
});

test('ids are dealt out evenly, by id and seed alone', () => {
  const counts = Array.from({ length: 8 }, () => 0);
  for (let at = 0; at < 8_000; at++) counts[dealt(`maker/part-${at}`, 8, 1)]++;
  // Five standard deviations of a binomial of 8,000 and 1/8.
  for (const count of counts) expect(Math.abs(count - 1_000)).toBeLessThan(5 * Math.sqrt(8_000 / 8 / 1.15));
  expect(dealt('a/b', 8, 1)).toBe(dealt('a/b', 8, 1));
  expect(Array.from({ length: 20 }, (_, seed) => dealt('a/b', 8, seed))).not.toEqual(
    Array(20).fill(dealt('a/b', 8, 0)),
  );
});

test('with parts held out every settled component is asked about once, and "none" is the truth for an eighth of them', async () => {
  const { archive } = await habitArchive('siblings', { devices: 30, seed: 2 });
  const view = archive.state('desk');
  const identifier = learnt(view);
  const seen: number[] = [];
  const onProgress = (done: number, of: number) => seen.push(done / of);
  const found = (await calibrateWithoutParts(identifier, view, { onProgress })) as CalibrationWithoutParts;
  const kept = await calibrate(identifier, view);
  expect(found.components).toBe(kept?.components);
  expect(found.devices).toBe(30);
  expect(kept?.absent).toBe(0);
  expect(found.absent / found.components).toBeGreaterThan(0.08);
  expect(found.absent / found.components).toBeLessThan(0.18);
  expect(found.parts).toBe(view.parts().length);
  // Statements: up to three likeliest parts, and none, of every component.
  const statements = found.reliability.reduce((sum, { count }) => sum + count, 0);
  expect(statements).toBeLessThanOrEqual(4 * found.components);
  expect(statements).toBeGreaterThan(3 * found.components);
  expect(seen.at(-1)).toBe(1);
  expect(await calibrateWithoutParts(identifier, view)).toEqual(found);
  expect(await calibrateWithoutParts(identifier, view, { seed: 2 })).not.toEqual(found);
  const before = identifier.habitsVersion;
  await expect(
    calibrateWithoutParts(identifier, view, { signal: AbortSignal.abort(new Error('enough')) }),
  ).rejects.toThrow('enough');
  expect(identifier.habitsVersion).toBe(before);
  await archive.close();
});

test('what it says of overconfidence agrees with what is known of the truth apart from it', async () => {
  // Truth: the generator's own, with parts that no catalogue ever had. Held-out parts must tell the same of the top tenth
  // within the noise of both: five standard errors of two shares of about a thousand each.
  const { archive, truth } = await habitArchive('uncatalogued', { devices: 70, seed: 3 });
  const view = archive.state('desk');
  const identifier = learnt(view);
  const truthOf = (specimen: string, component: string) => truth.get(`${specimen}/${component}`)?.part;
  const real = (await calibrate(identifier, view, { truth: truthOf }))?.reliability[9];
  const held = (await calibrateWithoutParts(identifier, view))?.reliability[9];
  if (!real || !held) throw new Error('nothing was stated');
  const over = ({ stated, observed }: typeof real) => (stated ?? 0) - (observed ?? 0);
  expect(Math.min(real.count, held.count)).toBeGreaterThan(100);
  expect(Math.abs(over(real) - over(held))).toBeLessThan(0.12);
  await archive.close();
});
