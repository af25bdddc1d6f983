import type { DatabaseSync } from 'node:sqlite';
import wasm from 'node-sqlite3-wasm';
import type { System } from '../../../../src/journal/sqlite/system.ts';
import { type Disk, ROOT } from './disk.ts';

// SQLite compiled to WebAssembly, of the version that Node has built in, whose file operations are calls of Node's fs: under
// the journal's own code in place of node:sqlite, so that each of them can be recorded, made to fail, and undone.

/** Result codes by message, https://www.sqlite.org/rescode.html: the build gives the message alone. */
const CODES: readonly (readonly [string, number])[] = [
  ['database is locked', 5],
  ['readonly', 8],
  ['disk I/O error', 10],
  ['malformed', 11],
  ['disk is full', 13],
  ['unable to open', 14],
  ['not a database', 26],
];

function coded<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    const { message } = error as Error;
    const code = CODES.find(([text]) => message.includes(text))?.[1] ?? 1;
    throw Object.assign(new Error(message), { code: 'ERR_SQLITE_ERROR', errcode: code });
  }
}

/** As much of node:sqlite's class as the journal uses. */
class Database {
  readonly #db: InstanceType<typeof wasm.Database>;
  readonly #statements: { finalize(): void }[] = [];
  isOpen = true;

  constructor(path: string, readOnly: boolean) {
    this.#db = coded(() => new wasm.Database(path, { readOnly }));
    // This build has no shared memory for the index of the log; a single connection does without.
    this.exec('PRAGMA locking_mode = EXCLUSIVE');
  }

  get isTransaction(): boolean {
    return this.#db.inTransaction;
  }

  exec(sql: string): void {
    coded(() => this.#db.exec(sql));
  }

  prepare(sql: string) {
    const statement = coded(() => this.#db.prepare(sql));
    this.#statements.push(statement);
    const plain = (values: unknown[]) => values as never;
    return {
      get: (...values: unknown[]) => coded(() => statement.all(plain(values)))[0],
      all: (...values: unknown[]) => coded(() => statement.all(plain(values))),
      iterate: (...values: unknown[]) => coded(() => statement.all(plain(values))),
      run: (...values: unknown[]) => coded(() => statement.run(plain(values))),
    };
  }

  close(): void {
    this.isOpen = false;
    for (const one of this.#statements) {
      try {
        one.finalize();
      } catch {
        // It gives the error of its last step once more.
      }
    }
    coded(() => this.#db.close());
  }
}

/** The store's files and databases on a disk in memory; within `withDisk`. */
export function systemOn(disk: Disk): System {
  const opened = <T>(path: string, how: object, work: (descriptor: number) => T): T => {
    const descriptor = disk.open(path, how);
    try {
      return work(descriptor);
    } finally {
      if (!disk.isDead) disk.close(descriptor);
    }
  };
  return {
    openDatabase: (path, way) => new Database(path, way !== 'write') as unknown as DatabaseSync,
    size: (path) => disk.size(path),
    stamp: (path) => String(disk.size(path)),
    // Nobody exchanges files of this disk, and its locks are for one connection.
    place: () => ({ identity: 'the one', content: 'as it was' }),
    read(path) {
      const size = disk.size(path);
      if (size === undefined) return undefined;
      return opened(path, {}, (descriptor) => {
        const into = Buffer.alloc(size);
        disk.read(descriptor, into, 0);
        return into.toString('utf8');
      });
    },
    write: (path, text) =>
      opened(path, { create: true, cut: true }, (descriptor) => {
        disk.write(descriptor, Buffer.from(text), 0);
      }),
    sync: (path) => opened(path, {}, (descriptor) => disk.sync(descriptor)),
    rename: (from, to) => disk.rename(from, to),
    link: (from, to) => disk.link(from, to),
    list: () => disk.list(),
    remove(path) {
      if (disk.size(path) !== undefined) disk.remove(path);
    },
    makeFolder: () => undefined,
    removeFolder: () => undefined,
    copyApart() {
      throw new Error(`${ROOT} can always be written`);
    },
  };
}
