import { CasebackError } from '../model/problems.ts';

/** The error for a caller whose view of the journal is out of date. */
export class HeadMoved extends CasebackError {
  constructor(expected: number, actual: number) {
    super(
      'CONFLICT',
      `The archive has moved on from entry ${expected} to ${actual}; nothing was written. Read it again, then repeat the change.`,
    );
  }
}

/** An entry that is stored but cannot be read back. */
export class DamagedEntry extends CasebackError {
  readonly sequence: number;
  readonly why: string;

  constructor(sequence: number, why: string) {
    super(
      'DAMAGED_JOURNAL',
      `Entry ${sequence} of the journal cannot be read: ${why}. "caseback verify" says what else is damaged; restore the journal from a copy.`,
    );
    this.sequence = sequence;
    this.why = why;
  }
}
