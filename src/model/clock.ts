/** An administrator's correction of the clock: from when on entries count, in what an instant shows. */
export interface ClockCorrected {
  /** Sequence of the first entry that a wrong clock dated. */
  readonly first: number;
  /** Sequence of the last one. */
  readonly last: number;
  /** What is added to the instants of these entries, in milliseconds; below 0 where the clock was ahead. */
  readonly shift: number;
}
