import type { PhotoFile } from '../model/photo-file.ts';
import type { Renditions } from './renditions.ts';
import type { PhotoStore } from './store.ts';

/** Photos of an archive: their files, and what is made of them. */
export class Photos {
  readonly store: PhotoStore;
  readonly #folder: string;
  #renditions: Promise<Renditions> | undefined;

  /** @param folder where smaller copies and tiles are kept, which are made anew where it is gone */
  constructor(store: PhotoStore, folder: string) {
    this.store = store;
    this.#folder = folder;
  }

  /** The file of a photo as it is handed on; undefined where it is missing or is not the one that was kept. */
  async served(file: PhotoFile): Promise<Uint8Array | undefined> {
    return (await this.renditions()).served(file);
  }

  /** Whether there is a file under the digest of a photo, right or not; nothing is read. */
  has({ sha256 }: PhotoFile): Promise<boolean> {
    return this.store.has(sha256);
  }

  /** Smaller copies and tiles; what makes them is loaded when they are first wanted. */
  renditions(): Promise<Renditions> {
    this.#renditions ??= import('./renditions.ts').then(
      ({ Renditions }) => new Renditions(this.#folder, this.store),
    );
    return this.#renditions;
  }
}
