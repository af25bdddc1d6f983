import fs from 'node:fs';

// A disk in memory that knows what of it would be left after a power cut. It stands in for the file system under SQLite (a
// build whose file operations are calls of Node's fs) and under the store's own files alike.
//
// What is taken for granted of a real one: fsync of a file makes its content durable, fsync of a folder the names in it; a
// rename is there or not; a sector of 512 bytes is written or not. The first fsync of a log or rollback journal makes its
// name durable, too: SQLite's own file system layer for Unix syncs the folder then (os_unix.c, UNIXFILE_DIRSYNC), which the
// build used here leaves out.

/** Where the disk is mounted. */
export const ROOT = '/caseback-disk';

const SECTOR = 512;
const FIRST_DESCRIPTOR = 1_000_000;

type Change = { readonly at: number; readonly bytes: Buffer } | { readonly cutTo: number };

interface Inode {
  content: Buffer;
  /** As last synced. */
  durable: Buffer;
  /** What was done to it since. */
  changes: Change[];
}

/** What happens at one operation: an error that passes, or the end of the process, with the machine or without. */
export interface Fault {
  /** Number of the operation, from 0. */
  readonly at: number;
  readonly kind: 'EIO' | 'ENOSPC' | 'kill';
}

export class Disk {
  /** What was done, in order. */
  readonly operations: string[] = [];
  readonly #fault: Fault | undefined;
  readonly #names = new Map<string, Inode>();
  readonly #durableNames = new Map<string, Inode>();
  /** What was done to names since the folder was synced; each is there or not as a whole. */
  #nameChanges: (readonly (readonly [string, Inode | undefined])[])[] = [];
  readonly #open = new Map<number, { readonly path: string; readonly inode: Inode | undefined }>();
  readonly #locks = new Set<string>();
  #isDead = false;
  #next = FIRST_DESCRIPTOR;

  constructor(fault?: Fault) {
    this.#fault = fault;
  }

  get isDead(): boolean {
    return this.#isDead;
  }

