import { LRUCache } from 'lru-cache';
import type { Journal } from '../../journal/journal.ts';
import { recordId } from '../../model/catalogue.ts';
import { subjectOf } from '../../model/correction.ts';
import { deviceIdOf, specimenIdOf } from '../../model/dossier.ts';
import type { Entry } from '../../model/entry.ts';
import { decisionId, isInside, recordOfId, specimenNamed } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { type Facts, FactsDraft, NO_FACTS, type SpecimenRow } from '../facts.ts';
import { applyEntry } from '../fold.ts';
import type { Holder } from '../holder.ts';
import { Pace } from '../pace.ts';
import type { State } from '../state.ts';
import type { Audience, SeenNow } from '../visibility/audience.ts';
import { EarlierCaches } from './earlier-caches.ts';
import { EarlierReaders, hidesTheSame } from './earlier-readers.ts';
import { EarlierSearch } from './earlier-search.ts';
import { Timeline } from './timeline.ts';

/** Entries from one kept fold to the next: what an earlier state takes at most to be made. */
const SPACING = 128;
/** Folds kept; above that every other one is given up, and the next ones lie twice as far apart. They share what is equal. */
const MOST_KEPT = 512;
/** States kept for whoever asks again, such as a page that asks several questions of one instant. */
const KEPT_STATES = 16;
/** Entries read at a time: a few hundred kB. */
const BATCH = 16;

/**
 * An archive as it stood at earlier instants. The first question reads the journal once and keeps the fold of every so many
 * entries; from then on a state is the nearest fold before it and a few entries. Records and
 * packed dossiers that are as they are today are those of today.
 */
