import { describe, expect, test } from 'vitest';
import { featuresOf } from '../../src/compare/align/features.ts';
import { alignDevices } from '../../src/compare/alignment.ts';
import { COLLECTIONS } from '../../src/model/catalogue.ts';
import { deviceIdOf } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';
import { clopperPearson } from '../../src/statistics/proportion.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { catalogue, dossiers } from '../seed/seed.ts';
import { BY, entriesOf } from '../state/archive-of.ts';
import { remade } from './known-truth.ts';

/** What was stated of one row, and whether it was so. */
interface Judged {
  readonly paired: boolean;
  readonly pairing: number;
  readonly right: boolean;
}

/**
 * Every dossier of the demo archive three times remade with known changes, and aligned with what it was made from. A
 * pairing is right when the two are counterparts, or indistinguishable from the counterpart.
 */
async function judged(seed: number): Promise<readonly Judged[]> {
  const random = seededRandom(seed).stream('remade');
  const live = new Holder();
  const changes: Change[] = COLLECTIONS.flatMap((collection) =>
    catalogue[collection].map(
      (record) => ({ ...BY, kind: 'record-put', payload: { collection, record } }) as Change,
    ),
  );
  const pairs = dossiers.flatMap((dossier, at) =>
    [1, 2, 3].map((round) => {
      const donor = random.pick(dossiers);
      const again = remade(dossier, donor, catalogue.parts, `again-${at}-${round}`, random);
      return { from: `${deviceIdOf(dossier)}/${dossier.specimen.id}`, again };
    }),
  );
  const put = (payload: (typeof dossiers)[number]): Change => ({ ...BY, kind: 'dossier-put', payload });
  live.apply(entriesOf([...changes, ...dossiers.map(put), ...pairs.map(({ again }) => put(again.dossier))]));
  const view = live.state('desk', '2030-01-01T00:00:00Z');
  const all: Judged[] = [];
  for (const { from, again } of pairs) {
    const { rows, columns } = await alignDevices(view, [from, deviceIdOf(again.dossier)]);
    const [before, after] = columns.map(
      ({ specimen }) =>
        new Map(
          featuresOf(specimen, () => undefined).components.map(({ component, twin }) => [component.id, twin]),
        ),
    );
    const origins = new Map([...again.counterparts].map(([one, other]) => [other, one]));
    for (const { cells, changes: stated } of rows) {
      const [x, y] = cells.map((cell) => cell?.component);
      const { pairing } = stated[0] as NonNullable<(typeof stated)[0]>;
      all.push({ paired: x !== undefined && y !== undefined, pairing, right: isRight(x, y) });
    }
    function isRight(x: string | undefined, y: string | undefined): boolean {
      if (x === undefined) return !origins.has(y as string);
      if (y === undefined) return !again.counterparts.has(x);
      const [due, origin] = [again.counterparts.get(x), origins.get(y)];
      return (
        due === y ||
        (due !== undefined && after.get(due) === after.get(y)) ||
        (origin !== undefined && before.get(origin) === before.get(x))
      );
    }
  }
  return all;
}

// No published data set of aligned devices was found: the truth is made by changing the demo archive at random.
describe.each([5, 11])('devices copied with known changes, seed %i', (seed) => {
  let all: readonly Judged[];
  const rightOf = (rows: readonly Judged[]) => rows.filter(({ right }) => right).length;
  const stated = (rows: readonly Judged[]) =>
    rows.reduce((sum, { pairing }) => sum + pairing, 0) / rows.length;

  test('97 % of pairs are right', async () => {
    all = await judged(seed);
    const pairs = all.filter(({ paired }) => paired);
    expect(pairs.length).toBeGreaterThan(2_500);
    expect(rightOf(pairs) / pairs.length).toBeGreaterThan(0.97);
  });

  test('stated certainty is right: overall, where sure, and where not', () => {
    expect(Math.abs(stated(all) - rightOf(all) / all.length)).toBeLessThan(0.015);
    const sure = all.filter(({ pairing }) => pairing >= 0.95);
    expect(Math.abs(stated(sure) - rightOf(sure) / sure.length)).toBeLessThan(0.015);
    const doubtful = all.filter(({ pairing }) => pairing < 0.95);
    expect(doubtful.length).toBeGreaterThan(100);
    const { low, high } = clopperPearson(rightOf(doubtful), doubtful.length, 0.999);
    expect([low <= stated(doubtful) + 0.1, stated(doubtful) - 0.1 <= high]).toEqual([true, true]);
    // Those stated with doubt are wrong more often.
    expect(rightOf(doubtful) / doubtful.length).toBeLessThan(rightOf(sure) / sure.length);
  });
});
