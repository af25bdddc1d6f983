import type { PhotoStore } from '../../src/photos/store.ts';

/** Photos in memory. */
export class MemoryPhotos implements PhotoStore {
  readonly files = new Map<string, Uint8Array>();

  async put(sha256: string, content: Uint8Array): Promise<void> {
    if (!this.files.has(sha256)) this.files.set(sha256, content);
  }

  async get(sha256: string): Promise<Uint8Array | undefined> {
    return this.files.get(sha256);
  }

  async has(sha256: string): Promise<boolean> {
    return this.files.has(sha256);
  }

  async remove(sha256: string): Promise<void> {
    this.files.delete(sha256);
  }

  async *list(): AsyncGenerator<string> {
    yield* [...this.files.keys()].sort();
  }

  async close(): Promise<void> {}
}
