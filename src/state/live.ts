import type { Entry } from '../model/entry.ts';
import { compressed } from './compact.ts';
import { applyEntry, type Touched } from './fold.ts';
import { dossierOf } from './merge.ts';
import { documentsOfDossier, documentsOfRecord } from './search-documents.ts';
import { SearchIndex } from './search-index.ts';
import { type OpenedSpecimen, openSpecimen } from './specimen.ts';
import { emptyState, type SpecimenRow, type State } from './state.ts';

/** Compressing takes 4 ms of every 40, so that questions hardly notice. */
const COMPRESS_FOR = 4;
const COMPRESS_EVERY = 36;
/** Specimens kept unpacked; about 60 kB each. */
const WARM_SPECIMENS = 512;

/**
 * The thin holder of the live state: folds entries in, keeps the search index in step, keeps lately used
 * specimens unpacked, and tells subscribers what each entry touched.
 */
export class Live {
  readonly state: State;
  /** Undefined in a scratch state, which nobody searches by words. */
  readonly search: SearchIndex | undefined;
  readonly #warm = new Map<string, { readonly version: number; readonly opened: OpenedSpecimen }>();
  /** Specimens whose dossiers are still to be compressed. */
  readonly #uncompressed = new Set<string>();
  #compressing: NodeJS.Timeout | undefined;
  readonly #derived = new Map<(live: Live) => unknown, unknown>();
  readonly #listeners = new Set<(touched: Touched) => void>();

  /** @param state what to begin with; a state to try changes on is given here and is not searched by words */
  constructor(state?: State) {
    this.state = state ?? emptyState();
    this.search = state ? undefined : new SearchIndex();
  }

  /** Folds a batch of entries in, in order. */
  apply(entries: readonly Entry[]): void {
    const reports: Touched[] = [];
    const fold = () => {
      for (const entry of entries) {
        const touched = applyEntry(this.state, entry);
        this.#index(touched);
        reports.push(touched);
      }
    };
    if (this.search) this.search.batch(fold);
    else fold();
    for (const touched of reports) for (const listener of this.#listeners) listener(touched);
    if (this.search) this.#compressLater(reports.flatMap(({ specimens }) => specimens.map(({ id }) => id)));
  }

  /**
   * Something worked out from this state, such as an index that follows it: made when first asked for, kept as long
   * as the state. The function that makes it is its name.
   */
  derived<T>(make: (live: Live) => T): T {
    if (!this.#derived.has(make)) this.#derived.set(make, make(this));
    return this.#derived.get(make) as T;
  }

  /** Calls back after every batch, once an entry; answers the function that ends it. */
  onTouched(listener: (touched: Touched) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** The specimen unpacked, with its look-ups, for one pass over many; keeps nothing. */
  peek(row: SpecimenRow): OpenedSpecimen {
    const warm = this.#warm.get(row.id);
    if (warm?.version === row.version) return warm.opened;
    return openSpecimen(dossierOf(row), (part) => this.state.records.parts.get(part)?.categories);
  }

  /** The specimen unpacked, with its look-ups; kept while warm. */
  open(row: SpecimenRow): OpenedSpecimen {
    const fresh = { version: row.version, opened: this.peek(row) };
    // Taken out and put back, so that the map's order is the order of last use.
    this.#warm.delete(row.id);
    this.#warm.set(row.id, fresh);
    if (this.#warm.size > WARM_SPECIMENS) {
      for (const oldest of this.#warm.keys()) {
        this.#warm.delete(oldest);
        break;
      }
    }
    return fresh.opened;
  }

  close(): void {
    clearTimeout(this.#compressing);
    this.#uncompressed.clear();
    this.search?.close();
    this.#listeners.clear();
  }

  /** Compresses what was folded in when nobody is waiting: it takes as long as all the rest of a fold's packing. */
  #compressLater(ids: readonly string[]): void {
    for (const id of ids) this.#uncompressed.add(id);
    if (this.#compressing !== undefined || this.#uncompressed.size === 0) return;
    this.#compressing = setTimeout(() => this.#compressSome(), COMPRESS_EVERY).unref();
  }

  #compressSome(): void {
    const start = performance.now();
    for (const id of this.#uncompressed) {
      const row = this.state.specimens.get(id);
      if (row) this.state.specimens.set(id, { ...row, filed: compressed(row.filed) });
      this.#uncompressed.delete(id);
      if (performance.now() - start > COMPRESS_FOR) break;
    }
    this.#compressing = undefined;
    this.#compressLater([]);
  }

  #index({ records, specimens }: Touched): void {
    if (!this.search) return;
    for (const { collection, id } of records) {
      const record = this.state.records[collection].get(id);
      if (record) this.search.replace(id, documentsOfRecord(collection, record, this.state));
    }
    for (const { id, dossier } of specimens) this.search.replace(id, documentsOfDossier(dossier, this.state));
  }
}
