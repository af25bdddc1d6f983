import type { SpecimenRow } from './facts.ts';
import { Pace } from './pace.ts';
import type { SharedCaches } from './shared-caches.ts';
import type { OpenedSpecimen } from './specimen.ts';
import type { State } from './state.ts';
import type { Audience } from './visibility/audience.ts';

/** Something calculated from each specimen separately, such as a segment of the pattern graph. */
export interface Reader {
  /** Whose states it reads alone; those of all when left out. */
  readonly audience?: Audience;
  /** Whether the row is still to be read. */
  needs(row: SpecimenRow): boolean;
  take(row: SpecimenRow, specimen: OpenedSpecimen, state: State): void;
}

/**
 * Reads dossiers for everything that is calculated from all of them. Unpacking a dossier takes about as long as its
 * use, so everything that needs a row gets it at once.
 */
class Readings {
  readonly #shared: SharedCaches;
  readonly #readers: Reader[] = [];

  constructor(shared: SharedCaches) {
    this.#shared = shared;
  }

  /**
   * Adds a reader.
   * @returns gives the reader all rows of a state that it needs, in turns with other work
   */
  add(reader: Reader): (state: State, signal?: AbortSignal) => Promise<void> {
    this.#readers.push(reader);
    /** The last edition whose rows were all read. */
    let read: number | undefined;
    const done = new WeakSet<State>();
    return async (state, signal) => {
      if (done.has(state)) return;
      const changed = read === undefined ? undefined : this.#shared.changesBetween(read, state.edition);
      const ids = changed && [
        ...[...changed, state.aside].flatMap(({ specimens }) => [...specimens]),
        ...this.#shared.partlyHidden(),
      ];
      // By id, and not as they changed: what is found first follows from the order of reading, and may not tell of changes that
      // an audience does not see.
      const rows = ids
        ? [...new Set(ids)].sort().flatMap((id) => state.specimenRow(id) ?? [])
        : state.specimenRows();
      const pace = new Pace(signal);
      this.#shared.readings++;
      try {
        for (const row of rows) {
          if (!reader.needs(row)) continue;
          this.#read(row, state);
          await pace.rest();
        }
      } finally {
        this.#shared.readings--;
      }
      // A readers' state may lack rows that a later state of the same edition has.
      if (state.audience === 'desk') read = state.edition;
      done.add(state);
    };
  }

  #read(row: SpecimenRow, state: State): void {
    const wanting = this.#readers.filter(
      (reader) => (reader.audience ?? state.audience) === state.audience && reader.needs(row),
    );
    const specimen = state.peek(row);
    for (const reader of wanting) reader.take(row, specimen, state);
  }
}

/** The readings of an archive. */
export function readingsOf(shared: SharedCaches): Readings {
  return shared.kept(makeReadings);
}

const makeReadings = (shared: SharedCaches) => new Readings(shared);
