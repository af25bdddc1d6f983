import { randomBytes } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { PhotoStore } from '../../src/photos/store.ts';
import { sha256Of } from './pictures.ts';

/** A place for photos, opened as often as wanted, by several at once. */
export interface PhotoPlace {
  open(): PhotoStore;
  /** Alters what lies under a digest behind the store's back. */
  damage(sha256: string): Promise<void>;
  remove(): Promise<void>;
}

export const listed = async (store: PhotoStore): Promise<readonly string[]> => {
  const found: string[] = [];
  for await (const one of store.list()) found.push(one);
  return found.sort();
};

/** What every place for photos must do. */
export function photoStoreContract(name: string, newPlace: () => Promise<PhotoPlace>): void {
  describe(`photos ${name}`, () => {
    let place: PhotoPlace;
    let stores: PhotoStore[];
    const opened = () => {
      const store = place.open();
      stores.push(store);
      return store;
    };
    beforeEach(async () => {
      place = await newPlace();
      stores = [];
    });
    afterEach(async () => {
      for (const store of stores) await store.close();
      await place.remove();
    });

    test('are kept under their digests, once, and nothing else is read', async () => {
      const [store, other] = [opened(), opened()];
      expect(await listed(store)).toEqual([]);
      expect(await store.has('0'.repeat(64))).toBe(false);
      // One byte, a whole part of a database, one byte more, and several.
      const contents = [1, 1 << 20, (1 << 20) + 1, 5_000_000].map((bytes) => randomBytes(bytes));
      for (const content of [...contents, ...contents]) await store.put(sha256Of(content), content);
      expect(await listed(other)).toEqual(contents.map(sha256Of).sort());
      for (const content of contents) {
        expect(await other.has(sha256Of(content))).toBe(true);
        expect(Buffer.from((await other.get(sha256Of(content))) ?? '').equals(content)).toBe(true);
      }
      expect(await store.get('0'.repeat(64))).toBeUndefined();
      await expect(async () => store.get('../../etc/passwd')).rejects.toThrow('no digest');
    });

    test('that several bring in at once are there once', async () => {
      const all = [opened(), opened(), opened()];
      const content = randomBytes(2_500_000);
      await Promise.all(all.map((store) => store.put(sha256Of(content), content)));
      expect(await listed(all[0])).toEqual([sha256Of(content)]);
      expect(Buffer.from((await all[1].get(sha256Of(content))) ?? '').equals(content)).toBe(true);
    });

    test('that were altered are handed out as they lie there, and replaced by the right ones', async () => {
      const store = opened();
      const content = randomBytes(1_200_000);
      await store.put(sha256Of(content), content);
      await place.damage(sha256Of(content));
      expect(sha256Of((await store.get(sha256Of(content))) ?? new Uint8Array())).not.toBe(sha256Of(content));
      await store.put(sha256Of(content), content);
      expect(Buffer.from((await store.get(sha256Of(content))) ?? '').equals(content)).toBe(true);
    });

    test('are taken away', async () => {
      const store = opened();
      const contents = [randomBytes(10), randomBytes(20)];
      for (const content of contents) await store.put(sha256Of(content), content);
      await store.remove(sha256Of(contents[0]));
      await store.remove('0'.repeat(64));
      expect(await listed(store)).toEqual([sha256Of(contents[1])]);
      expect(await store.get(sha256Of(contents[0]))).toBeUndefined();
    });

    test('are listed however many there are', async () => {
      const store = opened();
      const contents = Array.from({ length: 1_001 }, (_, i) => Buffer.from(`photo ${i}`));
      for (const content of contents) await store.put(sha256Of(content), content);
      expect(await listed(store)).toEqual(contents.map(sha256Of).sort());
    });
  });
}
