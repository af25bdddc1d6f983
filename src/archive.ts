import { createHash } from 'node:crypto';
import { setTimeout as delay, setImmediate as nextTurn } from 'node:timers/promises';
import { changedPhoto, type PhotoChange, recordDigest } from './archive/changed-photo.ts';
import { asReadersSee, correctionId, heldBack, mustSee } from './archive/correcting.ts';
import { heldIn } from './archive/held.ts';
import { secondOf, signed } from './archive/identifying.ts';
import { folded, isDue, type KeptSnapshot, restoredFrom, type SnapshotPlace } from './archive/opening.ts';
import { recalledWith } from './archive/recalling.ts';
import { type Addition, checkAddition, withRecordedComponents } from './dossier/additions.ts';
import { amend } from './dossier/amend.ts';
import type { HeldDossiers } from './dossier/check/context.ts';
import { bySeverity } from './dossier/check/rules.ts';
import { findingEveryProblem } from './dossier/every-problem.ts';
import { type PlannedImport, planImport, planningImport } from './dossier/plan.ts';
import { refusePublishing } from './dossier/publishing.ts';
import type { ReadDocument } from './dossier/read.ts';
import type { ReadFiles } from './dossier/read-files.ts';
import type { Difference } from './evidence/difference.ts';
import { readHere } from './identification/lessons-read.ts';
import { canonicalJson } from './journal/canonical.ts';
import { DamagedEntry, HeadMoved } from './journal/errors.ts';
import type { Journal } from './journal/journal.ts';
import { keyReused } from './journal/keys.ts';
import { TreeHeads } from './journal/tree-heads.ts';
import { type Amendment, type Correction, subjectOf } from './model/correction.ts';
import type { DecisionVerdict } from './model/decision.ts';
import type { Dossier, EditorJudgement, Identification, Observation, Photo } from './model/dossier.ts';
import type { Authorship, Change, Entry } from './model/entry.ts';
import { parseThingId, thingId } from './model/ids.ts';
import { CasebackError, type Problem } from './model/problems.ts';
import type { InspectedPhoto } from './photos/inspect.ts';
import { type PhotosAtHand, photosKept } from './photos/kept.ts';
import type { Photos } from './photos/photos.ts';
import type { Touched } from './state/fold.ts';
import type { Holder } from './state/holder.ts';
import { dossierOf } from './state/merge.ts';
import { inTurns } from './state/pace.ts';
import { Past } from './state/past/past.ts';
import { shiftOf } from './state/past/timeline.ts';
import { resolved } from './state/resolve.ts';
import type { State } from './state/state.ts';
import type { Audience } from './state/visibility/audience.ts';
import { type ReadersDifference, readersDifference } from './state/visibility/readers-difference.ts';
import { inSpan } from './telemetry/spans.ts';
import type { TradeImport } from './trade-files/import.ts';
import type { TradeReport } from './trade-files/report.ts';

export interface ImportReport {
  /** Journal entries written; 0 when the archive already held everything. */
  readonly entries: number;
  readonly records: number;
  readonly dossiers: number;
  /** Files of photos that were kept. */
  readonly photos: number;
  /** The last entry written. */
  readonly last?: Entry;
  /** What in the files is worth a second look and kept nothing out. */
  readonly cautions: readonly Problem[];
  /** What readers see since, or would see, that they did not. */
  readonly readers: ReadersDifference;
}

/** For whom an import is made, and what it may do. */
export interface ImportOptions {
  /** Whose state it is held against, and whose near names its problems name. @default 'desk' */
  readonly audience?: Audience | undefined;
  /** Whether more than drafts may be brought in. @default true */
  readonly mayPublish?: boolean | undefined;
  /** Ends it as long as nothing is written. */
  readonly signal?: AbortSignal | undefined;
  /** Files of photos that come along. */
  readonly photos?: PhotosAtHand | undefined;
}

/** What a recall took back. */
export interface RecallReport {
  /** Ids of what was recalled: with a device its specimens. */
  readonly ids: readonly string[];
  readonly readers: ReadersDifference;
  readonly entry: Entry;
}

/** An entry as written, with what in it is worth a second look. */
export type Recorded = Entry & { readonly cautions: readonly Problem[] };

/** What an import of trade files wrote, or would write, and how the files were taken. */
export interface TradeImportReport extends ImportReport {
  readonly report: TradeReport;
}

/** A correction as it was journaled, and what it came to. */
export interface CorrectionReport {
  readonly correction: Correction;
  readonly difference: Difference;
  readonly entry: Entry;
}

/** The author of changes that are only tried out: none of them is journaled. */
const TRIED_OUT: Authorship = { actor: 'this change', reason: 'tried out' };

