import { COLLECTIONS, type Collection, type Publication } from '../model/catalogue.ts';
import type { Change, Entry } from '../model/entry.ts';
import { isMarked, isOpen, type Visible } from '../model/visibility.ts';
import { type Facts, FactsDraft, NO_FACTS, type SpecimenRow } from './facts.ts';
import { applyEntry, type Touched } from './fold.ts';
import { dossierOf } from './merge.ts';
import { Names } from './names.ts';
import { Pace } from './pace.ts';
import { ReadersSearch } from './search/readers-search.ts';
import { documentsOfDossier, documentsOfRecord } from './search/search-documents.ts';
import { type SearchHit, SearchIndex } from './search/search-index.ts';
import { SharedCaches } from './shared-caches.ts';
import { State } from './state.ts';
import { type SavedTouchedIds, TouchedIds } from './touched-ids.ts';
import {
  type Audience,
  apartFrom,
  type Seen,
  type SeenNow,
  seenAgain,
  seenAnew,
  seenByReaders,
} from './visibility/audience.ts';
import { markedIn } from './visibility/marked.ts';

/** Compressing takes 4 ms of every 40, so that questions are hardly delayed. */
const COMPRESS_FOR = 4;
const COMPRESS_EVERY = 36;
/** Batches whose changes are remembered, to bring indexes from one state to another. */
const REMEMBERED_BATCHES = 10_000;

/** Editions after which nothing older than a change of visibility is asked any more. */
const REMEMBERED_HIDING = 1_000;

/** What a holder has of a desk, to be taken up by another one. */
export interface Captured {
  readonly desk: Facts;
  readonly edition: number;
  readonly names: Names;
  readonly search: SearchIndex;
  /** What readers saw, if anybody asked. */
  readonly readers?: SavedReaders;
}

/** What readers see, as what is not the same for them as for the desk; plain data, as JSON holds it. */
export interface SavedReaders {
  readonly apart: SavedTouchedIds;
  /** The instant at which embargoes were judged, and those from and until which it holds. */
  readonly now: string;
  readonly from: string;
  readonly until: string;
}

/** What readers see, and the instants from and until which it holds if nothing is written. */
interface Opened {
  readonly seen: Seen;
  /** The instant at which it was judged. */
  readonly now: string;
  readonly from: string;
  readonly until: string;
}

/**
 * Holds the newest state of an archive for each audience: folds entries in, keeps the search index in step and tells
 * subscribers what each entry touched. States that were given out stay as they are.
 */
export class Holder extends SharedCaches {
  #desk: Facts = NO_FACTS;
  #reader: Opened | undefined;
  /** Hash of the last entry folded in, once one was. */
  #lastHash: string | undefined;
  /** What changed since readers' facts were brought up to date. */
  #unopened = new TouchedIds();
  #edition = 0;
  /** What each batch changed, the last one last. */
  readonly #batches: TouchedIds[] = [];
  /** What is draft or under embargo, as a whole or in part: marks of who may see it, by the id of the thing. */
  readonly #guarded = new Map<string, readonly Visible[]>();
  /** What audiences see differently, by id, with the edition until which they did. */
  readonly #apart = new Map<string, number>();
  readonly #search: SearchIndex;
  readonly #readersSearch: ReadersSearch;
  /** Names of makers and devices, as they stand in search documents. */
  readonly #called = new Map<string, string>();
  readonly #states = new Map<Audience, State>();
  /** Rows whose dossiers are still to be compressed. */
  readonly #uncompressed = new Set<SpecimenRow>();
  #compressing: NodeJS.Timeout | undefined;
  /** Whether entries are being folded in, with turns of others between them. */
  #isFolding = false;
  readonly #listeners = new Set<(touched: Touched) => void>();

