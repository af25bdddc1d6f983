import { existsSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { HeadFile, type HeadNote } from '../sqlite/head-file.ts';

// The tables say of themselves how long the journal is, so that whoever sets a whole database back to an older copy sets that back,
// too. What tells is a note elsewhere: each machine keeps one of how far it has seen the journal come.

/** How long a note may wait for what comes next, ms: it may be behind the journal, never ahead. */
const WAIT = 1_000;

/** Notes in a data folder how far this machine has seen the journal of a database come, a file for each archive. */
export class MachineNote {
  readonly #folder: string;
  #waiting: HeadNote | undefined;
  #written = new Map<string, number>();
  #timer: NodeJS.Timeout | undefined;

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** The file of an archive. */
  pathOf(archive: string): string {
    return this.#file(archive).path;
  }

  /**
   * What was noted of an archive; undefined where nothing was.
   * @throws CasebackError DAMAGED_JOURNAL for a file that is not what this program wrote
   */
  of(archive: string): HeadNote | undefined {
    return isIdentity(archive) ? this.#file(archive).read() : undefined;
  }

  /**
   * Notes what was seen, a moment later, unless more was noted.
   * @param isOwn whether this process appended it; whoever only reads makes no data folder
   */
  saw(note: HeadNote, isOwn: boolean): void {
    const { archive, entries } = note;
    if (!isOwn && !existsSync(this.#folder)) return;
    if (!isIdentity(archive) || entries <= (this.#written.get(archive) ?? 0)) return;
    if (this.#waiting && this.#waiting.entries >= entries) return;
    this.#waiting = note;
    this.#timer ??= setTimeout(() => this.flush(), WAIT).unref();
  }

  /** Puts a note in place of whatever was noted, where the folder can be written. */
  set(note: HeadNote): void {
    this.#waiting = undefined;
    try {
      this.#write(note);
    } catch {
      // As below.
    }
  }

  /** Writes what waits. */
  flush(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    const note = this.#waiting;
    this.#waiting = undefined;
    if (!note) return;
    try {
      // Another process of this machine may have seen more.
      if ((this.of(note.archive)?.entries ?? 0) < note.entries) this.#write(note);
    } catch {
      // A folder that cannot be written, or a damaged note, which opening tells of. Nothing that was appended is less safe.
    }
  }

  #write(note: HeadNote): void {
    const file = this.#file(note.archive);
    mkdirSync(dirname(file.path), { recursive: true });
    file.write(note);
    this.#written.set(note.archive, note.entries);
  }

  #file(archive: string): HeadFile {
    return new HeadFile(join(this.#folder, `database-${archive}`));
  }
}

/** Nothing else becomes the name of a file. */
function isIdentity(archive: string): boolean {
  return /^[0-9a-f-]{36}$/u.test(archive);
}
