import { entryOf, type StoredEntry } from './stored.ts';

/** Digests of the files of photos that entries say the archive has, each with the ids of the photos that it is of. */
export class PhotoDigests {
  readonly #photos = new Map<string, string[]>();

  /** Takes an entry into account. @throws DamagedEntry for a payload that cannot be read */
  add(stored: StoredEntry): void {
    if (stored.kind !== 'photo-kept') return;
    const entry = entryOf(stored);
    if (entry.kind !== 'photo-kept') return;
    const { file, specimen, photos } = entry.payload;
    const named = photos.map((photo) => `${photo} of ${specimen}`);
    this.#photos.set(file.sha256, [...(this.#photos.get(file.sha256) ?? []), ...named]);
  }

  has(sha256: string): boolean {
    return this.#photos.has(sha256);
  }

  get size(): number {
    return this.#photos.size;
  }

  [Symbol.iterator](): Iterator<readonly [sha256: string, photos: readonly string[]]> {
    return this.#photos[Symbol.iterator]();
  }
}
