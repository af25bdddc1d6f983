import { afterEach, beforeAll, expect, test, vi } from 'vitest';
import { CatalogueIndex } from '../../src/identification/catalogue-index.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { sightingOf } from '../../src/identification/sighting.ts';
import type { State } from '../../src/state/state.ts';
import { turnsOf } from '../taking-turns.ts';
import { seededArchive } from './seeded.ts';

let view: State;
beforeAll(async () => {
  view = (await seededArchive(30, 1)).archive.state('desk');
});
afterEach(() => vi.restoreAllMocks());

/** Counts each marking that is weighed against the catalogue: the dearest step of learning an archive. */
function noting(step: () => void): void {
  const { weigh } = CatalogueIndex.prototype;
  vi.spyOn(CatalogueIndex.prototype, 'weigh').mockImplementation(function (this: CatalogueIndex, ...given) {
    step();
    return weigh.apply(this, given);
  });
}

test('an archive is learnt in turns: no two markings are weighed without a turn of others between them', async () => {
  const identifier = new Identifier();
  const { steps } = await turnsOf((step) => {
    noting(step);
    return identifier.followInTurns(view);
  });
  expect(steps.reduce((sum, count) => sum + count, 0)).toBeGreaterThan(20);
  expect(Math.max(...steps)).toBe(1);
});

test('what questions need of all devices is there then: the first question weighs its own marking alone', async () => {
  const identifier = new Identifier();
  await identifier.followInTurns(view);
  const [row] = view.specimenRows();
  const [specimen, device] = [view.specimen(row.id), view.device(row.deviceId)];
  if (!specimen || !device) throw new Error('the seeded archive is empty');
  const marked = specimen.counted.find((one) => sightingOf(specimen, one, device).marking !== undefined);
  if (!marked) throw new Error('the seeded archive has no marked chip');
  let weighed = 0;
  noting(() => weighed++);
  identifier.posteriorOf(specimen, marked, device);
  expect(weighed).toBe(1);
});

test('in turns or at once, what is learnt is the same', async () => {
  const [inTurns, atOnce] = [new Identifier(), new Identifier()];
  await inTurns.followInTurns(view);
  atOnce.follow(view);
  const { uncatalogued, priors, kinds } = atOnce.lessonsFor('none of them');
  expect(inTurns.lessonsFor('none of them')).toMatchObject({ uncatalogued, priors, kinds });
});

test('learning ends when its asker goes, and another goes on with it', async () => {
  const identifier = new Identifier();
  const gone = new AbortController();
  const { steps } = await turnsOf(async (step) => {
    noting(() => {
      step();
      gone.abort(new Error('gone'));
    });
    await expect(identifier.followInTurns(view, gone.signal)).rejects.toThrow('gone');
  });
  expect(steps.reduce((sum, count) => sum + count, 0)).toBe(1);
  vi.restoreAllMocks();
  await identifier.followInTurns(view);
  const whole = new Identifier();
  whole.follow(view);
  expect(identifier.lessonsFor('none of them').uncatalogued).toBe(
    whole.lessonsFor('none of them').uncatalogued,
  );
});
