import { expect, test } from 'vitest';
import { readingsOf } from '../../src/state/readings.ts';
import { DEVICE, dossierChange, entriesOf, liveOf, SMALL_CATALOGUE } from './archive-of.ts';

const dossier = (specimen: string, ...components: string[]) =>
  dossierChange({
    device: specimen === 'a' ? DEVICE : DEVICE.id,
    specimen: { id: specimen },
    components: components.map((id) => ({ id })),
  });
const FIRST = [...SMALL_CATALOGUE, dossier('a', 'U1'), dossier('b', 'U1', 'U2')];

test('each is told of every specimen once, and again of what has changed alone', async () => {
  const live = liveOf(FIRST);
  const told: string[] = [];
  const catchUp = readingsOf(live).add((id, { components }) => told.push(`${id} ${components.size}`));
  expect(told).toEqual([]);
  await catchUp();
  expect(told.splice(0)).toEqual([`${DEVICE.id}/a 1`, `${DEVICE.id}/b 2`]);
  await catchUp();
  expect(told).toEqual([]);
  live.apply(entriesOf([dossier('b', 'U1', 'U2', 'U3'), dossier('c')], FIRST.length + 1));
  await catchUp();
  expect(told).toEqual([`${DEVICE.id}/b 3`, `${DEVICE.id}/c 0`]);
});

test('a dossier is unpacked once for all who wait for it', async () => {
  const live = liveOf(FIRST);
  const { peek } = live;
  let unpacked = 0;
  live.peek = (row) => {
    unpacked++;
    return peek.call(live, row);
  };
  const told = [new Map<string, unknown>(), new Map<string, unknown>()];
  const [catchUp, other] = told.map((map) => readingsOf(live).add((id, specimen) => map.set(id, specimen)));
  await catchUp!();
  expect(unpacked).toBe(2);
  expect(told[0]!.size).toBe(2);
  expect(told[1]).toEqual(told[0]);
  await other!();
  expect(unpacked).toBe(2);
});

test('stops when the asker has gone, and goes on from there', async () => {
  const more = Array.from({ length: 40 }, (_, i) => dossier(`s${i}`, 'U1'));
  const live = liveOf([...FIRST, ...more]);
  let told = 0;
  const catchUp = readingsOf(live).add(() => {
    told++;
    // As slow as a long dossier, so that others get their turn in between.
    for (const start = performance.now(); performance.now() - start < 3; );
  });
  const gone = new AbortController();
  setImmediate(() => gone.abort());
  await expect(catchUp(gone.signal)).rejects.toThrow(/abort/iu);
  expect(told).toBeGreaterThan(0);
  expect(told).toBeLessThan(42);
  await catchUp();
  expect(told).toBe(42);
});
