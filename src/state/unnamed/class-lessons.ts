import { Map as Persistent } from 'immutable';
import { ClassModel } from '../../classes/class-odds.ts';
import {
  COUNTED_BOARDS,
  type LessonSums,
  type Lessons,
  lessonsOf,
  summed,
  type Taught,
  taughtIn,
  teachMore,
} from '../../classes/lessons.ts';
import { boardOf } from '../board-of.ts';
import type { SpecimenRow } from '../facts.ts';
import type { CategoriesOf } from '../labels.ts';
import { dossierOf } from '../merge.ts';

/** Possible kinds of an unidentified component, likeliest first; the rest to 1 is none of these. */
export interface KindSpread {
  /** What the component looks like, or {@link CLASSES_KEY}: equal for components that share the spread. */
  readonly key: string;
  /** Unique for every spread of a process: a key for what is calculated from it. */
  readonly number: number;
  readonly kinds: readonly { readonly category: string; readonly probability: number }[];
}

/** Key of the spread that stands for everything that boards have taught of what joins what. */
export const CLASSES_KEY = 'what joins what';

let made = 0;

/** A number for another spread. */
export function nextSpread(): number {
  return made++;
}

/** A count rounded to a power of √2. */
export function inSteps(count: number): number {
  return count <= 0 ? 0 : 2 ** (Math.round(2 * Math.log2(count)) / 2);
}

/** Of more boards than twice as many, some are drawn: more would change nothing that is told. */
const ENOUGH_BOARDS = 256;
/** Models kept: those of the states that are asked about side by side. */
const MODELS_KEPT = 8;

/** Lessons at rest. */
export interface SavedLessons {
  /** Everything that was taught. */
  readonly key: string;
  readonly token: KindSpread;
  /** Of the specimens that are drawn, by id. */
  readonly drawn: readonly (readonly [id: string, lessons: Lessons])[];
  /** With each specimen that is not published as if it were. */
  readonly including: readonly SavedIncluding[];
}

/** What would be taught were one more specimen published. */
export interface SavedIncluding {
  readonly id: string;
  readonly lessons: Lessons;
  /** As above; undefined where it teaches nothing more. */
  readonly made: Pick<SavedLessons, 'key' | 'token'> | undefined;
}

interface Made {
  /** What was taught, as text. */
  readonly key: string;
  readonly model: ClassModel;
  readonly token: KindSpread;
}

/** What was last made with each specimen that is not published. */
const madeWith = new WeakMap<SpecimenRow, Made>();

/** Lessons of specimens, calculated when first wanted: a row is replaced whenever anything in it changes, its parts included. */
const lessonsByRow = new WeakMap<SpecimenRow, Lessons>();

/**
 * What the published specimens of a state teach of what joins what. Like spreads it is a function of what the archive holds and
 * stays the same object over most entries: sums go in steps of √2, and of a large archive 256 to 512 boards teach, drawn by
 * their ids. Only these are unpacked.
 */
export class ClassLessons {
  readonly #rows: Persistent<string, SpecimenRow>;
  readonly #models: Map<string, Made>;
  /** What every archive begins with. */
  readonly #counted: readonly Lessons[];
  readonly #categoriesOf: CategoriesOf;
  #made: Made | undefined;
  #sums: LessonSums | undefined;

  private constructor(
    rows: Persistent<string, SpecimenRow>,
    models: Map<string, Made>,
    counted: readonly Lessons[],
    categoriesOf: CategoriesOf,
  ) {
    this.#rows = rows;
    this.#models = models;
    this.#counted = counted;
    this.#categoriesOf = categoriesOf;
  }