/** How long a change is planned again because others wrote meanwhile, in ms, and how often at least. */
const RETRY_FOR = 30_000;
const RETRIES = 10;

/** What is done once, however often it is asked: the key that the asker gave it, and what was asked. */
interface Once {
  readonly key: string;
  readonly fingerprint: string;
}

/**
 * The archive: a journal, the graph folded from it, and the changes that both the service and the command line make.
 * Their questions stand in `questions/`, by subject; each is asked of a state.
 */
export class Archive {
  readonly #journal: Journal;
  readonly #treeHeads: TreeHeads;
  readonly #clock: () => Date;
  #holder: Holder;
  readonly #past: Past;
  /** Of an archive as of an instant: its states. */
  #pinned: { readonly desk: State; readonly reader: State | undefined; readonly instant: string } | undefined;
  /** Changes wait here for one another, so that each is checked against the state it is applied to. */
  readonly #turns: { last: Promise<unknown> };
  readonly #once: Once | undefined;
  /** Where files of photos are kept; without it they are not. */
  readonly photos: Photos | undefined;
  /** The snapshot that it was opened from, or that was written since. */
  #snapshot: KeptSnapshot | undefined;
  /** What a change wrote that is asked for again; then the holder is of the archive as that change found it. */
  #written: readonly Entry[] | undefined;

  private constructor(
    journal: Journal,
    clock: () => Date,
    holder: Holder,
    turns: { last: Promise<unknown> } = { last: Promise.resolve() },
    once?: Once,
    past?: Past,
    photos?: Photos,
  ) {
    this.photos = photos;
    this.#journal = journal;
    this.#treeHeads = new TreeHeads(journal);
    this.#clock = clock;
    this.#holder = holder;
    this.#turns = turns;
    this.#once = once;
    this.#past = past ?? new Past(journal, holder);
  }

  /**
   * Folds the whole journal, or what came since the snapshot; the archive is ready when this resolves.
   * @param place where its snapshot is, or will be; without it there is none
   * @param photos where files of photos are kept; without it they are not. Closed with the archive
   */
  static async open(
    journal: Journal,
    clock: () => Date = () => new Date(),
    place?: SnapshotPlace,
    photos?: Photos,
  ): Promise<Archive> {
    const restored = place && (await restoredFrom(place, journal, clock));
    const holder = await folded(journal, {}, restored?.holder);
    const archive = new Archive(journal, clock, holder, undefined, undefined, undefined, photos);
    if (place) archive.#snapshot = { place, ...restored };
    return archive;
  }

  /**
   * The archive as it stood at an instant, for good: what audiences saw then is what they see, and nothing can be changed.
   * @param instant ISO 8601 in UTC with milliseconds
   * @throws CasebackError BAD_INPUT for an instant before there was anything
   */
  static async openAsOf(journal: Journal, instant: string): Promise<Archive> {
    const archive = await Archive.open(journal);
    const desk = await archive.asOf(instant, 'desk');
    const reader = await archive.asOf(instant, 'reader').catch(() => undefined);
    archive.#pinned = { desk, reader, instant };
    return archive;
  }

  /**
   * What an audience may see now: a value, the same object until something in it changes.
   * @throws CasebackError BAD_INPUT in an archive as of an instant at which readers could see nothing
   */
  state(audience: Audience): State {
    if (this.#pinned) {
      const { desk, reader, instant } = this.#pinned;
      const state = audience === 'desk' ? desk : reader;
      if (state) return state;
      throw new CasebackError('BAD_INPUT', `At ${instant} the archive held nothing for readers to see`);
    }
    return this.#holder.state(audience, this.#now().toISOString());
  }

  /**
   * The archive as it stood at an instant (ISO 8601), embargoes judged at that instant.
   * @throws CasebackError BAD_INPUT for an instant before there was anything; the signal's reason
   */
  asOf(instant: string, audience: Audience, signal?: AbortSignal): Promise<State> {
    return this.#past.at(new Date(instant).toISOString(), audience, this.#clock().toISOString(), signal);
  }

  /**
   * The archive as it stood when an entry was the last, however clocks were corrected since.
   * @param instant at which embargoes are judged, ISO 8601; none later than the present
   * @throws CasebackError BAD_INPUT for an entry that there is not, or before there was anything to see; the signal's reason
   */
  asOfEntry(sequence: number, instant: string, audience: Audience, signal?: AbortSignal): Promise<State> {
    const now = this.#clock().toISOString();
    // A clock may have been put back since.
    const judged = new Date(Math.min(Date.parse(instant), Date.parse(now))).toISOString();
    return this.#past.atEntry(sequence, judged, audience, now, signal);
  }

