import { expect, test } from 'vitest';
import { SharedWork } from '../../src/identification/shared-work.ts';

/** Work that ends when it is let go, or is told to. */
function slow() {
  const calls: AbortSignal[] = [];
  let finish = (_: number) => {};
  const work = (ended: AbortSignal) => {
    calls.push(ended);
    return new Promise<number>((resolve, reject) => {
      finish = resolve;
      ended.addEventListener('abort', () => reject(ended.reason));
    });
  };
  return { calls, work, finish: (value: number) => finish(value) };
}

test('many who ask for the same wait for one work, and later ones get what it found', async () => {
  const [shared, { calls, work, finish }] = [new SharedWork<number>(), slow()];
  const both = [shared.of('a', undefined, work), shared.of('a', undefined, work)];
  finish(7);
  expect(await Promise.all(both)).toEqual([7, 7]);
  expect(await shared.of('a', undefined, work)).toBe(7);
  expect(calls.length).toBe(1);
});

test('one who goes ends nothing for the others; the last who goes ends the work', async () => {
  const [shared, { calls, work, finish }] = [new SharedWork<number>(), slow()];
  const [first, second] = [new AbortController(), new AbortController()];
  const [gone, stays] = [shared.of('a', first.signal, work), shared.of('a', second.signal, work)];
  first.abort(new Error('gone'));
  await expect(gone).rejects.toThrow('gone');
  expect(calls[0].aborted).toBe(false);
  second.abort(new Error('gone, too'));
  await expect(stays).rejects.toThrow('gone, too');
  expect(calls[0].aborted).toBe(true);
  const again = shared.of('a', undefined, work);
  finish(1);
  expect(await again).toBe(1);
  expect(calls.length).toBe(2);
});

test('what failed is tried again; another key is other work', async () => {
  const shared = new SharedWork<number>();
  await expect(shared.of('a', undefined, () => Promise.reject(new Error('once')))).rejects.toThrow('once');
  expect(await shared.of('a', undefined, () => Promise.resolve(2))).toBe(2);
  expect(await shared.of('b', undefined, () => Promise.resolve(3))).toBe(3);
});