  /** @param from what {@link capture} gave of another one, read from a snapshot */
  constructor(from?: Captured) {
    const search = from?.search ?? new SearchIndex();
    super(from?.names ?? new Names(), { search });
    this.#search = search;
    this.#readersSearch = new ReadersSearch(search);
    if (!from) return;
    this.#desk = from.desk;
    this.#edition = from.edition;
    const marked = new TouchedIds();
    for (const id of markedIn(from.desk)) marked.addAnything(id, from.desk);
    marked.corrections = true;
    this.#guard(marked);
    for (const [id, { name }] of from.desk.records.makers) this.#called.set(id, name);
    for (const [id, { device }] of from.desk.devices) this.#called.set(id, device.name);
    if (!from.readers) return;
    const { apart, ...judged } = from.readers;
    const seen = seenAgain(from.desk, TouchedIds.saved(apart), judged.now, this.names);
    this.#reader = { seen, ...judged };
    this.#setApart([], seen.differing);
  }

  /** Everything that follows from the entries so far, as values. */
  capture(): Captured {
    const captured = { desk: this.#desk, edition: this.#edition, names: this.names, search: this.#search };
    const reader = this.#unopened.isEmpty ? this.#reader : undefined;
    if (!reader) return captured;
    const { seen, ...judged } = reader;
    return { ...captured, readers: { apart: apartFrom(this.#desk, seen).save(), ...judged } };
  }

  /** Instants from and until which what readers see holds if nothing is written. */
  readersWindow(now: string): { readonly from: string; readonly until: string } {
    const { from, until } = this.#opened(now);
    return { from, until };
  }

  /** Number of the last batch of changes; an index that is aligned with it has everything. */
  get edition(): number {
    return this.#edition;
  }

  /** Everything folded in. */
  get desk(): Facts {
    return this.#desk;
  }

  /** What readers see now, for looks at earlier instants. @param now ISO 8601 in UTC */
  seenNow(now: string): SeenNow {
    return { desk: this.#desk, reader: this.#opened(now).seen.facts, now };
  }

  /** Readers' facts, and what they would be after some changes; nothing is written. @param now ISO 8601 in UTC */
  preview(changes: readonly Change[], now: string): { readonly before: Facts; readonly after: Facts } {
    const { seen } = this.#opened(now);
    const draft = new FactsDraft(this.#desk, this.names);
    const touched = new TouchedIds();
    changes.forEach((change, i) => {
      const proof = { id: '', previousHash: '', hash: '' };
      touched.add(applyEntry(draft, { ...change, ...proof, sequence: this.sequence + 1 + i, instant: now }));
    });
    const after = seenByReaders(seen, draft.seal(), touched, now, this.names).seen.facts;
    return { before: seen.facts, after };
  }

  /** Whether there is anything that readers do not see as the desk does. */
  get hidesAnything(): boolean {
    return this.#guarded.size > 0 || this.#desk.recalls.size > 0;
  }

  /** Hits of a full-text search in everything, best first, and the facts that they are of. */
  searched(): { readonly facts: Facts; readonly find: (question: string) => Iterable<SearchHit> } {
    return { facts: this.#desk, find: (question) => this.search?.find(question, this.#edition) ?? [] };
  }

  /** Sequence of the last entry folded in; changes whenever anything does. */
  get sequence(): number {
    return this.#desk.sequence;
  }

  /** Its hash; undefined where it came from a snapshot. */
  get lastHash(): string | undefined {
    return this.#lastHash;
  }

  /**
   * The newest state of an audience. The same object until something in it changes.
   * @param now the instant at which embargoes are judged, ISO 8601 in UTC
   */
  state(audience: Audience, now: string): State {
    const seen = audience === 'desk' ? undefined : this.#opened(now).seen;
    const facts = seen?.facts ?? this.#desk;
    const kept = this.#states.get(audience);
    if (kept?.facts === facts) return kept;
    const edition = this.#edition;
    const searched = seen && this.#readersSearch.follow(seen, this.#desk, edition);
    const state = new State(facts, this, { audience, now, edition, searched });
    this.#states.set(audience, state);
    return state;
  }

  /** Folds a batch of entries in, in order; states change when all of them are in. */
  apply(entries: readonly Entry[]): void {
    const folding = this.fold();
    folding.add(entries);
    folding.done();
  }

  /**
   * The same, with turns of others between the entries; what they ask is answered as it was before the first until the last is
   * folded in. Nothing else may be folded in meanwhile.
   * @param now ISO 8601 in UTC
   */
  async applyInTurns(entries: readonly Entry[], now: string): Promise<void> {
    // What readers see of all before is settled now: settled on the way, it would take the edition of what is being folded in.
    if (this.#reader) this.#opened(now);
    const folding = this.fold();
    const pace = new Pace();
    this.#isFolding = true;
    try {
      for (const entry of entries) {
        folding.add([entry]);
        await pace.rest();
      }
    } finally {
      this.#isFolding = false;
    }
    folding.done();
  }

  /** Folds batch after batch into one change: states are the next ones once it is done. */
  fold(): { add(entries: readonly Entry[]): void; done(): void } {
    const draft = new FactsDraft(this.#desk, this.names);
    const changes = new TouchedIds();
    const reports: Touched[] = [];
    const edition = this.#edition + 1;
    let hash: string | undefined;
    return {
      add: (entries) => {
        hash = entries.at(-1)?.hash ?? hash;
        this.search?.batch(() => {
          for (const entry of entries) {
            const touched = applyEntry(draft, entry);
            this.#index(draft, touched, edition);
            changes.add(touched);
            if (this.#listeners.size > 0) reports.push(touched);
          }
        });
      },
      done: () => {
        if (draft.sequence === this.#desk.sequence) return;
        this.#desk = draft.seal();
        this.#lastHash = hash;
        this.#remember(changes);
        this.#unopened.addAll(changes);
        this.#guard(changes);
        for (const id of changes.specimens)
          this.#uncompressed.add(this.#desk.specimens.get(id) as SpecimenRow);
        this.#compressLater();
        for (const touched of reports) for (const listener of this.#listeners) listener(touched);
      },
    };
  }

  /** Calls back after every batch, once an entry; returns the function that unsubscribes. */
  onTouched(listener: (touched: Touched) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  override changesBetween(a: number, b: number): readonly TouchedIds[] | undefined {
    const [low, high] = a < b ? [a, b] : [b, a];
    const first = this.#edition - this.#batches.length;
    return low < first ? undefined : this.#batches.slice(low - first, high - first);
  }

  override *partlyHidden(): Generator<string> {
    for (const [id, until] of this.#apart) {
      if (until < this.#edition - REMEMBERED_HIDING) this.#apart.delete(id);
      else yield id;
    }
  }

  close(): void {
    clearTimeout(this.#compressing);
    this.#uncompressed.clear();
    this.search?.close();
    this.#readersSearch.close();
    this.#listeners.clear();
  }

  /** What readers may see at an instant. */
  #opened(now: string): Opened {
    const before = this.#reader;
    // So an embargo that ends waits these moments.
    if (before && this.#isFolding) return before;
    if (before && this.#unopened.isEmpty && before.from <= now && now < before.until) return before;
    const [from, until] = this.#embargoesAround(now);
    if (!before) {
      const seen = seenAnew(this.#desk, now, this.names);
      this.#unopened = new TouchedIds();
      this.#reader = { seen, now, from, until };
      this.#setApart([], seen.differing);
      return this.#reader;
    }
    // The clock went back past the end of an embargo, so something open closes: look at everything that may be hidden again.
    const isLater = before.from <= from;
    const changes = this.#unopened;
    for (const id of this.#turnedBetween(isLater ? before.from : '', now))
      changes.addAnything(id, this.#desk);
    const opened = seenByReaders(before.seen, this.#desk, changes, now, this.names);
    this.#unopened = new TouchedIds();
    this.#reader = { seen: opened.seen, now, from, until };
    this.#setApart(before.seen.differing, opened.seen.differing);
    // Rows and records of readers may change without an entry about them.
    if (!opened.changes.isEmpty) this.#remember(opened.changes);
    return this.#reader;
  }

  #remember(changes: TouchedIds): void {
    this.#edition++;
    this.#batches.push(changes);
    if (this.#batches.length > REMEMBERED_BATCHES) this.#batches.shift();
  }

  #setApart(before: Iterable<string>, now: ReadonlySet<string>): void {
    for (const id of before) if (!now.has(id) && !this.#guarded.has(id)) this.#apart.set(id, this.#edition);
    for (const id of now) this.#apart.set(id, Number.POSITIVE_INFINITY);
  }

  /** The last embargo that has ended at an instant, and the next one to end. */
  #embargoesAround(now: string): readonly [string, string] {
    let from = '';
    let until = '\uffff';
    for (const { visibility, embargoUntil } of [...this.#guarded.values()].flat()) {
      if (visibility !== 'embargoed' || embargoUntil === undefined) continue;
      const end = new Date(embargoUntil).toISOString();
      if (end <= now) from = end > from ? end : from;
      else until = end < until ? end : until;
    }
    return [from, until];
  }

  /** What may be open at one of two instants and hidden at the other; everything that may be hidden, where the first is empty. */
  *#turnedBetween(from: string, now: string): Generator<string> {
    for (const [id, marks] of this.#guarded)
      if (from === '' || marks.some((mark) => isOpen(mark, from) !== isOpen(mark, now))) yield id;
  }

  #guard(changes: TouchedIds): void {
    const { records, specimens, standingRecords, standingSpecimens, corrections } = this.#desk;
    const note = (id: string, things: readonly (Visible | undefined)[]) => {
      const marks = things.flatMap((thing) => (thing && isMarked(thing) ? [thing] : []));
      if (marks.length > 0) {
        this.#guarded.set(id, marks);
        this.#apart.set(id, Number.POSITIVE_INFINITY);
      } else if (this.#guarded.delete(id)) this.#apart.set(id, this.#edition);
    };
    for (const id of changes.specimens) {
      const rows = [specimens.get(id), standingSpecimens.get(id)?.version];
      note(id, [...rows, ...rows.flatMap((row) => row?.marks ?? [])]);
    }
    for (const collection of COLLECTIONS)
      for (const id of changes.records[collection]) {
        const versions = [records[collection].get(id), standingRecords.get(id)?.version];
        const claims = versions.flatMap((one) => (one as Publication | undefined)?.claims ?? []);
        note(id, [...versions, ...claims]);
      }
    if (changes.corrections) for (const { correction } of corrections) note(correction.id, [correction]);
  }

  #index(draft: FactsDraft, { records, devices, specimens }: Touched, edition: number): void {
    const index = (collection: Collection, id: string) => {
      const record = draft.records[collection].get(id);
      if (record) this.search?.replace(id, documentsOfRecord(collection, record, draft), edition);
    };
    for (const { collection, id } of records) {
      index(collection, id);
      // The documents of its devices have the name of a maker, and those of specimens the name of a device.
      if (collection === 'makers' && this.#isRenamed(id, draft.records.makers.get(id)?.name))
        draft.links.someInto(id, (from) => {
          if (draft.devices.has(from)) index('devices', from);
          return false;
        });
    }
    const renamed = devices.filter((id) => this.#isRenamed(id, draft.devices.get(id)?.device.name));
    const others = renamed.flatMap((id) => draft.devices.get(id)?.specimens ?? []);
    for (const id of new Set(others)) {
      const row = draft.specimens.get(id);
      if (row && !specimens.some((one) => one.id === id))
        this.search?.replace(id, documentsOfDossier(dossierOf(row), draft), edition);
    }
    for (const { id, dossier } of specimens)
      this.search?.replace(id, documentsOfDossier(dossier, draft), edition);
  }

  /** Whether a maker or device that had a name has another one now. */
  #isRenamed(id: string, name: string | undefined): boolean {
    const before = this.#called.get(id);
    if (name === undefined || before === name) return false;
    this.#called.set(id, name);
    return before !== undefined;
  }

  /** Compresses new dossiers in idle time: it takes as long as the rest of a fold. */
  #compressLater(): void {
    if (this.#compressing !== undefined || this.#uncompressed.size === 0) return;
    this.#compressing = setTimeout(() => this.#compressSome(), COMPRESS_EVERY).unref();
  }

  #compressSome(): void {
    const start = performance.now();
    for (const row of this.readings === 0 ? this.#uncompressed : []) {
      row.filed.compress();
      this.#uncompressed.delete(row);
      if (performance.now() - start > COMPRESS_FOR) break;
    }
    this.#compressing = undefined;
    this.#compressLater();
  }
}
