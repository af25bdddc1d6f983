import { createHash } from 'node:crypto';
import { basename, dirname, join } from 'node:path';
import { CasebackError } from '../../model/problems.ts';
import { canonicalJson } from '../canonical.ts';
import { NO_HASH } from '../journal.ts';
import { MACHINE, type System } from './system.ts';

/** How far a journal had come when the note was made. */
export interface HeadNote {
  /** Identity of the archive. */
  readonly archive: string;
  /** Number of entries. */
  readonly entries: number;
  /** Hash of the last entry, 64 zeros for none. */
  readonly hash: string;
  /** Instant of the last entry; empty for none. */
  readonly instant: string;
}

const FORM = 'journal-head/1';

/**
 * The file beside a journal that notes how far it has come, written anew behind every commit: by it a journal that was cut
 * short, emptied, deleted or exchanged is noticed. It may be behind the journal, never ahead of it. For `journal.sqlite`
 * it is `journal.head.json`, JSON with a SHA-256 over the canonical form (RFC 8785) of the other members.
 */
export class HeadFile {
  readonly path: string;
  readonly #system: System;

  constructor(journal: string, system: System = MACHINE) {
    this.path = `${journal.replace(/\.sqlite$/u, '')}.head.json`;
    this.#system = system;
  }

  /**
   * The note; undefined where there is no file.
   * @throws CasebackError DAMAGED_JOURNAL when the file is not what this program wrote
   */
  read(): HeadNote | undefined {
    const text = this.#system.read(this.path);
    if (text === undefined) return undefined;
    const read = parsed(text);
    if (read?.caseback !== FORM || read.digest !== digestOf(read as unknown as HeadNote))
      throw new CasebackError(
        'DAMAGED_JOURNAL',
        `${this.path}, which notes how long the journal is, is damaged; restore it together with the journal from a copy. Where "caseback verify" finds every entry that you expect, the file can be deleted: the next change writes it anew.`,
      );
    const { archive, entries, hash, instant } = read as unknown as HeadNote;
    return { archive, entries, hash, instant };
  }

  exists(): boolean {
    return this.#system.size(this.path) !== undefined;
  }

  /** Puts a note in place of the one before, durably: after a crash there is the one or the other. */
  write(note: HeadNote): void {
    const text = textOf(note);
    try {
      this.#replace(text);
    } catch (error) {
      // Another process took the unfinished file for one that was left behind.
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
      this.#replace(text);
    }
  }

  /**
   * The identity noted for a journal that is yet to be made: the first to ask decides it, for all processes.
   * @throws CasebackError DAMAGED_JOURNAL when entries were noted
   */
  claim(identity: string): string {
    const note: HeadNote = { archive: identity, entries: 0, hash: NO_HASH, instant: '' };
    const made = this.#unfinished();
    this.#system.write(made, textOf(note));
    this.#system.sync(made);
    const linked = this.#system.link(made, this.path);
    this.#system.remove(made);
    this.#system.sync(dirname(this.path));
    return linked === 'done' ? identity : (this.read()?.archive ?? identity);
  }

  /** Removes what processes that were killed have left unfinished. */
  clean(isRunning: (pid: number) => boolean): void {
    const [folder, start] = [dirname(this.path), `${basename(this.path)}${UNFINISHED}`];
    for (const name of this.#system.list(folder)) {
      if (name.startsWith(start) && !isRunning(Number(name.slice(start.length))))
        this.#system.remove(join(folder, name));
    }
  }

  #replace(text: string): void {
    const made = this.#unfinished();
    this.#system.write(made, text);
    this.#system.sync(made);
    this.#system.rename(made, this.path);
    this.#system.sync(dirname(this.path));
  }

  #unfinished(): string {
    return `${this.path}${UNFINISHED}${process.pid}`;
  }
}

/** Before the process id in the name of a file that is not finished. */
const UNFINISHED = '.new-';

function textOf(note: HeadNote): string {
  return `${JSON.stringify({ caseback: FORM, ...note, digest: digestOf(note) }, null, 2)}\n`;
}

function digestOf({ archive, entries, hash, instant }: HeadNote): string | undefined {
  if (!Number.isSafeInteger(entries) || entries < 0) return undefined;
  if (![archive, hash, instant].every((one) => typeof one === 'string' && one.isWellFormed()))
    return undefined;
  return createHash('sha256')
    .update(canonicalJson({ archive, caseback: FORM, entries, hash, instant }))
    .digest('hex');
}

function parsed(text: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const read: unknown = JSON.parse(text);
    return typeof read === 'object' && read !== null ? (read as Record<string, unknown>) : undefined;
  } catch {
    return undefined;
  }
}
