import { LRUCache } from 'lru-cache';
import type { Entry } from '../model/entry.ts';
import type { Visible } from '../model/visibility.ts';
import { type Audience, isOpen, readersFacts } from './audience.ts';
import { Changes } from './changes.ts';
import { EarlierSearch } from './earlier-search.ts';
import { type Facts, FactsDraft, NO_FACTS, type SpecimenRow } from './facts.ts';
import { applyEntry, type Touched } from './fold.ts';
import { Home } from './home.ts';
import { Names } from './names.ts';
import { documentsOfDossier, documentsOfRecord } from './search-documents.ts';
import { SearchIndex } from './search-index.ts';
import { State } from './state.ts';

/** Compressing takes 4 ms of every 40, so that questions are hardly delayed. */
const COMPRESS_FOR = 4;
const COMPRESS_EVERY = 36;
/** Batches whose changes are remembered, to bring indexes from one state to another. */
const REMEMBERED_BATCHES = 10_000;

/** Earlier states from which indexes are brought to others by what differs alone. */
const KEPT_EARLIER = 16;

/** Readers' facts, and the instants from and until which they hold if nothing is written. */
interface Opened {
  readonly facts: Facts;
  readonly from: string;
  readonly until: string;
}

/**
 * Holds the newest state of an archive for each audience: folds entries in, keeps the search index in step and tells
 * subscribers what each entry touched. States that were given out stay as they are.
 */
export class Holder extends Home {
  #desk: Facts = NO_FACTS;
  #reader: Opened | undefined;
  /** What changed since readers' facts were brought up to date. */
  #unopened = new Changes();
  #edition = 0;
  /** Facts of earlier states lately given out, by their editions, which are below 0. */
  readonly #earlier = new LRUCache<number, Facts>({ max: KEPT_EARLIER });
  #earliestEdition = 0;
  /** What each batch changed, the last one last. */
  readonly #batches: Changes[] = [];
  /** What is draft or under embargo: specimens, devices and publications by id. */
  readonly #guarded = new Map<string, Visible & { readonly device: string | undefined }>();
  readonly #states = new Map<Audience, State>();
  /** Rows whose dossiers are still to be compressed. */
  readonly #uncompressed = new Set<SpecimenRow>();
  #compressing: NodeJS.Timeout | undefined;
  readonly #listeners = new Set<(touched: Touched) => void>();

  constructor() {
    super(new Names(), { search: new SearchIndex() });
  }

  /** Everything folded in. */
  get desk(): Facts {
    return this.#desk;
  }

