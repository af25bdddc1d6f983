import { existsSync } from 'node:fs';
import { mkdir, open, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { LRUCache } from 'lru-cache';
import { openPromise } from 'yauzl';
import type { PhotoFile } from '../model/photo-file.ts';
import { inThread } from '../threads/in-thread.ts';
import { digested } from './bytes.ts';
import type { Crop } from './crop.ts';
import type { OnBoard } from './on-board.ts';
import { partOf, type Share, sizeOfPart, sizesOf, TILE } from './sizes.ts';
import type { PhotoStore } from './store.ts';
import { type StripTask, strippedFile } from './stripped/stripped.ts';

/** Pictures made at once; each takes a thread and the memory of its pixels. */
const AT_ONCE = 2;
/** Lists of tiles that are kept, one a photo. */
const LISTS = 200;
const QUALITY = 85;
/** Bytes of a file above which another thread goes through it. */
const LARGE = 8 * 2 ** 20;
/** Version of what is made here; another one makes all anew. */
const VERSION = 'v1';

interface Span {
  readonly at: number;
  readonly bytes: number;
}

/**
 * Smaller copies and tiles of photos, all JPEG and upright, made when they are first wanted. They follow from the photos alone: whoever
 * removes the folder loses nothing.
 */
export class Renditions {
  readonly #folder: string;
  readonly #store: PhotoStore;
  readonly #lists = new LRUCache<string, ReadonlyMap<string, Span>>({ max: LISTS });
  readonly #making = new Map<string, Promise<void>>();
  readonly #waiting: (() => void)[] = [];
  #busy = 0;

  /** @param folder where they are kept */
  constructor(folder: string, store: PhotoStore) {
    this.#folder = join(folder, VERSION);
    this.#store = store;
  }

  /** Makes all that is not there of a photo. */
  make(file: PhotoFile): Promise<void> {
    if (this.#filesOf(file).every((path) => existsSync(path))) return Promise.resolve();
    let making = this.#making.get(file.sha256);
    if (!making) {
      making = this.#made(file).finally(() => this.#making.delete(file.sha256));
      this.#making.set(file.sha256, making);
    }
    return making;
  }

  /**
   * A whole picture in one of its sizes, or a tile, as JPEG.
   * @param name `max`, `width,height` of one of {@link sizesOf}, or `region/size` of a tile, in the canonical form of the IIIF Image
   * API 3.0, section 4.7
   * @returns undefined for what is not made
   */
  async get(file: PhotoFile, name: string): Promise<Uint8Array | undefined> {
    const size = sizesOf(file).find(({ width, height }) => name === `${width},${height}`);
    if (name === 'max' || (size && size.width === file.width)) return this.#whole(file);
    await this.make(file);
    if (size) {
      const path = this.#smaller(file, size.width);
      return existsSync(path) ? readFile(path) : undefined;
    }
    return this.#tile(file, name);
  }

  /** A region by itself, as JPEG. @returns undefined where the file is missing or altered */
  crop(file: PhotoFile, { name, from, size }: Crop): Promise<Uint8Array | undefined> {
    return this.#once(file, `region-${name}`, async (served) => {
      const { upright } = await import('./decoder.ts');
      return upright(served)
        .extract(from)
        .resize(size.width, size.height, { fit: 'fill' })
        .flatten({ background: '#fff' })
        .jpeg({ quality: QUALITY })
        .toBuffer();
    });
  }

  /** The file of a photo as it is handed on. @returns undefined where the file is missing or is not the one that was kept */
  async served(file: PhotoFile): Promise<Uint8Array | undefined> {
    const content = await this.original(file);
    if (!content) return undefined;
    const { type, orientation } = file;
    if (content.length < LARGE) return strippedFile(content, type, orientation);
    const task: StripTask = { content, type, orientation };
    return inThread<Uint8Array>(new URL('./strip-thread.ts', import.meta.url), task);
  }

  /** The file as it came. */
  async original({ sha256 }: PhotoFile): Promise<Uint8Array | undefined> {
    const content = await this.#store.get(sha256);
    return content && (await digested(content)) === sha256 ? content : undefined;
  }

  /** The photo as its board would be seen from straight above, as JPEG. @returns undefined where the file is missing or altered */
  async onBoard(on: OnBoard): Promise<Uint8Array | undefined> {
    const { nameOnBoard, photoOnBoard } = await import('./on-board.ts');
    return this.#once(on.file, `board-${nameOnBoard(on)}`, (served) => photoOnBoard(served, on));
  }

  /** A part of a photo with a rim, as JPEG, as fine as the photo has it up to a size for print. */
  part(file: PhotoFile, box: Share): Promise<Uint8Array | undefined> {
    const at = partOf(file, box);
    const { left, top, width, height } = at;
    return this.#once(file, `part-${left}-${top}-${width}-${height}`, async (served) => {
      const { upright } = await import('./decoder.ts');
      const { width: wide, height: high } = sizeOfPart(at);
      return upright(served)
        .extract(at)
        .flatten({ background: '#fff' })
        .resize(wide, high, { fit: 'fill' })
        .jpeg({ quality: QUALITY })
        .toBuffer();
    });
  }

  /** A photo that is no upright JPEG is made one once. */
  #whole(file: PhotoFile): Promise<Uint8Array | undefined> {
    if (file.type === 'image/jpeg' && file.orientation === 1) return this.served(file);
    return this.#once(file, 'max', async (served) => {
      const { upright } = await import('./decoder.ts');
      return upright(served).flatten({ background: '#fff' }).jpeg({ quality: QUALITY }).toBuffer();
    });
  }

  /** A picture that is made of a photo when it is first wanted, and kept. */
  async #once(
    file: PhotoFile,
    name: string,
    make: (served: Uint8Array) => Promise<Uint8Array>,
  ): Promise<Uint8Array | undefined> {
    const path = `${this.#of(file)}.${name}.jpg`;
    if (!existsSync(path)) {
      const making = this.#making.get(path) ?? this.#madeOnce(file, path, make);
      this.#making.set(path, making);
      await making.finally(() => this.#making.delete(path));
    }
    return existsSync(path) ? readFile(path) : undefined;
  }

  async #madeOnce(
    file: PhotoFile,
    path: string,
    make: (served: Uint8Array) => Promise<Uint8Array>,
  ): Promise<void> {
    await this.#inTurn(async () => {
      const served = await this.served(file);
      if (!served) return;
      await mkdir(dirname(path), { recursive: true });
      await written(path, await make(served));
    });
  }

  async #made(file: PhotoFile): Promise<void> {
    const served = await this.served(file);
    if (!served) return;
    await this.#inTurn(async () => {
      const { upright } = await import('./decoder.ts');
      const tiles = this.#tiles(file);
      await mkdir(dirname(tiles), { recursive: true });
      const jpeg = () => upright(served).flatten({ background: '#fff' }).jpeg({ quality: QUALITY });
      for (const { width, height } of sizesOf(file).slice(0, -1))
        await written(
          this.#smaller(file, width),
          await jpeg().resize(width, height, { fit: 'fill' }).toBuffer(),
        );
      await written(
        tiles,
        await jpeg().tile({ size: TILE, layout: 'iiif3', container: 'zip', basename: 't' }).toBuffer(),
      );
    });
  }

  async #tile(file: PhotoFile, name: string): Promise<Uint8Array | undefined> {
    const path = this.#tiles(file);
    if (!existsSync(path)) return undefined;
    const list = this.#lists.get(file.sha256) ?? (await tilesIn(path));
    this.#lists.set(file.sha256, list);
    const span = list.get(name);
    if (!span) return undefined;
    const handle = await open(path);
    try {
      const content = Buffer.alloc(span.bytes);
      await handle.read(content, 0, span.bytes, span.at);
      return content;
    } finally {
      await handle.close();
    }
  }

  async #inTurn<T>(work: () => Promise<T>): Promise<T> {
    if (this.#busy >= AT_ONCE) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    else this.#busy++;
    try {
      return await work();
    } finally {
      const next = this.#waiting.shift();
      if (next) next();
      else this.#busy--;
    }
  }

  #filesOf(file: PhotoFile): readonly string[] {
    const smaller = sizesOf(file).slice(0, -1);
    return [...smaller.map(({ width }) => this.#smaller(file, width)), this.#tiles(file)];
  }

  #tiles(file: PhotoFile): string {
    return `${this.#of(file)}.tiles.zip`;
  }

  #smaller(file: PhotoFile, width: number): string {
    return `${this.#of(file)}.${width}.jpg`;
  }

  #of({ sha256 }: PhotoFile): string {
    return join(this.#folder, sha256.slice(0, 2), sha256);
  }
}

async function written(path: string, content: Uint8Array): Promise<void> {
  const part = `${path}.${process.pid}-${Math.random().toString(36).slice(2)}.part`;
  try {
    await writeFile(part, content, { mode: 0o600 });
    await rename(part, path);
  } finally {
    await rm(part, { force: true });
  }
}

/** Where each tile lies in the ZIP, in which nothing is packed, by `region/size`. */
async function tilesIn(path: string): Promise<ReadonlyMap<string, Span>> {
  const zip = await openPromise(path, { lazyEntries: true, autoClose: false });
  try {
    const found = new Map<string, Span>();
    for await (const entry of zip.eachEntry()) {
      const name = /^t\/(?<tile>[^/]+\/[^/]+)\/0\/default\.jpg$/u.exec(entry.fileName)?.groups?.tile;
      if (name === undefined || entry.compressionMethod !== 0) continue;
      const { fileDataStart } = await zip.readLocalFileHeaderPromise(entry, { minimal: true });
      found.set(name, { at: fileDataStart, bytes: entry.uncompressedSize });
    }
    return found;
  } finally {
    zip.close();
  }
}
