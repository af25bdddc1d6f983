import { existsSync } from 'node:fs';
import { type FileHandle, mkdir, open, readdir, readFile, rename, rm, rmdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { CasebackError } from '../model/problems.ts';
import { digested } from './bytes.ts';
import { isDigest, type PhotoStore } from './store.ts';

/** Ends the name of a file that is still being written. */
const UNFINISHED = '.part';

/**
 * Photos in a folder beside the journal: `ab/abcd….` by the first two digits, so that no folder grows long. A file has its name once it
 * is whole and on disk.
 */
export class FolderPhotos implements PhotoStore {
  readonly folder: string;

  /** @param folder made when the first photo comes */
  constructor(folder: string) {
    this.folder = folder;
  }

  async put(sha256: string, content: Uint8Array): Promise<void> {
    const file = this.#fileOf(sha256);
    // A file that was damaged is replaced by the one that should be there.
    if (existsSync(file) && (await digested(await readFile(file))) === sha256) return;
    const folder = dirname(file);
    const part = `${file}.${process.pid}-${Math.random().toString(36).slice(2)}${UNFINISHED}`;
    try {
      await mkdir(folder, { recursive: true });
      await written(part, content);
      await rename(part, file);
      // The name has to be on disk, too, and that of a folder that was made for it.
      for (const one of [folder, this.folder, dirname(this.folder)]) await synced(one);
    } catch (error) {
      await rm(part, { force: true }).catch(() => undefined);
      throw unwritable(error as NodeJS.ErrnoException);
    }
  }

  async get(sha256: string): Promise<Uint8Array | undefined> {
    try {
      return await readFile(this.#fileOf(sha256));
    } catch (error) {
      if (isMissing(error)) return undefined;
      throw error;
    }
  }

  async has(sha256: string): Promise<boolean> {
    return existsSync(this.#fileOf(sha256));
  }

  async remove(sha256: string): Promise<void> {
    const file = this.#fileOf(sha256);
    await rm(file, { force: true });
    // Folders that are left without files.
    for (const folder of [dirname(file), this.folder]) if (!(await removed(folder))) return;
  }

  async *list(): AsyncGenerator<string> {
    for (const beginning of await namesIn(this.folder))
      if (/^[0-9a-f]{2}$/u.test(beginning))
        for (const name of await namesIn(join(this.folder, beginning))) if (isDigest(name)) yield name;
  }

  async close(): Promise<void> {}

  #fileOf(sha256: string): string {
    if (!isDigest(sha256)) throw new Error(`${sha256} is no digest`);
    return join(this.folder, sha256.slice(0, 2), sha256);
  }
}

/** Removes a folder that is empty. */
async function removed(folder: string): Promise<boolean> {
  return rmdir(folder).then(
    () => true,
    () => false,
  );
}

async function written(file: string, content: Uint8Array): Promise<void> {
  const handle = await open(file, 'wx', 0o600);
  try {
    await handle.writeFile(content);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function synced(folder: string): Promise<void> {
  let handle: FileHandle | undefined;
  try {
    handle = await open(folder, 'r');
    await handle.sync();
  } catch {
    // Some systems cannot sync a folder; there the rename has to do.
  } finally {
    await handle?.close();
  }
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return (await readdir(folder)).sort();
  } catch (error) {
    if (isMissing(error)) return [];
    throw error;
  }
}

const isMissing = (error: unknown) =>
  ['ENOENT', 'ENOTDIR'].includes((error as NodeJS.ErrnoException).code ?? '');

function unwritable({ code, message }: NodeJS.ErrnoException): CasebackError {
  const why =
    code === 'ENOSPC' || code === 'EDQUOT'
      ? 'the disk is full'
      : code === 'EROFS' || code === 'EACCES' || code === 'EPERM'
        ? 'its folder cannot be written'
        : message;
  return new CasebackError('UNAVAILABLE', `The photo cannot be kept: ${why}; nothing was written`);
}