  /** What other processes see, and what is left when this one is killed. */
  files(): ReadonlyMap<string, Buffer> {
    return new Map([...this.#names].map(([path, { content }]) => [path, content]));
  }

  /** What a power cut may leave: names as far as some moment since the last sync, and of each write any part of its sectors. */
  afterPowerCut(random: () => number): ReadonlyMap<string, Buffer> {
    const names = new Map(this.#durableNames);
    const kept = Math.floor(random() * (this.#nameChanges.length + 1));
    for (const change of this.#nameChanges.slice(0, kept)) rename(names, change);
    return new Map([...names].map(([path, inode]) => [path, leftOf(inode, random)]));
  }

  open(path: string, { create = false, cut = false } = {}): number {
    this.#step('open', path);
    let inode = this.#names.get(path);
    if (inode === undefined && path !== ROOT) {
      if (!create) throw failure('ENOENT', path);
      inode = { content: Buffer.alloc(0), durable: Buffer.alloc(0), changes: [] };
      this.#rename([[path, inode]]);
    }
    if (cut && inode && inode.content.length > 0) change(inode, { cutTo: 0 });
    this.#open.set(this.#next, { path, inode });
    return this.#next++;
  }

  close(descriptor: number): void {
    this.#step('close', this.#opened(descriptor).path);
    this.#open.delete(descriptor);
  }

  read(descriptor: number, into: Uint8Array, at: number): number {
    const { path, inode } = this.#opened(descriptor);
    this.#step('read', path);
    const part = inode?.content.subarray(at, at + into.length) ?? Buffer.alloc(0);
    into.set(part);
    return part.length;
  }

  write(descriptor: number, bytes: Uint8Array, at: number): number {
    const { path, inode } = this.#opened(descriptor);
    this.#step('write', path);
    if (inode) change(inode, { at, bytes: Buffer.from(bytes) });
    return bytes.length;
  }

  cut(descriptor: number, length: number): void {
    const { path, inode } = this.#opened(descriptor);
    this.#step('cut', path);
    if (inode) change(inode, { cutTo: length });
  }

  sync(descriptor: number): void {
    const { path, inode } = this.#opened(descriptor);
    this.#step('sync', path);
    if (inode) {
      inode.durable = Buffer.from(inode.content);
      inode.changes = [];
      const isLog = /-(?:wal|journal)$/u.test(path);
      if (!isLog || this.#durableNames.get(path) === inode) return;
    }
    for (const one of this.#nameChanges) rename(this.#durableNames, one);
    this.#nameChanges = [];
  }

  size(path: string): number | undefined {
    this.#step('size', path);
    return this.#names.get(path)?.content.length;
  }

  sizeOf(descriptor: number): number {
    const { path, inode } = this.#opened(descriptor);
    this.#step('size', path);
    return inode?.content.length ?? 0;
  }

  exists(path: string): boolean {
    this.#step('look', path);
    return this.#names.has(path) || this.#locks.has(path);
  }

  remove(path: string): void {
    this.#step('remove', path);
    if (!this.#names.has(path)) throw failure('ENOENT', path);
    this.#rename([[path, undefined]]);
  }

  rename(from: string, to: string): void {
    this.#step('rename', to);
    this.#rename([
      [to, this.#names.get(from)],
      [from, undefined],
    ]);
  }

  link(from: string, to: string): 'done' | 'taken' {
    this.#step('link', to);
    if (this.#names.has(to)) return 'taken';
    this.#rename([[to, this.#names.get(from)]]);
    return 'done';
  }

  list(): readonly string[] {
    this.#step('list', ROOT);
    return [...this.#names.keys()].map((path) => path.slice(ROOT.length + 1));
  }

  lock(path: string): void {
    this.#step('lock', path);
    if (this.#locks.has(path)) throw failure('EEXIST', path);
    this.#locks.add(path);
  }

  unlock(path: string): void {
    this.#step('unlock', path);
    this.#locks.delete(path);
  }

  #step(what: string, path: string): void {
    if (this.#isDead) throw failure('EIO', path);
    const number = this.operations.length;
    this.operations.push(`${what} ${path.slice(ROOT.length + 1)}`);
    if (this.#fault?.at !== number) return;
    if (this.#fault.kind === 'kill') this.#isDead = true;
    throw failure(this.#fault.kind === 'kill' ? 'EIO' : this.#fault.kind, path);
  }

  #rename(one: readonly (readonly [string, Inode | undefined])[]): void {
    rename(this.#names, one);
    this.#nameChanges.push(one);
  }

  #opened(descriptor: number): { readonly path: string; readonly inode: Inode | undefined } {
    const opened = this.#open.get(descriptor);
    if (opened === undefined) throw failure('EBADF', String(descriptor));
    return opened;
  }
}

function rename(names: Map<string, Inode>, one: readonly (readonly [string, Inode | undefined])[]): void {
  for (const [path, inode] of one) {
    if (inode) names.set(path, inode);
    else names.delete(path);
  }
}

function change(inode: Inode, one: Change): void {
  inode.content = changed(inode.content, one);
  inode.changes.push(one);
}

function changed(content: Buffer, one: Change): Buffer {
  const length = 'cutTo' in one ? one.cutTo : Math.max(content.length, one.at + one.bytes.length);
  const next = Buffer.alloc(length);
  content.copy(next, 0, 0, length);
  if (!('cutTo' in one)) one.bytes.copy(next, one.at);
  return next;
}

function leftOf({ durable, changes }: Inode, random: () => number): Buffer {
  return changes.reduce((content, one) => {
    if ('cutTo' in one) return random() < 0.5 ? changed(content, one) : content;
    let next = content;
    for (let at = 0; at < one.bytes.length; at += SECTOR) {
      if (random() < 0.5)
        next = changed(next, { at: one.at + at, bytes: one.bytes.subarray(at, at + SECTOR) });
    }
    return next;
  }, durable);
}

function failure(code: string, path: string): Error {
  return Object.assign(new Error(`${code}: ${path}`), { code });
}

/** Puts a disk under Node's fs while some work is done: paths on it and files opened on it, and nothing else. */
export async function withDisk<T>(disk: Disk, work: () => Promise<T>): Promise<T> {
  const real = { ...fs };
  const onDisk = (path: unknown): path is string => typeof path === 'string' && path.startsWith(ROOT);
  const isOurs = (descriptor: number) => descriptor >= FIRST_DESCRIPTOR;
  const { O_CREAT } = fs.constants;
  const put: Record<string, unknown> = {
    openSync: (path: string, flags: number | string, mode?: number) =>
      onDisk(path)
        ? disk.open(path, { create: typeof flags === 'number' && (flags & O_CREAT) !== 0 })
        : real.openSync(path, flags, mode),
    closeSync: (fd: number) => (isOurs(fd) ? disk.close(fd) : real.closeSync(fd)),
    readSync: (fd: number, buffer: Uint8Array, offset: number, length: number, at: number) =>
      isOurs(fd)
        ? disk.read(fd, buffer.subarray(offset, offset + length), Number(at))
        : real.readSync(fd, buffer, offset, length, at),
    writeSync: (fd: number, buffer: Uint8Array, offset: number, length: number, at: number) =>
      isOurs(fd)
        ? disk.write(fd, buffer.subarray(offset, offset + length), Number(at))
        : real.writeSync(fd, buffer, offset, length, at),
    fstatSync: (fd: number) => (isOurs(fd) ? { size: disk.sizeOf(fd) } : real.fstatSync(fd)),
    ftruncateSync: (fd: number, length: number) =>
      isOurs(fd) ? disk.cut(fd, Number(length)) : real.ftruncateSync(fd, length),
    fsyncSync: (fd: number) => (isOurs(fd) ? disk.sync(fd) : real.fsyncSync(fd)),
    unlinkSync: (path: string) => (onDisk(path) ? disk.remove(path) : real.unlinkSync(path)),
    mkdirSync: (path: string, options: object) =>
      onDisk(path) ? disk.lock(path) : real.mkdirSync(path, options),
    rmdirSync: (path: string) => (onDisk(path) ? disk.unlock(path) : real.rmdirSync(path)),
    accessSync: (path: string, mode: number) => {
      if (!onDisk(path)) real.accessSync(path, mode);
      else if (!disk.exists(path)) throw failure('ENOENT', path);
    },
  };
  Object.assign(fs, put);
  try {
    return await work();
  } finally {
    Object.assign(
      fs,
      Object.fromEntries(Object.keys(put).map((name) => [name, real[name as keyof typeof real]])),
    );
  }
}
