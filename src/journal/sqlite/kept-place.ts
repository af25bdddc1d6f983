import { CasebackError } from '../../model/problems.ts';
import { countOf, lastOf, openToRead } from './open.ts';
import { isDamage } from './sqlite-errors.ts';
import type { Place, System } from './system.ts';

/**
 * Whether the file that is open is still the one in the folder. A file that was deleted, or exchanged for another, can be written
 * as before by whoever has it open, and all of it is gone afterwards; so whoever writes looks first.
 */
export class KeptPlace {
  readonly #file: string;
  readonly #system: System;
  #journal: Place | undefined;
  #log: Place | undefined;

  /** The places as they are now, with the file just opened to be written. */
  constructor(file: string, system: System) {
    this.#file = file;
    this.#system = system;
    this.renew();
  }

  /** Takes the content as it is now for what it should be: this process has just written it. */
  renew(): void {
    const journal = this.#system.place(this.#file);
    if (!this.#journal || journal?.identity === this.#journal.identity) this.#journal = journal;
    this.#log ??= this.#system.place(`${this.#file}-wal`);
  }

  /**
   * @param last the last entry, as the open file has it
   * @param known entries that are known to have been in it
   * @throws CasebackError UNAVAILABLE when what is in the folder is not what is open
   */
  mustBeSame(last: { readonly sequence: number; readonly hash: string }, known: number): void {
    const journal = this.#system.place(this.#file);
    const log = this.#system.place(`${this.#file}-wal`);
    if (journal?.identity !== this.#journal?.identity) throw gone(this.#file, journal);
    if (this.#log && log?.identity !== this.#log.identity) throw gone(`${this.#file}-wal`, log);
    if (journal?.content === this.#journal?.content) return;
    // Somebody wrote into the file: another process that brought its log into it, or whoever copied another file over it.
    const fresh = openToRead(this.#file, this.#system);
    try {
      const found = lastOf(fresh.db);
      const isLast = found.sequence === last.sequence && found.hash === last.hash;
      if (!isLast || found.sequence < known) throw overwritten(this.#file);
      // Where the log holds the last entry, it may hide that those before are gone.
      const isInLog = (this.#system.size(`${this.#file}-wal`) ?? 0) > 0;
      if (isInLog && countOf(fresh.db) !== found.sequence) throw overwritten(this.#file);
    } catch (error) {
      throw isDamage(error) ? overwritten(this.#file) : error;
    } finally {
      fresh.close();
    }
    this.#journal = journal;
  }
}

function gone(file: string, found: Place | undefined): CasebackError {
  const what = found ? 'replaced by another file' : 'deleted, moved or renamed';
  return unavailable(`${file} was ${what} while this process has it open`);
}

function overwritten(file: string): CasebackError {
  return unavailable(`${file} was overwritten with something else while this process has it open`);
}

function unavailable(what: string): CasebackError {
  return new CasebackError(
    'UNAVAILABLE',
    `${what}. Nothing was written, for it would be lost; questions are answered from what was read. Put the file back, or stop this process, restore a copy and start again.`,
  );
}
