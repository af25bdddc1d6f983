import {
  closeSync,
  copyFileSync,
  fsyncSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { pathToFileURL } from 'node:url';

/** How long opening and reading wait for another process, in ms; moments only, for readers never wait for writers. */
export const BUSY_TIMEOUT = 5_000;

/** What a path leads to. */
export interface Place {
  /** Of the file itself, whatever is in it. */
  readonly identity: string;
  /** Changes whenever its content does. */
  readonly content: string;
}

/**
 * What the store asks of the machine: files, and databases in them. Trials of faults put a disk of their own in its place.
 * Every method may throw what the system throws.
 */
export interface System {
  /**
   * @param way `write`, made where there is none; `read`; `still`, for a file that nobody writes, in a folder that
   * cannot be written
   */
  openDatabase(path: string, way: 'write' | 'read' | 'still'): DatabaseSync;
  /** Bytes of a file; undefined when there is none. */
  size(path: string): number | undefined;
  /** Changes whenever a file does; undefined when there is none. */
  stamp(path: string): string | undefined;
  /** Undefined when there is no file, or the path leads nowhere. */
  place(path: string): Place | undefined;
  /** Text of a file; undefined when there is none. */
  read(path: string): string | undefined;
  /** Writes a file anew, not yet durably. */
  write(path: string, text: string): void;
  /** Waits until a file, or the names in a folder, are on disk. */
  sync(path: string): void;
  rename(from: string, to: string): void;
  /** Gives a file a further name, unless that is taken. */
  link(from: string, to: string): 'done' | 'taken';
  /** Names of what is in a folder. */
  list(folder: string): readonly string[];
  /** Removes a file where there is one. */
  remove(path: string): void;
  makeFolder(path: string): void;
  removeFolder(path: string): void;
  /** A private folder with copies of files; where one is missing, so is its copy. */
  copyApart(paths: readonly string[]): string;
}

/** The machine itself. */
export const MACHINE: System = {
  openDatabase(path, way) {
    if (way === 'write') return new DatabaseSync(path, { timeout: BUSY_TIMEOUT });
    if (way === 'read') return new DatabaseSync(path, { timeout: BUSY_TIMEOUT, readOnly: true });
    // Takes no locks and needs no shared memory (https://www.sqlite.org/uri.html).
    const url = pathToFileURL(path);
    url.search = '?immutable=1';
    return new DatabaseSync(url, { readOnly: true });
  },
  size(path) {
    const stat = statSync(path, { throwIfNoEntry: false });
    if (stat?.isDirectory()) throw Object.assign(new Error(`${path} is a folder`), { code: 'EISDIR' });
    return stat?.size;
  },
  stamp(path) {
    const stat = statSync(path, { throwIfNoEntry: false });
    return stat && `${stat.size} ${stat.mtimeMs} ${stat.ino}`;
  },
  place(path) {
    let stat: ReturnType<typeof statSync>;
    try {
      stat = statSync(path, { throwIfNoEntry: false });
    } catch {
      // Part of the path is no folder any more, or may not be looked into.
      return undefined;
    }
    return (
      stat && {
        identity: `${stat.dev} ${stat.ino}`,
        content: `${stat.size} ${stat.mtimeMs} ${stat.ctimeMs}`,
      }
    );
  },
  read(path) {
    try {
      return readFileSync(path, 'utf8');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
      throw error;
    }
  },
  write: (path, text) => writeFileSync(path, text),
  sync(path) {
    // Windows opens no folders for this; it keeps names by itself.
    const isFolder = statSync(path).isDirectory();
    if (isFolder && process.platform === 'win32') return;
    const open = openSync(path, isFolder ? 'r' : 'r+');
    try {
      fsyncSync(open);
    } finally {
      closeSync(open);
    }
  },
  rename: (from, to) => renameSync(from, to),
  link(from, to) {
    try {
      linkSync(from, to);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EEXIST') return 'taken';
      if (!NO_LINKS.has(code ?? '')) throw error;
      // A file system without further names (exFAT, some network disks): nearly as good.
      if (statSync(to, { throwIfNoEntry: false })) return 'taken';
      renameSync(from, to);
    }
    return 'done';
  },
  list: (folder) => readdirSync(folder),
  remove: (path) => rmSync(path, { force: true }),
  makeFolder(path) {
    mkdirSync(path, { recursive: true });
  },
  removeFolder: (path) => rmSync(path, { recursive: true, force: true }),
  copyApart(paths) {
    const folder = mkdtempSync(join(tmpdir(), 'caseback-reading-'));
    for (const [i, path] of paths.entries())
      if (statSync(path, { throwIfNoEntry: false })) copyFileSync(path, join(folder, String(i)));
    return folder;
  },
};

const NO_LINKS = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK']);

/** Whether this machine runs a process of an id. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}
