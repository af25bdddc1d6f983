import { afterEach, expect, test, vi } from 'vitest';
import { disagreementOf } from '../../src/identification/disagreements.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { disagreementsOf } from '../../src/identification/questions.ts';
import { partIdOf } from '../../src/model/catalogue.ts';
import { identificationSchema, observationSchema } from '../../src/model/dossier.ts';
import { thingId } from '../../src/model/ids.ts';
import type { State } from '../../src/state/state.ts';
import { habitArchive } from '../bench/habits/habits.ts';

// Contradictions of a whole archive: the same as by weighing every identified component anew, while after a change that teaches
// nothing only the specimens that it touched are weighed.

const BY = { actor: 'A', reason: 'test' };

afterEach(() => {
  vi.restoreAllMocks();
});

/** Every identified component weighed by an identifier that has just learnt, without anything kept. */
function oneByOne(view: State): readonly unknown[] {
  const identifier = new Identifier();
  identifier.follow(view);
  return view
    .specimenRows()
    .flatMap((row) => {
      const [opened, device] = [view.specimen(row.id), view.device(row.deviceId)];
      if (!opened || !device) throw new Error(`${row.id} is missing`);
      return opened.counted.flatMap((component) => {
        if (!opened.identified.has(component.id)) return [];
        const one = disagreementOf(opened, component.id, identifier.posteriorOf(opened, component, device));
        return one ? [{ id: thingId(opened.id, component.id), ...one }] : [];
      });
    })
    .sort((a, b) => a.probability - b.probability || (a.id < b.id ? -1 : 1));
}

const plain = (all: Awaited<ReturnType<typeof disagreementsOf>>) =>
  all.map(({ placed, ...one }) => ({ id: thingId(placed.opened.id, placed.component.id), ...one }));

test('after an observation only its specimen is weighed, after a lesson all; always as if each were weighed anew', async () => {
  const { archive } = await habitArchive('siblings', { devices: 14, seed: 5 });
  const weighed = vi.spyOn(Identifier.prototype, 'posteriorOf');
  const asked = async () => {
    weighed.mockClear();
    const found = plain(await disagreementsOf(archive.state('desk')));
    const specimens = new Set(weighed.mock.calls.map(([specimen]) => specimen.id));
    expect(found).toEqual(oneByOne(archive.state('desk')));
    return { found, specimens };
  };
  const first = await asked();
  expect(first.specimens.size).toBeGreaterThan(10);
  expect((await asked()).specimens.size).toBe(0);

  // What is recorded as another part than its marking says.
  const view = archive.state('desk');
  const parts = view.parts();
  const placed = view
    .specimenRows()
    .flatMap((row) => view.specimen(row.id) ?? [])
    .flatMap((opened) => opened.counted.map((component) => ({ opened, component })))
    .find(({ opened, component }) => component.marking !== undefined && opened.identified.has(component.id));
  if (!placed) throw new Error('nothing is marked and identified');
  const { opened, component } = placed;
  const recorded = opened.identified.get(component.id)?.candidates[0]?.part;
  const other = parts.map(partIdOf).find((id) => id !== recorded);
  await archive.setIdentification(
    opened.id,
    identificationSchema.parse({
      component: component.id,
      candidates: [{ part: other, probability: 0.9 }],
      state: 'favoured',
    }),
    BY,
    'desk',
  );
  const wrong = await asked();
  expect(wrong.found.map(({ id }) => id)).toContain(thingId(opened.id, component.id));

  const elsewhere = view.specimenRows().find(({ id }) => id !== opened.id)?.id as string;
  const about = view.specimen(elsewhere)?.counted[0].id as string;
  await archive.recordObservation(
    elsewhere,
    observationSchema.parse({ id: 'again', about: [about], kind: 'marking', marking: 'QX 17' }),
    BY,
    'desk',
  );
  const after = await asked();
  expect([...after.specimens]).toEqual([elsewhere]);
  expect(after.found.map(({ id }) => id)).toContain(thingId(opened.id, component.id));
  await archive.close();
});