export class Past {
  readonly #journal: Pick<Journal, 'read'>;
  readonly #holder: Holder;
  readonly #timeline = new Timeline();
  /** Folds of beginnings of the journal, shortest first. */
  #kept: Facts[] = [NO_FACTS];
  #spacing = SPACING;
  /** Sequences of entries by the ids of what they are about, down to specimens. */
  readonly #entriesBySubject = new Map<string, number[]>();
  /** The fold of everything read so far. */
  #newest = NO_FACTS;
  readonly #states = new LRUCache<string, { readonly state: State; readonly seenNow: SeenNow }>({
    max: KEPT_STATES,
  });
  /** Rows of today and those that stand for them here: what is kept by a row's identity is then kept apart. */
  readonly #twins = new WeakMap<SpecimenRow, SpecimenRow>();
  readonly #shared: EarlierCaches;
  readonly #readers: EarlierReaders;
  /** Questions wait here for one another, so that the journal is read once for all of them. */
  #turn: Promise<unknown> = Promise.resolve();

  constructor(journal: Pick<Journal, 'read'>, holder: Holder) {
    this.#journal = journal;
    this.#holder = holder;
    this.#shared = new EarlierCaches(holder.names);
    this.#readers = new EarlierReaders(holder.names);
  }

  /**
   * What an audience may see of the archive as it stood at an instant; embargoes are judged at that instant. What readers may not
   * see today they do not see in the past either.
   * @param instant ISO 8601 in UTC with milliseconds
   * @param now the present instant, ISO 8601 in UTC
   * @throws CasebackError BAD_INPUT for an instant before anything was recorded; the signal's reason
   */
  at(instant: string, audience: Audience, now: string, signal?: AbortSignal): Promise<State> {
    return this.#stateOf('instant', () => this.#timeline.sequenceAt(instant), instant, audience, now, signal);
  }

  /**
   * The same for the state that an entry brought about, with embargoes judged at an instant.
   * @throws CasebackError BAD_INPUT for an entry that there is not
   */
  atEntry(
    sequence: number,
    instant: string,
    audience: Audience,
    now: string,
    signal?: AbortSignal,
  ): Promise<State> {
    const known = () => {
      if (sequence <= this.#timeline.last) return sequence;
      throw new CasebackError(
        'BAD_INPUT',
        'The archive has no such state; it may be that of another archive',
      );
    };
    return this.#stateOf('entry', known, instant, audience, now, signal);
  }

  /** @param by what it was asked by: who asks by the one is not given the state that was made for the other, whose ids read otherwise */
  #stateOf(
    by: 'instant' | 'entry',
    sequenceOf: () => number,
    instant: string,
    audience: Audience,
    now: string,
    signal: AbortSignal | undefined,
  ): Promise<State> {
    return this.#inTurn(async () => {
      const pace = new Pace(signal);
      await this.#catchUp(pace);
      const sequence = sequenceOf();
      const key = `${by} ${audience} ${instant} ${sequence}`;
      const seenNow = this.#holder.seenNow(now);
      const kept = this.#states.get(key);
      if (kept && (audience === 'desk' || hidesTheSame(kept.seenNow, seenNow))) return kept.state;
      const facts = await this.#foldedTo(sequence, pace);
      const seen = audience === 'desk' ? facts : this.#readers.at(facts, instant, seenNow);
      const searched = new EarlierSearch(seen, () => this.#holder.searched(), this.#twinOf);
      const state = this.#shared.stateOf(seen, audience, instant, searched);
      if (isEmpty(state.facts)) throw this.#before(instant, audience);
      this.#states.set(key, { state, seenNow });
      return state;
    });
  }

  /** When the entries read so far count as written. */
  get timeline(): Timeline {
    return this.#timeline;
  }

  /** Reads all entries that there are. @throws the signal's reason */
  readAll(signal?: AbortSignal): Promise<void> {
    return this.#inTurn(() => this.#catchUp(new Pace(signal)));
  }

  /** Ids of records, specimens, decisions and corrections that the entries read so far are about. */
  subjects(): Iterable<string> {
    return this.#entriesBySubject.keys();
  }

  /** Entries that may be about a thing, in order: about its record or specimen, or about something in it. */
  async *entriesNaming(id: string): AsyncGenerator<readonly Entry[]> {
    const holders = new Set([id, specimenNamed(id), recordOfId(id)]);
    const found = new Set<number>();
    for (const [subject, sequences] of this.#entriesBySubject)
      if (holders.has(subject) || isInside(subject, id)) for (const one of sequences) found.add(one);
    for (const sequence of [...found].sort((a, b) => a - b)) {
      for await (const entries of this.#journal.read({ after: sequence - 1, batchSize: 1 })) {
        yield entries;
        break;
      }
    }
  }

  /** Reads what was appended since the last question. What was read is kept, even where the asker leaves before the end. */
  async #catchUp(pace: Pace): Promise<void> {
    let draft: FactsDraft | undefined;
    try {
      for await (const entries of this.#journal.read({ after: this.#newest.sequence, batchSize: BATCH })) {
        for (const entry of entries) {
          draft ??= this.#draft(this.#newest);
          applyEntry(draft, entry);
          this.#timeline.note(entry, correctionIn(entry));
          for (const id of subjectsOf(entry)) this.#subject(id).push(entry.sequence);
          if (entry.sequence % this.#spacing === 0) {
            this.#keep(draft);
            draft = undefined;
          }
        }
        await pace.rest();
      }
    } finally {
      if (draft) this.#newest = draft.seal();
    }
  }

  #subject(id: string): number[] {
    let sequences = this.#entriesBySubject.get(id);
    if (!sequences) {
      sequences = [];
      this.#entriesBySubject.set(id, sequences);
    }
    return sequences;
  }

  #keep(draft: FactsDraft): void {
    this.#newest = draft.seal();
    this.#kept.push(this.#newest);
    if (this.#kept.length <= MOST_KEPT) return;
    this.#spacing *= 2;
    this.#kept = this.#kept.filter(({ sequence }) => sequence % this.#spacing === 0);
  }

  /** The fold of the entries up to a sequence. */
  async #foldedTo(sequence: number, pace: Pace): Promise<Facts> {
    if (sequence === this.#newest.sequence) return this.#newest;
    const from = this.#kept.findLast((facts) => facts.sequence <= sequence) ?? NO_FACTS;
    if (from.sequence === sequence) return from;
    const draft = this.#draft(from);
    for await (const entries of this.#journal.read({ after: from.sequence, batchSize: BATCH })) {
      for (const entry of entries) {
        applyEntry(draft, entry);
        if (entry.sequence === sequence) return draft.seal();
      }
      await pace.rest();
    }
    throw new Error(`the journal has no entry ${sequence} any more`);
  }

  #draft(from: Facts): FactsDraft {
    return new FactsDraft(from, this.#holder.names, { facts: this.#holder.desk, rowFor: this.#twinOf });
  }

  readonly #twinOf = (row: SpecimenRow): SpecimenRow => {
    let twin = this.#twins.get(row);
    if (!twin) {
      twin = { ...row, columns: row.columns.slice() };
      this.#twins.set(row, twin);
    }
    return twin;
  };

  #before(instant: string, audience: Audience): CasebackError {
    const { beginning } = this.#timeline;
    // When the first entry was written may tell readers of what they may not see.
    return new CasebackError(
      'BAD_INPUT',
      audience === 'desk' && beginning !== undefined && instant < beginning
        ? `${instant} is too early: the archive begins on ${beginning}; before that it held nothing`
        : `At ${instant} the archive held nothing to see; ask for a later instant`,
    );
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const result = this.#turn.then(work);
    this.#turn = result.catch(() => undefined);
    return result;
  }
}

/** Ids of the records, specimens, decisions and corrections that an entry is about. */
function subjectsOf(entry: Entry): readonly string[] {
  switch (entry.kind) {
    case 'record-put':
      return [recordId(entry.payload.collection, entry.payload.record)];
    case 'dossier-put':
      return [specimenIdOf(entry.payload), deviceIdOf(entry.payload)];
    case 'observation-recorded':
    case 'observation-withdrawn':
    case 'identification-set':
    case 'identification-judged':
    case 'photo-kept':
    case 'photo-recorded':
      return [entry.payload.specimen];
    case 'decision-judged': {
      const { device, pattern } = entry.payload;
      return [decisionId(device, pattern), device, pattern];
    }
    case 'correction-made': {
      const { id, amendment, publications } = entry.payload;
      return [id, subjectOf(amendment), ...publications.map(({ publication }) => publication)];
    }
    case 'recalled':
      return entry.payload.ids;
    case 'clock-corrected':
      return [];
    default:
      return entry satisfies never;
  }
}

function correctionIn(entry: Entry) {
  return entry.kind === 'clock-corrected' ? entry.payload : undefined;
}

function isEmpty({ records, specimens }: Facts): boolean {
  return specimens.size === 0 && Object.values(records).every(({ size }) => size === 0);
}