  /**
   * @param before lessons of the same archive, whose models are used again where they say the same
   * @param counted what it begins with
   */
  static none(
    before?: ClassLessons,
    counted: readonly Lessons[] = [...COUNTED_BOARDS.values()],
  ): ClassLessons {
    return new ClassLessons(Persistent(), before ? before.#models : new Map(), counted, () => undefined);
  }

  /**
   * The same with some specimens as they are now.
   * @param categoriesOf categories of the parts that they may be
   * @returns itself where nothing differs
   */
  relearn(
    changed: Iterable<readonly [id: string, row: SpecimenRow | undefined]>,
    categoriesOf: CategoriesOf = this.#categoriesOf,
  ): ClassLessons {
    const rows = this.#rows.asMutable();
    let isChanged = false;
    for (const [id, row] of changed) {
      const now = row?.visibility === 'published' ? row : undefined;
      if (rows.get(id) === now) continue;
      isChanged = true;
      if (now) rows.set(id, now);
      else rows.delete(id);
    }
    return isChanged ? new ClassLessons(rows.asImmutable(), this.#models, this.#counted, categoriesOf) : this;
  }

  /**
   * The same with a specimen that is not published as if it were.
   * @returns itself where that teaches nothing
   */
  including(row: SpecimenRow): ClassLessons {
    const lessons = this.#lessonsOf(row);
    const isDrawn = hashOf(row.id) < drawnBelow(this.#rows.size + 1);
    if (!isDrawn || !teachMore(lessons, this.#summed(), inSteps)) return this;
    const sums = summed([lessons], this.#summed());
    const taught = taughtIn(sums, inSteps);
    const key = keyOf(taught);
    const rows = this.#rows.set(row.id, row);
    const including = new ClassLessons(rows, this.#models, this.#counted, this.#categoriesOf);
    including.#sums = sums;
    const before = madeWith.get(row);
    including.#made = before?.key === key ? before : madeOf(key, taught);
    madeWith.set(row, including.#made);
    return including;
  }

  /** What has been calculated of it, to be taken up by {@link restored}. */
  save(unpublished: readonly SpecimenRow[]): SavedLessons {
    const { token, key } = this.#current();
    const drawn = [...this.#drawnIds()];
    return {
      key,
      token,
      drawn: drawn.map((id) => [id, this.#lessonsOf(this.#rows.get(id) as SpecimenRow)]),
      including: unpublished.map((row) => {
        const including = this.including(row);
        const made = including === this ? undefined : including.#current();
        return { id: row.id, lessons: this.#lessonsOf(row), made };
      }),
    };
  }

  /** The same as one that was saved, of the same specimens. @param unpublished specimens of which it was saved, too */
  static restored(
    rows: Iterable<SpecimenRow>,
    unpublished: ReadonlyMap<string, SpecimenRow>,
    categoriesOf: CategoriesOf,
    { key, token, drawn, including }: SavedLessons,
  ): ClassLessons {
    const makes = new Map<string, Made>();
    for (const { id, lessons, made: saved } of including) {
      const row = unpublished.get(id) as SpecimenRow;
      lessonsByRow.set(row, lessons);
      if (!saved) continue;
      const made = makes.get(saved.key) ?? madeOfSaved(saved);
      makes.set(saved.key, made);
      madeWith.set(row, made);
    }
    const all = Persistent(Array.from(rows, (row) => [row.id, row] as const));
    for (const [id, lessons] of drawn) lessonsByRow.set(all.get(id) as SpecimenRow, lessons);
    const one = madeOfSaved({ key, token });
    const restored = new ClassLessons(all, new Map([[key, one]]), [...COUNTED_BOARDS.values()], categoriesOf);
    restored.#made = one;
    return restored;
  }

  get model(): ClassModel {
    return this.#current().model;
  }

  /** Stands for the model in {@link KindSpread}s that something was calculated from. */
  get token(): KindSpread {
    return this.#current().token;
  }

  #current(): Made {
    if (!this.#made) {
      const taught = taughtIn(this.#summed(), inSteps);
      const key = keyOf(taught);
      this.#made = this.#models.get(key) ?? madeOf(key, taught);
      this.#models.delete(key);
      this.#models.set(key, this.#made);
      for (const old of this.#models.keys()) {
        if (this.#models.size <= MODELS_KEPT) break;
        this.#models.delete(old);
      }
    }
    return this.#made;
  }

  #summed(): LessonSums {
    this.#sums ??= summed([...this.#counted, ...this.#drawn()]);
    return this.#sums;
  }

  *#drawn(): Generator<Lessons> {
    for (const id of this.#drawnIds()) yield this.#lessonsOf(this.#rows.get(id) as SpecimenRow);
  }

  *#drawnIds(): Generator<string> {
    const below = drawnBelow(this.#rows.size);
    for (const id of this.#rows.keys()) if (hashOf(id) < below) yield id;
  }

  #lessonsOf(row: SpecimenRow): Lessons {
    let lessons = lessonsByRow.get(row);
    if (!lessons) {
      lessons = lessonsOf(boardOf(dossierOf(row), this.#categoriesOf));
      lessonsByRow.set(row, lessons);
    }
    return lessons;
  }
}

function madeOf(key: string, taught: Taught): Made {
  return {
    key,
    model: new ClassModel(taught),
    token: { key: CLASSES_KEY, number: nextSpread(), kinds: [] },
  };
}

function madeOfSaved({ key, token }: Pick<SavedLessons, 'key' | 'token'>): Made {
  const [chips, seen] = JSON.parse(key) as [Taught['chips'], Taught['seen']];
  return { key, model: new ClassModel({ chips, seen }), token };
}

/** Of so many specimens those teach whose ids have a hash below this. */
function drawnBelow(specimens: number): number {
  const level = Math.max(0, Math.floor(Math.log2(specimens / ENOUGH_BOARDS)));
  return 2 ** (32 - level);
}

function keyOf({ chips, seen }: Taught): string {
  return JSON.stringify([chips, seen]);
}

/** FNV-1a, 32 bits (Fowler, Noll and Vo). */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at++) {
    hash ^= text.charCodeAt(at);
    hash = Math.imul(hash, 0x01000193);
  }
  return hash >>> 0;
}
