import { expect, test } from 'vitest';
import type { SpecimenRow } from '../../src/state/facts.ts';
import type { Holder } from '../../src/state/holder.ts';
import { readingsOf } from '../../src/state/readings.ts';
import { DEVICE, dossierChange, entriesOf, liveOf, SMALL_CATALOGUE } from './archive-of.ts';

const NOW = '2026-06-01T00:00:00.000Z';
const dossier = (specimen: string, ...components: string[]) =>
  dossierChange({
    device: specimen === 'a' ? DEVICE : DEVICE.id,
    specimen: { id: specimen },
    components: components.map((id) => ({ id })),
  });
const FIRST = [...SMALL_CATALOGUE, dossier('a', 'U1'), dossier('b', 'U1', 'U2')];

/** A reader that notes what it was given. */
function noting(holder: Holder, onTake = () => {}) {
  const given: string[] = [];
  const known = new WeakSet<SpecimenRow>();
  const catchUp = readingsOf(holder).add({
    needs: (row) => !known.has(row),
    take(row, { components }) {
      known.add(row);
      given.push(`${row.id} ${components.size}`);
      onTake();
    },
  });
  return { given, catchUp: (signal?: AbortSignal) => catchUp(holder.state('desk', NOW), signal) };
}

test('each reader gets every specimen once, and changed ones again', async () => {
  const holder = liveOf(FIRST);
  const { given, catchUp } = noting(holder);
  expect(given).toEqual([]);
  await catchUp();
  expect(given.splice(0)).toEqual([`${DEVICE.id}/a 1`, `${DEVICE.id}/b 2`]);
  await catchUp();
  expect(given).toEqual([]);
  holder.apply(entriesOf([dossier('b', 'U1', 'U2', 'U3'), dossier('c')], FIRST.length + 1));
  await catchUp();
  expect(given).toEqual([`${DEVICE.id}/b 3`, `${DEVICE.id}/c 0`]);
});

test('what changed comes by id, in whichever order it changed', async () => {
  const holder = liveOf(FIRST);
  const { given, catchUp } = noting(holder);
  await catchUp();
  given.splice(0);
  holder.apply(entriesOf([dossier('d'), dossier('b', 'U3'), dossier('c')], FIRST.length + 1));
  await catchUp();
  expect(given).toEqual([`${DEVICE.id}/b 1`, `${DEVICE.id}/c 0`, `${DEVICE.id}/d 0`]);
});

test('a dossier is unpacked once for all readers', async () => {
  const holder = liveOf(FIRST);
  const { peek } = holder;
  let unpacked = 0;
  holder.peek = (row, categoriesOf, unnamed) => {
    unpacked++;
    return peek.call(holder, row, categoriesOf, unnamed);
  };
  const [first, second] = [noting(holder), noting(holder)];
  await first.catchUp();
  expect(unpacked).toBe(2);
  expect(first.given).toHaveLength(2);
  expect(second.given).toEqual(first.given);
  await second.catchUp();
  expect(unpacked).toBe(2);
});

test('stops when cancelled, and continues from there', async () => {
  const more = Array.from({ length: 40 }, (_, i) => dossier(`s${i}`, 'U1'));
  const holder = liveOf([...FIRST, ...more]);
  // As slow as a long dossier, so that others get their turn in between.
  const { given, catchUp } = noting(holder, () => {
    for (const start = performance.now(); performance.now() - start < 3; );
  });
  const gone = new AbortController();
  setImmediate(() => gone.abort());
  await expect(catchUp(gone.signal)).rejects.toThrow(/abort/iu);
  expect(given.length).toBeGreaterThan(0);
  expect(given.length).toBeLessThan(42);
  await catchUp();
  expect(given).toHaveLength(42);
});
