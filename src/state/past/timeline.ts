import type { ClockCorrected } from '../../model/clock.ts';
import { CasebackError } from '../../model/problems.ts';

/** What a timeline needs to know of an entry. */
export interface Timed {
  readonly sequence: number;
  /** What the clock said, ISO 8601 in UTC with milliseconds. */
  readonly instant: string;
}

/**
 * When each entry of a journal counts as written. Order is the sequence's, and clocks step: an entry counts from the latest
 * instant of those up to itself, each as corrected, so that what an instant shows is always a beginning of the journal.
 */
export class Timeline {
  /** First sequences of runs of entries with one instant, and these instants in milliseconds. */
  readonly #firsts: number[] = [];
  readonly #instants: number[] = [];
  readonly #corrections: ClockCorrected[] = [];
  /** Effective times of the runs, made when first asked for. */
  #effective: readonly Run[] | undefined;
  #last = 0;

  /** Sequence of the last entry noted. */
  get last(): number {
    return this.#last;
  }

  /** Notes the next entry, and what it says of clocks. */
  note({ sequence, instant }: Timed, correction?: ClockCorrected): void {
    this.#last = sequence;
    const milliseconds = Date.parse(instant);
    if (correction) this.#corrections.push(correction);
    if (this.#instants.at(-1) === milliseconds && !correction) return;
    this.#firsts.push(sequence);
    this.#instants.push(milliseconds);
    this.#effective = undefined;
  }

  /** Sequence of the last entry that counts as written at an instant (ISO 8601); 0 before the first. */
  sequenceAt(instant: string): number {
    const at = Date.parse(instant);
    const runs = this.#runs();
    let [low, high] = [0, runs.length];
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (runs[middle].from <= at) low = middle + 1;
      else high = middle;
    }
    return low === runs.length ? this.#last : runs[low].first - 1;
  }

  /** The instant from which an entry counts, ISO 8601 in UTC with milliseconds; undefined for one that there is not. */
  instantOf(sequence: number): string | undefined {
    if (sequence < 1 || sequence > this.#last) return undefined;
    const run = this.#runs().findLast(({ first }) => first <= sequence);
    return run && new Date(run.from).toISOString();
  }

  /** What the clock said, with what was corrected so far, when an entry was written; in milliseconds. */
  clockAt(sequence: number): number {
    const run = this.#firsts.findLastIndex((first) => first <= sequence);
    return this.#corrections
      .filter(({ first, last }) => first <= sequence && sequence <= last)
      .reduce((sum, { shift }) => sum + shift, this.#instants[run]);
  }

  /** The instant from which the first entry counts; undefined for an empty journal. */
  get beginning(): string | undefined {
    return this.instantOf(1);
  }

  #runs(): readonly Run[] {
    this.#effective ??= this.#corrected();
    return this.#effective;
  }

  #corrected(): readonly Run[] {
    // A correction may begin or end within a run.
    const cuts = new Set(this.#firsts);
    for (const { first, last } of this.#corrections) {
      if (first <= this.#last) cuts.add(first);
      if (last < this.#last) cuts.add(last + 1);
    }
    const runs: Run[] = [];
    let at = 0;
    let latest = Number.NEGATIVE_INFINITY;
    for (const first of [...cuts].sort((a, b) => a - b)) {
      while (at + 1 < this.#firsts.length && this.#firsts[at + 1] <= first) at++;
      let instant = this.#instants[at];
      for (const correction of this.#corrections)
        if (correction.first <= first && first <= correction.last) instant += correction.shift;
      latest = Math.max(latest, instant);
      if (runs.at(-1)?.from !== latest) runs.push({ first, from: latest });
    }
    return runs;
  }
}

/** Entries from a sequence on, up to the next run, count from an instant in milliseconds. */
interface Run {
  readonly first: number;
  readonly from: number;
}

/**
 * By how many milliseconds a correction of the clock moves entries.
 * @param at when the first of them was written, ISO 8601
 * @throws CasebackError BAD_INPUT for entries that there are not, and for an instant in the future
 */
export function shiftOf(timeline: Timeline, first: number, last: number, at: string, now: Date): number {
  if (!(first >= 1 && first <= last && last <= timeline.last))
    throw new CasebackError(
      'BAD_INPUT',
      `The journal has entries 1 to ${timeline.last}; ${first} to ${last} is no part of them`,
    );
  const shift = Date.parse(at) - timeline.clockAt(first);
  const latest = timeline.clockAt(last) + shift;
  if (latest > now.getTime())
    throw new CasebackError(
      'BAD_INPUT',
      `Entry ${last} would count as written at ${new Date(latest).toISOString()}, which is in the future; give an earlier instant`,
    );
  if (shift === 0) throw new CasebackError('BAD_INPUT', `Entry ${first} counts as written at ${at} already`);
  return shift;
}
