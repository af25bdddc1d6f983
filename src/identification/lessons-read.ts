import type { SpecimenRow } from '../state/facts.ts';
import type { Audience } from '../state/visibility/audience.ts';
import type { Contribution } from './habits.ts';
import type { MarkedChips } from './uncatalogued-share.ts';

// What was read of specimens for what they teach. Reading is by far the dearest part of learning from an archive: every dossier is
// unpacked, and each marking of a settled part is aligned with what the catalogue lists. It depends on the specimen and the
// parts that it holds alone, so that it is kept by the identity of the row, and in a snapshot.

/** What one specimen teaches. */
export interface LessonsRead {
  readonly contributions: readonly Contribution[];
  readonly marked: MarkedChips;
}

/** What many specimens teach, as plain data and numbers. */
export interface SavedLessons {
  /** Digest of the table of confusions that readings were aligned by. */
  readonly confusion: string;
  /** The different contributions there are, and how often each. */
  readonly kinds: readonly Contribution[];
  /** Of each specimen how many contributions it makes; -1 where it was not read. */
  readonly lengths: readonly number[];
  /** Contributions of all specimens, one behind the other: places in `kinds`. */
  readonly places: Uint32Array;
  /** Of each specimen its marked chips; 0 where it has none. */
  readonly marked: readonly (MarkedChips | 0)[];
}

/** Name of what specimens teach in a snapshot, and what is saved there. */
export const LESSONS = 'lessons';
export interface RestoredLessons {
  readonly saved: SavedLessons;
  /** Those that it was of. */
  readonly rows: readonly SpecimenRow[];
}

/** How many specimens were read in this process for what they teach: a snapshot spares the next one that. */
export const readHere = (): Record<Audience, number> => ({ reader: 0, desk: 0 });

const NO_CHIPS: MarkedChips = { settled: 0, open: [] };

/** Equal contributions as one object: an archive makes few different ones, over and over. */
export class Contributions {
  readonly #known = new Map<string, Contribution>();

  shared(all: readonly Contribution[]): readonly Contribution[] {
    return all.map((one) => {
      const key = keyOf(one);
      const known = this.#known.get(key);
      if (known) return known;
      this.#known.set(key, one);
      return one;
    });
  }
}

function keyOf({ table, given, seen, times = 1 }: Contribution): string {
  return `${table}\0${given}\0${seen}\0${times}`;
}

/** @param read of each row what was read of it, undefined where nothing was */
export function savedLessons(
  rows: readonly SpecimenRow[],
  read: (row: SpecimenRow) => LessonsRead | undefined,
  confusion: string,
): SavedLessons {
  const places = new Map<string, number>();
  const kinds: Contribution[] = [];
  const all: number[] = [];
  const lengths: number[] = [];
  const marked: (MarkedChips | 0)[] = [];
  for (const row of rows) {
    const lessons = read(row);
    lengths.push(lessons ? lessons.contributions.length : -1);
    const chips = lessons?.marked ?? NO_CHIPS;
    marked.push(chips.settled + chips.open.length > 0 ? chips : 0);
    for (const one of lessons?.contributions ?? []) {
      const key = keyOf(one);
      let place = places.get(key);
      if (place === undefined) {
        place = kinds.push(one) - 1;
        places.set(key, place);
      }
      all.push(place);
    }
  }
  return { confusion, kinds, lengths, places: Uint32Array.from(all), marked };
}

/** By row what {@link savedLessons} took. @param rows the same, in the same order */
export function* lessonsIn(
  { kinds, lengths, places, marked }: SavedLessons,
  rows: readonly SpecimenRow[],
): Generator<readonly [row: SpecimenRow, lessons: LessonsRead]> {
  let from = 0;
  for (const [at, row] of rows.entries()) {
    const length = lengths[at];
    if (length < 0) continue;
    const to = from + length;
    const contributions = Array.from(places.subarray(from, to), (place) => kinds[place]);
    from = to;
    yield [row, { contributions, marked: marked[at] || NO_CHIPS }];
  }
}
