import { Map as Persistent } from 'immutable';
import { ClassModel } from '../classes/class-odds.ts';
import { COUNTED_BOARDS, type Lessons, sameLessons, type Taught, taughtBy } from '../classes/lessons.ts';
import type { SpecimenRow } from './facts.ts';

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

interface Made {
  readonly model: ClassModel;
  readonly token: KindSpread;
}

/**
 * What the published specimens of a state teach of what joins what. Like spreads it is a function of what the archive holds and
 * stays the same object over most entries: sums go in steps of √2, and of a large archive 256 to 512 boards teach, drawn by
 * their ids.
 */
export class ClassLessons {
  readonly #boards: Persistent<string, Lessons>;
  readonly #models: Map<string, Made>;
  /** What every archive begins with. */
  readonly #counted: readonly Lessons[];
  #made: Made | undefined;

  private constructor(
    boards: Persistent<string, Lessons>,
    models: Map<string, Made>,
    counted: readonly Lessons[],
  ) {
    this.#boards = boards;
    this.#models = models;
    this.#counted = counted;
  }

  /**
   * @param before lessons of the same archive, whose models are used again where they say the same
   * @param counted what it begins with
   */
  static none(
    before?: ClassLessons,
    counted: readonly Lessons[] = [...COUNTED_BOARDS.values()],
  ): ClassLessons {
    return new ClassLessons(Persistent(), before ? before.#models : new Map(), counted);
  }

  /** The same with some specimens as they are now. @returns itself where nothing differs */
  relearn(changed: Iterable<readonly [id: string, row: SpecimenRow | undefined]>): ClassLessons {
    const boards = this.#boards.asMutable();
    let isChanged = false;
    for (const [id, row] of changed) {
      const before = boards.get(id);
      const now = row?.visibility === 'published' && row.lessons.length > 0 ? row.lessons : undefined;
      if (before === now || (before && now && sameLessons(before, now))) continue;
      isChanged = true;
      if (now) boards.set(id, now);
      else boards.delete(id);
    }
    return isChanged ? new ClassLessons(boards.asImmutable(), this.#models, this.#counted) : this;
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
      const taught = taughtBy([...this.#counted, ...this.#drawn()], inSteps);
      const key = keyOf(taught);
      this.#made = this.#models.get(key) ?? {
        model: new ClassModel(taught),
        token: { key: CLASSES_KEY, number: nextSpread(), kinds: [] },
      };
      this.#models.delete(key);
      this.#models.set(key, this.#made);
      for (const old of this.#models.keys()) {
        if (this.#models.size <= MODELS_KEPT) break;
        this.#models.delete(old);
      }
    }
    return this.#made;
  }

  *#drawn(): Generator<Lessons> {
    const level = Math.max(0, Math.floor(Math.log2(this.#boards.size / ENOUGH_BOARDS)));
    const below = 2 ** (32 - level);
    for (const [id, lessons] of this.#boards) if (hashOf(id) < below) yield lessons;
  }
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
