import { CasebackError } from '../model/problems.ts';

/** A file that is not taken as a photo; the message says why, and what would be. */
export class NoPhoto extends CasebackError {
  readonly why: string;
  readonly fix: string;

  /** @param why what is wrong, without a full stop; @param fix what to do */
  constructor(why: string, fix: string) {
    super('BAD_INPUT', `${why}; ${fix}`);
    this.why = why;
    this.fix = fix;
  }
}