  /** The journal as indexed for questions about the past. @throws the signal's reason */
  async past(signal?: AbortSignal): Promise<Past> {
    await this.#past.readAll(signal);
    return this.#past;
  }

  /** Merkle tree head over the first entries of the journal (RFC 9162, section 2.1), in hexadecimal; `caseback anchor` has it, too. */
  treeHead(entries: number): Promise<string> {
    return this.#treeHeads.at(entries);
  }

  /**
   * Whether the snapshot would be worth writing anew: there is none, much came since, or one without indexes lacks what was learnt.
   * @param audiences those whose indexes it should hold
   */
  snapshotIsDue(audiences: readonly Audience[]): boolean {
    const read = this.#holder.kept(readHere).desk;
    return this.#snapshot !== undefined && isDue(this.#snapshot, this.version, audiences, read);
  }

  /**
   * Writes the snapshot, in turns with other work.
   * @param audiences those whose presence and pattern index go in; they should be there already
   * @returns false when something was written meanwhile; the snapshot before is kept then
   */
  async saveSnapshot(audiences: readonly Audience[], signal?: AbortSignal): Promise<boolean> {
    const kept = this.#snapshot;
    if (!kept) return false;
    const { saveSnapshot } = await import('./snapshot/snapshot.ts');
    const { version } = this;
    const isSaved = await saveSnapshot(kept.place.file, this.#holder, this.#journal, this.#clock(), {
      audiences,
      signal,
    });
    if (isSaved) this.#snapshot = { ...kept, sequence: version, indexed: audiences };
    return isSaved;
  }

  /**
   * Keeps the file of a photo that a dossier names by its digest.
   * @param id `device/specimen/photo`
   * @returns the entry; undefined where the archive had the file already
   * @throws CasebackError NOT_FOUND; CONFLICT for another file than the one on record; UNAVAILABLE without a place for photos
   */
  keepPhoto(
    id: string,
    { file, content }: InspectedPhoto,
    by: Authorship,
    audience: Audience,
  ): Promise<Entry | undefined> {
    return this.#inTurn(async () => {
      const { opened, thing } = resolved(this.state(audience), id, ['Photo']);
      if (thing.sha256 !== file.sha256)
        throw new CasebackError(
          'CONFLICT',
          `The photo "${id}" on record is another file, with the digest ${thing.sha256}; this one has ${file.sha256}. A new photo has an id of its own`,
        );
      if (!this.photos)
        throw new CasebackError('UNAVAILABLE', 'This archive was opened without a place for photos');
      await this.photos.store.put(file.sha256, content);
      const { facts } = this.state('desk');
      const at = new Map([[file.sha256, { file, content }]]);
      const kept = photosKept([opened.dossier], at, (specimen) => facts.specimens.get(specimen), by);
      return kept.length === 0 && !this.#written ? undefined : (await this.#append(kept))[0];
    });
  }

  /** Sequence of the last entry; changes whenever anything does. */
  get version(): number {
    return this.#holder.sequence;
  }

  /**
   * The same archive for one change under an idempotency key: whoever lost the answer can ask again, of any process on this
   * journal, and gets the same answer, from the archive as it stood when the change was made. The one who asked calls
   * `release` in the end.
   * @param asked what a repeat must be equal in, any JSON; the same key with something else is a CONFLICT
   */
  keyed(key: string, asked: unknown): Archive {
    const fingerprint = createHash('sha256').update(canonicalJson(asked)).digest('hex');
    return new Archive(
      this.#journal,
      this.#clock,
      this.#holder,
      this.#turns,
      { key, fingerprint },
      this.#past,
      this.photos,
    );
  }

  /**
   * Where a keyed change was made before, goes back to the archive as it found it, so that the answer is the same. Changes do
   * so by themselves; whoever looks at the state before them asks first.
   * @throws CasebackError CONFLICT when the key was used for something else
   */
  async replayKeyed(): Promise<void> {
    if (!this.#once || this.#written) return;
    const done = await this.#journal.appended(this.#once.key);
    if (!done) return;
    if (done.fingerprint !== this.#once.fingerprint) throw keyReused();
    this.#holder = await folded(this.#journal, { upTo: done.after });
    this.#written = done.entries;
  }

  /** Lets go of the earlier state that a keyed archive answered from. */
  release(): void {
    if (this.#written) this.#holder.close();
  }

  onTouched(listener: (touched: Touched) => void): () => void {
    return this.#holder.onTouched(listener);
  }

  /** Milliseconds until an embargo ends, so that readers see more without an entry; Infinity where none is to end. */
  untilOpening(): number {
    if (this.#pinned) return Number.POSITIVE_INFINITY;
    const now = this.#now();
    const { until } = this.#holder.readersWindow(now.toISOString());
    const end = Date.parse(until);
    return Number.isNaN(end) ? Number.POSITIVE_INFINITY : Math.max(0, end - now.getTime());
  }

  /**
   * Brings files in, all or nothing, in turns with other work. What the archive already holds in the same form is left alone.
   * @throws CasebackError BAD_FILE with every problem, CONFLICT, or NOT_ALLOWED; the signal's reason
   */
  importDocuments(
    documents: readonly ReadDocument[],
    by: Authorship,
    options: ImportOptions = {},
  ): Promise<ImportReport> {
    return this.#inTurn(async () => {
      const planned = await this.#planDocuments(documents, by, options);
      await this.#putPhotos(documents, options.photos);
      return this.#imported(this.#withPhotos(planned, documents, options.photos, by));
    });
  }

  /**
   * What an import of files would bring; nothing is written.
   * @throws CasebackError as {@link importDocuments}
   */
  planDocuments(documents: readonly ReadDocument[], by: Authorship, photos?: PhotosAtHand): ImportReport {
    const planned = planImport(documents, this.held(), by);
    return this.#wouldImport(this.#withPhotos(planned, documents, photos, by));
  }

  /** Files are on disk before an entry says that the archive has them. */
  async #putPhotos(documents: readonly ReadDocument[], photos: PhotosAtHand | undefined): Promise<void> {
    if (!this.photos || !photos) return;
    for (const { sha256 } of dossiersAmong(documents).flatMap((dossier) => dossier.photos)) {
      const found = photos.get(sha256);
      if (found) await this.photos.store.put(sha256, found.content);
    }
  }

  #withPhotos(
    planned: PlannedImport,
    documents: readonly ReadDocument[],
    photos: PhotosAtHand | undefined,
    by: Authorship,
  ): PlannedImport {
    if (!this.photos || !photos) return planned;
    const { facts } = this.state('desk');
    const kept = photosKept(dossiersAmong(documents), photos, (id) => facts.specimens.get(id), by);
    return { ...planned, changes: [...planned.changes, ...kept] };
  }

  async #planDocuments(
    documents: readonly ReadDocument[],
    by: Authorship,
    { audience = 'desk', mayPublish = true, signal }: ImportOptions,
  ): Promise<PlannedImport> {
    const held = this.#heldFor(this.state(audience));
    const planned = await inTurns(planningImport(documents, held, by), signal);
    if (!mayPublish) refusePublishing(planned.changes, held);
    return planned;
  }

  async #imported(planned: PlannedImport): Promise<ImportReport> {
    const before = this.state('reader').facts;
    const written = await this.#append(planned.changes);
    const readers = readersDifference(before, this.state('reader').facts);
    return { last: written.at(-1), ...reportOf(planned), readers };
  }

  #wouldImport(planned: PlannedImport): ImportReport {
    const { before, after } = this.#holder.preview(planned.changes, this.#now().toISOString());
    return { ...reportOf(planned), readers: readersDifference(before, after) };
  }

  /**
   * Takes something back: readers see no version of it that was filed before, as of no instant. The desk keeps it, and what is
   * filed of it since is seen as it says. With a device go its specimens.
   * @param id of a catalogue record, device, specimen or correction
   * @throws CasebackError NOT_FOUND; CONFLICT for what was recalled and not filed since
   */
  recallRecord(id: string, by: Authorship): Promise<RecallReport> {
    return this.#inTurn(async () => {
      const state = this.state('desk');
      const ids = recalledWith(state, id);
      const before = this.state('reader').facts;
      const [entry] = await this.#append([{ ...by, kind: 'recalled', payload: { ids } }]);
      return { ids, entry, readers: readersDifference(before, this.state('reader').facts) };
    });
  }

  /**
   * What trade files would bring to the dossier of a specimen; nothing is written. Contradictions are in the report.
   * @throws CasebackError as {@link importTradeFiles}, but for contradictions
   */
  async planTradeFiles(
    request: TradeImport,
    by: Authorship,
    options: ImportOptions = {},
  ): Promise<TradeImportReport> {
    const { document, report } = await this.#mergedTradeFiles(request, options);
    return { ...this.#wouldImport(await this.#planDocuments([document], by, options)), report };
  }

  /**
   * Merges trade files into the dossier of a specimen, or into a new one, all or nothing. What the archive already holds stays;
   * importing the same again writes nothing.
   * @throws CasebackError BAD_FILE with every problem; BAD_INPUT; NOT_FOUND for the device; CONFLICT for contradictions between
   * the files and what was traced
   */
  importTradeFiles(
    request: TradeImport,
    by: Authorship,
    options: ImportOptions = {},
  ): Promise<TradeImportReport> {
    return this.#inTurn(async () => {
      const { document, report, refusal } = await this.#mergedTradeFiles(request, options);
      if (refusal) throw refusal;
      return { ...(await this.#imported(await this.#planDocuments([document], by, options))), report };
    });
  }

  async #mergedTradeFiles(request: TradeImport, { audience = 'desk', signal }: ImportOptions) {
    const { planningTradeImport } = await import('./trade-files/import.ts');
    return inTurns(planningTradeImport(request, this.#heldFor(this.state(audience))), signal);
  }

  /**
   * Adds a photo to a specimen's dossier, with its file where that is at hand.
   * @throws CasebackError NOT_FOUND; BAD_INPUT; CONFLICT for an id that is taken, and for a file that is another one than the photo's
   */
  addPhoto(
    specimen: string,
    photo: Photo,
    by: Authorship,
    audience: Audience,
    inspected?: InspectedPhoto,
  ): Promise<Recorded> {
    return this.#inTurn(async () => {
      const state = this.state(audience);
      const { thing: row } = resolved(state, specimen, ['Specimen']);
      if (dossierOf(row).photos.some(({ id }) => id === photo.id))
        throw new CasebackError(
          'CONFLICT',
          `${specimen} has a photo "${photo.id}" already; choose another id, or change that one`,
        );
      if (inspected && inspected.file.sha256 !== photo.sha256)
        throw new CasebackError(
          'CONFLICT',
          `The file of the photo "${photo.id}" is another one than its digest says`,
        );
      return this.#recordPhoto(specimen, photo, by, audience, inspected);
    });
  }

  /**
   * Records a photo anew with other points, regions, words, board or side; what it was stays in history.
   * @param id `device/specimen/photo`
   * @param recordedAs digest of the record that the asker has seen (`recordDigest`); left out, it is taken as it stands
   * @throws CasebackError NOT_FOUND; BAD_INPUT; CONFLICT where it was changed since it was seen
   */
  changePhoto(
    id: string,
    change: PhotoChange,
    by: Authorship,
    audience: Audience,
    recordedAs?: string,
  ): Promise<Recorded> {
    return this.#inTurn(async () => {
      const { opened, thing } = resolved(this.state(audience), id, ['Photo']);
      if (recordedAs !== undefined && recordedAs !== recordDigest(thing))
        throw new CasebackError(
          'CONFLICT',
          `The photo "${id}" was changed since it was seen; look at it again, then change it`,
        );
      return this.#recordPhoto(opened.id, changedPhoto(thing, change), by, audience);
    });
  }

  async #recordPhoto(
    specimen: string,
    photo: Photo,
    by: Authorship,
    audience: Audience,
    inspected?: InspectedPhoto,
  ): Promise<Recorded> {
    const state = this.state(audience);
    const { thing: row } = resolved(state, specimen, ['Specimen']);
    const dossier = dossierOf(row);
    const change = { ...by, kind: 'photo-recorded', payload: { specimen, photo } } as const;
    const recorded = withRecordedComponents(dossier, change);
    const cautions = checkAddition(dossier, recorded, this.#heldFor(state));
    if (!inspected) return { ...(await this.#append([recorded]))[0], cautions };
    if (!this.photos)
      throw new CasebackError('UNAVAILABLE', 'This archive was opened without a place for photos');
    await this.photos.store.put(inspected.file.sha256, inspected.content);
    const { facts } = this.state('desk');
    const at = new Map([[inspected.file.sha256, inspected]]);
    const kept = photosKept(
      [{ ...dossier, photos: [recorded.payload.photo] }],
      at,
      (one) => facts.specimens.get(one),
      by,
    );
    const [entry] = await this.#append([recorded, ...kept]);
    return { ...entry, cautions };
  }

  /** Adds one observation to a specimen's dossier. */
  recordObservation(
    specimen: string,
    observation: Observation,
    by: Authorship,
    audience: Audience,
  ): Promise<Recorded> {
    return this.#inTurn(() =>
      this.#add(specimen, audience, {
        ...by,
        kind: 'observation-recorded',
        payload: { specimen, observation },
      }),
    );
  }

  /**
   * Sets what a component is identified as; the identification before stays in history.
   * @param options.mayReplace whether in place of what somebody else concluded, too. What an import proposed always gives way
   * @throws CasebackError CONFLICT where it may not: a correction replaces that, and names the sentences that it touches
   */
  setIdentification(
    specimen: string,
    identification: Identification,
    by: Authorship,
    audience: Audience,
    { mayReplace = true }: { readonly mayReplace?: boolean } = {},
  ): Promise<Recorded> {
    return this.#inTurn(async () => {
      const replaces = secondOf(this.state(audience).specimen(specimen), identification);
      if (replaces && !mayReplace) throw new CasebackError('CONFLICT', `${replaces.what}; ${replaces.fix}`);
      const change = { ...by, kind: 'identification-set', payload: { specimen, identification } } as const;
      const recorded = await this.#add(specimen, audience, signed(change, this.#now()));
      return replaces ? { ...recorded, cautions: [replaces, ...recorded.cautions] } : recorded;
    });
  }

  /**
   * Takes an observation back: it stays on record and counts for nothing.
   * @param options.mayAny whether others' observations too
   * @throws CasebackError NOT_FOUND, CONFLICT; NOT_ALLOWED for what somebody else recorded
   */
  withdrawObservation(
    specimen: string,
    observation: string,
    by: Authorship,
    audience: Audience,
    { mayAny = true }: { readonly mayAny?: boolean } = {},
  ): Promise<Recorded> {
    return this.#inTurn(async () => {
      resolved(this.state(audience), specimen, ['Specimen']);
      if (!mayAny && (await this.#recorder(specimen, observation)) !== by.actor)
        throw new CasebackError(
          'NOT_ALLOWED',
          'somebody else recorded this observation, or it came with the dossier; an editor withdraws those',
        );
      return this.#add(specimen, audience, {
        ...by,
        kind: 'observation-withdrawn',
        payload: { specimen, observation },
      });
    });
  }

  /** Enters an editor's own judgement of what a component is, as evidence beside what was seen. */
  judgeIdentification(
    specimen: string,
    judgement: EditorJudgement,
    by: Authorship,
    audience: Audience,
  ): Promise<Recorded> {
    return this.#inTurn(() =>
      this.#add(specimen, audience, {
        ...by,
        kind: 'identification-judged',
        payload: { specimen, judgement },
      }),
    );
  }

  /**
   * Enters what an editor says of a decision: endorsed, doubted or rejected. A rejection holds as long as the evidence
   * does; what the evidence was is journaled with it.
   * @throws CasebackError NOT_FOUND when no pattern suggests such a decision
   */
  judgeDecision(id: string, verdict: DecisionVerdict, by: Authorship, audience: Audience): Promise<Entry> {
    return this.#inTurn(async () => {
      const { decisionNamed, evidenceJudged } = await import('./decisions/decisions.ts');
      const state = this.state(audience);
      resolved(state, id, ['Decision']);
      const decision = await decisionNamed(state, id);
      const states = this.#holder.hidesAnything ? [state, this.state('reader')] : [state];
      const evidence = await evidenceJudged(states, id);
      const payload = { device: decision.deviceId, pattern: decision.patternId, verdict, evidence };
      const [entry] = await this.#append([{ ...by, kind: 'decision-judged', payload }]);
      return entry;
    });
  }

  /**
   * What an amendment would come to; nothing is written.
   * @throws CasebackError as {@link correct}
   */
  async whatIf(
    state: State,
    amendment: Amendment,
    signal?: AbortSignal,
    by: Authorship = TRIED_OUT,
  ): Promise<Difference> {
    const { whatIf } = await import('./evidence/what-if.ts');
    await mustSee(state, amendment);
    // Held against what the asker may see, so that no refusal tells of anything else.
    return whatIf(state, amend(amendment, heldIn(state, state, this.#now()), by), signal);
  }

  /**
   * Journals an amendment together with what it touches, all or nothing: the publications, the sentences, and a text for each
   * correction notice.
   * @throws CasebackError NOT_FOUND for what there is not, BAD_INPUT for a value that may not stand, CONFLICT for one that
   * contradicts what was recorded
   * @param embargoUntil until when readers see neither the correction nor what it changes, ISO 8601
   */
  correct(
    amendment: Amendment,
    by: Authorship,
    audience: Audience,
    embargoUntil?: string,
  ): Promise<CorrectionReport> {
    return this.#inTurn(async () => {
      const { tryOut } = await import('./evidence/what-if.ts');
      const { amendmentText, touchedPublications } = await import('./evidence/notice.ts');
      const { describeThing } = await import('./evidence/named.ts');
      const state = this.state(audience);
      await mustSee(state, amendment);
      const amended = amend(amendment, this.#heldFor(state), by).map((change) => signed(change, this.#now()));
      const changes =
        embargoUntil === undefined
          ? amended
          : heldBack(amended, subjectOf(amendment), embargoUntil, {
              facts: this.state('desk').facts,
              now: this.#now().toISOString(),
            });
      const tried = await tryOut(state, changes);
      const summary = amendmentText(amendment, (id) => {
        // What the subject lies in may have another name in a version that readers do not see yet.
        const isAround = id !== subjectOf(amendment) && parseThingId(id) === undefined;
        const seen = isAround ? describeThing(this.state('reader'), id) : undefined;
        return (seen ?? describeThing(state, id))?.description;
      });
      const touched = touchedPublications(state, tried.difference, summary, by.reason);
      const publications = this.#holder.hidesAnything
        ? await asReadersSee(this.state('reader'), touched, amendment, summary, by, this.#now())
        : touched;
      const id = this.#correctionMade() ?? correctionId(state, amendment, by, this.#now());
      const made = {
        ...by,
        kind: 'correction-made',
        payload: {
          id,
          summary,
          amendment,
          publications,
          ...(embargoUntil === undefined ? {} : { visibility: 'embargoed' as const, embargoUntil }),
        },
      } as const;
      const entries = await this.#append([...changes, made]);
      const now = this.state(audience);
      const difference = await tried.differenceIn(now);
      const entry = entries.at(-1) as Entry;
      // Asked for again under its key, it has the id that it got then.
      const filed = entry.kind === 'correction-made' ? entry.payload.id : id;
      return { correction: now.corrections.find((one) => one.id === filed) as Correction, difference, entry };
    });
  }

  /**
   * Re-dates entries that a wrong clock dated, for whatever asks of an instant; what the entries say stays as it was written.
   * @param at when the first of them was written, ISO 8601; the others keep their distance from it
   * @throws CasebackError BAD_INPUT for entries that there are not, and for an instant that their neighbours rule out
   */
  correctClock(
    { first, last, at }: { readonly first: number; readonly last: number; readonly at: string },
    by: Authorship,
  ): Promise<Entry> {
    return this.#inTurn(async () => {
      // Made before, under its key: the timeline has it already.
      const shift = this.#written ? 0 : shiftOf((await this.past()).timeline, first, last, at, this.#clock());
      const [entry] = await this.#append([
        { ...by, kind: 'clock-corrected', payload: { first, last, shift } },
      ]);
      return entry;
    });
  }

  /** Everything that keeps files out of which some have problems. */
  async problemsIn(
    read: ReadFiles,
    audience: Audience = 'desk',
    signal?: AbortSignal,
  ): Promise<readonly Problem[]> {
    const held = this.#heldFor(this.state(audience));
    return bySeverity(await inTurns(findingEveryProblem(read, held), signal)).errors;
  }

  /** What an import of these files is checked against, without importing. */
  held(): HeldDossiers {
    return this.#heldFor(this.state('desk'));
  }

  /** Folds in what another process has appended meanwhile. */
  follow(): Promise<void> {
    return this.#inTurn(async () => undefined);
  }

  /** Calls back when another process may have appended something: a hint, which may be missed; answers how to end it. */
  watch(hint: () => void): () => void {
    return this.#journal.watch(hint);
  }

  /**
   * Resolves once everything up to a sequence is folded in.
   * @param patience in ms
   * @throws CasebackError UNAVAILABLE when it is not after that time, or when the journal cannot be read
   */
  async reached(sequence: number, patience: number): Promise<void> {
    const deadline = performance.now() + patience;
    while (this.version < sequence) {
      const left = deadline - performance.now();
      if (left <= 0)
        throw new CasebackError(
          'UNAVAILABLE',
          'This replica has not caught up yet with the state asked for; try again',
        );
      // A long change may be in turn.
      const late = new AbortController();
      const following = this.follow();
      await Promise.race([following, delay(left, undefined, { signal: late.signal })]).finally(() =>
        late.abort(),
      );
      following.catch(() => undefined);
      if (this.version < sequence) await delay(Math.min(20, Math.max(0, left)));
    }
  }

  /** 32 random bytes that all processes on this journal know, and nobody else; undefined before its first entry. */
  secret(): Promise<Uint8Array | undefined> {
    return this.#journal.secret();
  }

  async close(): Promise<void> {
    await this.#turns.last.catch(() => undefined);
    this.#snapshot?.close?.();
    this.#holder.close();
    await this.photos?.store.close();
    await this.#journal.close();
  }

  #heldFor(state: State): HeldDossiers {
    return heldIn(this.state('desk'), state, this.#now());
  }

  /** The instant that counts: of a change that was made before and is asked for again, when it was made. */
  #now(): Date {
    const first = this.#written?.[0];
    return first ? new Date(first.instant) : this.#clock();
  }

  /** Id of the correction that is asked for again. */
  #correctionMade(): string | undefined {
    return this.#written?.find((entry) => entry.kind === 'correction-made')?.payload.id;
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const result = this.#turns.last.then(() => this.#planned(work));
    this.#turns.last = result.catch(() => undefined);
    return result;
  }

  /** Plans a change and appends it; plans it anew on what another process has written meanwhile, until none has. */
  async #planned<T>(work: () => Promise<T>): Promise<T> {
    const start = performance.now();
    for (let tries = 1; ; tries++) {
      await this.#catchUp();
      await this.replayKeyed();
      try {
        return await work();
      } catch (error) {
        if (!(error instanceof HeadMoved)) throw error;
        if (tries >= RETRIES && performance.now() - start > RETRY_FOR)
          throw new CasebackError(
            'UNAVAILABLE',
            'Others write to the archive all the time, and the change did not get its turn; nothing was written. Try again',
          );
      }
    }
  }

  /** Whoever recorded an observation by itself; undefined where it was filed with the dossier, or is not there. */
  async #recorder(specimen: string, observation: string): Promise<string | undefined> {
    let actor: string | undefined;
    const past = await this.past();
    for await (const entries of past.entriesNaming(thingId(specimen, observation)))
      for (const entry of entries)
        if (
          entry.kind === 'observation-recorded' &&
          entry.payload.specimen === specimen &&
          entry.payload.observation.id === observation
        )
          actor = entry.actor;
    return actor;
  }

  async #catchUp(): Promise<void> {
    // It has gone back on purpose.
    if (this.#written) return;
    const { sequence, lastHash } = this.#holder;
    try {
      for await (const entries of this.#journal.read({ after: sequence, afterHash: lastHash }))
        await this.#holder.applyInTurns(entries, this.#clock().toISOString());
      if (this.#holder.sequence > sequence || lastHash === undefined) return;
      const head = await this.#journal.head();
      if (head.sequence > sequence || (head.sequence === sequence && head.hash === lastHash)) return;
    } catch (error) {
      if (!(error instanceof DamagedEntry) || lastHash === undefined) throw error;
      if (error.sequence !== sequence + 1 || (await this.#hashOf(sequence)) === lastHash) throw error;
    }
    throw new CasebackError(
      'DAMAGED_JOURNAL',
      `The journal is not the one that this process has read up to entry ${sequence}: an older copy was put in its place, or another one; nothing was written. Restore the newer copy; to go on with what is there on purpose, restart.`,
    );
  }

  async #hashOf(sequence: number): Promise<string | undefined> {
    for await (const [entry] of this.#journal.readStored({ after: sequence - 1, upTo: sequence }))
      return entry.hash;
    return undefined;
  }

  async #append(changes: readonly Change[]): Promise<readonly Entry[]> {
    if (this.#pinned)
      throw new CasebackError('NOT_ALLOWED', 'The past cannot be changed; leave out the instant');
    if (this.#written) {
      this.#holder.apply(this.#written);
      return this.#written;
    }
    const { sequence } = this.#holder;
    const entries = await inSpan('journal.append', { 'caseback.entries': changes.length }, () =>
      this.#journal.append(changes, { expectedHead: sequence, ...this.#once }),
    );
    // Another process made the same change just now: what it wrote is found when this is planned again.
    if (entries.length !== changes.length || (entries.length > 0 && entries[0].sequence !== sequence + 1))
      throw new HeadMoved(sequence, entries.at(-1)?.sequence ?? sequence);
    // Writing a large change takes long, and so does folding it in.
    await nextTurn();
    await this.#holder.applyInTurns(entries, this.#clock().toISOString());
    return entries;
  }

  async #add(specimen: string, audience: Audience, change: Addition): Promise<Recorded> {
    const state = this.state(audience);
    const { thing: row } = resolved(state, specimen, ['Specimen']);
    const dossier = dossierOf(row);
    const recorded = withRecordedComponents(dossier, change);
    const cautions = checkAddition(dossier, recorded, this.#heldFor(state));
    const [entry] = await this.#append([recorded]);
    return { ...entry, cautions };
  }
}

const dossiersAmong = (documents: readonly ReadDocument[]): readonly Dossier[] =>
  documents.flatMap((document) => (document.kind === 'dossier' ? [document.dossier] : []));

/** What an import writes, in numbers. */
function reportOf({ changes, cautions }: PlannedImport): Omit<ImportReport, 'last' | 'readers'> {
  const count = (kind: Change['kind']) => changes.filter((change) => change.kind === kind).length;
  return {
    entries: changes.length,
    records: count('record-put'),
    dossiers: count('dossier-put'),
    photos: count('photo-kept'),
    cautions,
  };
}
