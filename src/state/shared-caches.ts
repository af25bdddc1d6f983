import { LRUCache } from 'lru-cache';
import type { SpecimenRow } from './facts.ts';
import type { CategoriesOf } from './labels.ts';
import { dossierOf } from './merge.ts';
import type { Names } from './names.ts';
import type { SearchIndex } from './search/search-index.ts';
import { type OpenedSpecimen, openSpecimen } from './specimen.ts';
import type { TouchedIds } from './touched-ids.ts';
import type { UnnamedKinds } from './unnamed/unnamed-kinds.ts';

/** Specimens kept unpacked; about 60 kB each. */
const WARM_SPECIMENS = 512;

/**
 * What the states of an archive share: caches keyed by rows and records, which never change, and indexes that can be
 * aligned with any of the states.
 */
export class SharedCaches {
  readonly names: Names;
  /** Undefined for a state without full-text search. */
  readonly search: SearchIndex | undefined;
  readonly #warm = new LRUCache<SpecimenRow, OpenedSpecimen>({ max: WARM_SPECIMENS });
  readonly #kept = new Map<(shared: SharedCaches) => unknown, unknown>();
  /** Where an excerpt was taken from: what is unpacked there serves here, too. */
  readonly #origin: SharedCaches | undefined;

  /** @param more full-text search; for an excerpt, the shared that it was taken from */
  constructor(
    names: Names,
    { search, origin }: { readonly search?: SearchIndex; readonly origin?: SharedCaches } = {},
  ) {
    this.names = names;
    this.search = search;
    this.#origin = origin;
  }

  /** Something that outlives a state, made on first use. The function that makes it is its key. */
  kept<T>(make: (shared: SharedCaches) => T): T {
    if (!this.#kept.has(make)) this.#kept.set(make, make(this));
    return this.#kept.get(make) as T;
  }

  /** Keeps something that was made already, where nothing is kept yet. */
  keep<T>(make: (shared: SharedCaches) => T, made: T): void {
    if (!this.#kept.has(make)) this.#kept.set(make, made);
  }

  /**
   * What a snapshot holds besides facts, by name: read when it is first wanted. Undefined for what it does not hold, or what turns
   * out to be damaged.
   */
  saved: (name: string, audience: 'reader' | 'desk') => unknown = () => undefined;

  /** The specimen unpacked, with its look-ups, for a pass over many; not cached. */
  peek(row: SpecimenRow, categoriesOf: CategoriesOf, unnamed: UnnamedKinds): OpenedSpecimen {
    // An excerpt is of a few specimens, each wanted several times.
    if (this.#origin) return this.#origin.open(row, categoriesOf, unnamed);
    const warm = this.#warm.peek(row);
    return warm && unnamed.areCurrent(warm.learnt)
      ? warm
      : openSpecimen(dossierOf(row), categoriesOf, unnamed);
  }

  /** The specimen unpacked, with its look-ups; cached. */
  open(row: SpecimenRow, categoriesOf: CategoriesOf, unnamed: UnnamedKinds): OpenedSpecimen {
    if (this.#origin) return this.#origin.open(row, categoriesOf, unnamed);
    let opened = this.#warm.get(row);
    if (!opened || !unnamed.areCurrent(opened.learnt)) {
      opened = openSpecimen(dossierOf(row), categoriesOf, unnamed);
      this.#warm.set(row, opened);
    }
    return opened;
  }

  /** Readings of dossiers under way: dossiers at rest are not compressed just before they are read. */
  readings = 0;

  /**
   * What changed between two editions, in either direction; undefined when that is no longer known and anything may
   * have changed.
   */
  changesBetween(_a: number, _b: number): readonly TouchedIds[] | undefined {
    return undefined;
  }

  /** Ids of devices, specimens and records that audiences see differently, or did so lately. */
  partlyHidden(): Iterable<string> {
    return [];
  }
}