  /**
   * What an audience may see of earlier facts of the same journal, embargoes judged at an instant.
   * @param facts the fold of a beginning of the journal, with the rows and records of {@link desk} where they are the same
   * @param now ISO 8601 in UTC
   */
  earlierState(facts: Facts, audience: Audience, now: string): State {
    const seen =
      audience === 'desk'
        ? facts
        : readersFacts(NO_FACTS, facts, Changes.everythingIn(facts), now, this.names);
    const edition = --this.#earliestEdition;
    this.#earlier.set(edition, facts);
    const searched = new EarlierSearch(facts, () => ({
      facts: this.#desk,
      find: (question) => this.search?.find(question, this.#edition) ?? [],
    }));
    return new State(seen, this, { audience, now, edition, searched });
  }

  /** Sequence of the last entry folded in; changes whenever anything does. */
  get sequence(): number {
    return this.#desk.sequence;
  }

  /**
   * The newest state of an audience. The same object until something in it changes.
   * @param now the instant at which embargoes are judged, ISO 8601 in UTC
   */
  state(audience: Audience, now: string): State {
    const facts = audience === 'desk' ? this.#desk : this.#opened(now).facts;
    const kept = this.#states.get(audience);
    if (kept?.facts === facts) return kept;
    const state = new State(facts, this, { audience, now, edition: this.#edition });
    this.#states.set(audience, state);
    return state;
  }

  /** Folds a batch of entries in, in order; states change when all of them are in. */
  apply(entries: readonly Entry[]): void {
    const folding = this.fold();
    folding.add(entries);
    folding.done();
  }

  /** Folds batch after batch into one change, for an archive that is being opened. */
  fold(): { add(entries: readonly Entry[]): void; done(): void } {
    const draft = new FactsDraft(this.#desk, this.names);
    const changes = new Changes();
    const reports: Touched[] = [];
    const edition = this.#edition + 1;
    return {
      add: (entries) => {
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
        this.#edition = edition;
        this.#unopened.addAll(changes);
        this.#guard(changes);
        this.#batches.push(changes);
        if (this.#batches.length > REMEMBERED_BATCHES) this.#batches.shift();
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

  override changesBetween(a: number, b: number): readonly Changes[] | undefined {
    if (a === b) return [];
    const [low, high] = a < b ? [a, b] : [b, a];
    if (low < 0) return this.#fromEarlier(low, high);
    const first = this.#edition - this.#batches.length;
    return low < first ? undefined : this.#batches.slice(low - first, high - first);
  }

  /** What differs between an earlier state and one of the present or another earlier one. */
  #fromEarlier(earlier: number, other: number): readonly Changes[] | undefined {
    const facts = this.#earlier.get(earlier);
    if (other >= 0) {
      const since = this.changesBetween(other, this.#edition);
      return facts && since && [Changes.between(facts, this.#desk), ...since];
    }
    const others = this.#earlier.get(other);
    return facts && others && [Changes.between(facts, others)];
  }

  override *partlyHidden(): Generator<string> {
    for (const { device } of this.#guarded.values()) if (device !== undefined) yield device;
  }

  close(): void {
    clearTimeout(this.#compressing);
    this.#uncompressed.clear();
    this.search?.close();
    this.#listeners.clear();
  }

  /** What readers may see at an instant. */
  #opened(now: string): Opened {
    const before = this.#reader;
    if (before && this.#unopened.isEmpty && before.from <= now && now < before.until) return before;
    const [from, until] = this.#embargoesAround(now);
    // The clock went back past the end of an embargo, so something open closes: begin again.
    const isLater = before !== undefined && before.from <= from;
    const changes = isLater ? this.#unopened : Changes.everythingIn(this.#desk);
    if (isLater)
      for (const id of this.#endedBetween(before.from, now)) changes.addVisibilityOf(id, this.#desk);
    const facts = readersFacts(isLater ? before.facts : NO_FACTS, this.#desk, changes, now, this.names);
    this.#unopened = new Changes();
    this.#reader = { facts, from, until };
    return this.#reader;
  }

  /** The last embargo that has ended at an instant, and the next one to end. */
  #embargoesAround(now: string): readonly [string, string] {
    let from = '';
    let until = '\uffff';
    for (const { visibility, embargoUntil } of this.#guarded.values()) {
      if (visibility !== 'embargoed' || embargoUntil === undefined) continue;
      const end = new Date(embargoUntil).toISOString();
      if (end <= now) from = end > from ? end : from;
      else until = end < until ? end : until;
    }
    return [from, until];
  }

  *#endedBetween(from: string, now: string): Generator<string> {
    for (const [id, guarded] of this.#guarded) if (!isOpen(guarded, from) && isOpen(guarded, now)) yield id;
  }

  #guard(changes: Changes): void {
    const { specimens, records } = this.#desk;
    const note = (id: string, thing: Visible | undefined, device?: string) => {
      if (!thing || thing.visibility === 'published') this.#guarded.delete(id);
      else this.#guarded.set(id, { visibility: thing.visibility, embargoUntil: thing.embargoUntil, device });
    };
    for (const id of changes.specimens) {
      const row = specimens.get(id);
      note(id, row, row?.deviceId);
    }
    for (const id of changes.records.devices) note(id, records.devices.get(id), id);
    for (const id of changes.records.publications) note(id, records.publications.get(id));
  }

  #index(draft: FactsDraft, { records, specimens }: Touched, edition: number): void {
    for (const { collection, id } of records) {
      const record = draft.records[collection].get(id);
      if (record) this.search?.replace(id, documentsOfRecord(collection, record, draft), edition);
    }
    for (const { id, dossier } of specimens)
      this.search?.replace(id, documentsOfDossier(dossier, draft), edition);
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
