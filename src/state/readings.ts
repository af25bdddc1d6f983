import type { SpecimenRow } from './facts.ts';
import type { Home } from './home.ts';
import { Pace } from './pace.ts';
import type { OpenedSpecimen } from './specimen.ts';
import type { State } from './state.ts';

/** Something worked out from each specimen by itself, such as a segment of the pattern graph. */
export interface Reader {
  /** Whether the row has still to be read. */
  needs(row: SpecimenRow): boolean;
  take(row: SpecimenRow, specimen: OpenedSpecimen, state: State): void;
}

/**
 * Reads dossiers for whatever is worked out from all of them. To unpack one takes about as long as what is done with it, so
 * that all who need a row are given it at once.
 */
class Readings {
  readonly #home: Home;
  readonly #readers: Reader[] = [];

  constructor(home: Home) {
    this.#home = home;
  }

  /**
   * One reader more.
   * @returns gives it all rows of a state that it needs, in turns with other work
   */
  add(reader: Reader): (state: State, signal?: AbortSignal) => Promise<void> {
    this.#readers.push(reader);
    /** The last edition whose rows were all read. */
    let read: number | undefined;
    return async (state, signal) => {
      const changed = read === undefined ? undefined : this.#home.changesBetween(read, state.edition);
      const ids = changed && [...changed, state.aside].flatMap(({ specimens }) => [...specimens]);
      const rows = ids ? ids.flatMap((id) => state.specimenRow(id) ?? []) : state.specimenRows();
      const pace = new Pace(signal);
      this.#home.readings++;
      try {
        for (const row of rows) {
          if (!reader.needs(row)) continue;
          this.#read(row, state);
          await pace.rest();
        }
      } finally {
        this.#home.readings--;
      }
      // A reader's state may lack rows that a later one of the same edition has.
      if (state.audience === 'desk') read = state.edition;
    };
  }

  #read(row: SpecimenRow, state: State): void {
    const wanting = this.#readers.filter((reader) => reader.needs(row));
    const specimen = state.peek(row);
    for (const reader of wanting) reader.take(row, specimen, state);
  }
}

/** The readings of an archive. */
export function readingsOf(home: Home): Readings {
  return home.kept(makeReadings);
}

const makeReadings = (home: Home) => new Readings(home);
