import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { LESSONS, type RestoredLessons } from '../identification/lessons-read.ts';
import type { Journal } from '../journal/journal.ts';
import { PATTERNS, patternIndexOf } from '../patterns/pattern-index.ts';
import { Holder, type SavedReaders } from '../state/holder.ts';
import { Names } from '../state/names.ts';
import { Pace } from '../state/pace.ts';
import { CAN_RESTORE_SEARCH, SearchIndex } from '../state/search/search-index.ts';
import { keepTable } from '../state/state.ts';
import { nextSpread } from '../state/unnamed/class-lessons.ts';
import { type KindSpread, UnnamedKinds } from '../state/unnamed/unnamed-kinds.ts';
import type { Audience } from '../state/visibility/audience.ts';
import {
  readKinds,
  readLessons,
  readPatterns,
  readPresence,
  Spreads,
  writeKinds,
  writeLessons,
  writePatterns,
  writePresence,
} from './indexes.ts';
import { folderFor, removeLeftovers } from './leftovers.ts';
import { modelDigest } from './model-digest.ts';
import { type BegunSnapshot, readAhead, SEARCH } from './read-early.ts';
import { readFacts, writeFacts } from './saved-facts.ts';
import { readingUnder, Unusable, writingUnder } from './sections.ts';
import { Sections, SnapshotFile, type SnapshotHeader, writeSnapshot } from './snapshot-file.ts';

/** What belongs to all of a snapshot and is not its own file's business. */
interface Meta {
  readonly edition: number;
  /** Audiences whose indexes it holds. */
  readonly indexed: readonly Audience[];
  /** Audiences for which it holds what specimens teach. */
  readonly learnt: readonly Audience[];
  /** Instants from and until which what readers see holds; with indexes for readers. */
  readonly window?: { readonly from: string; readonly until: string };
}

/** What is not the same for readers as for the desk. */
const READERS = 'readers';

export interface RestoreOptions {
  /** Audiences whose indexes will be wanted soon: they are read by another thread meanwhile. */
  readonly ahead: readonly Audience[];
  /** The file, where a thread reads it already. */
  readonly begun?: BegunSnapshot | undefined;
  /** The instant at which embargoes are judged. */
  readonly now: Date;
  /** Called with the reason when there is a snapshot that cannot be used, also later, when one of its parts turns out to be damaged. */
  readonly onUnusable: (why: string) => void;
}

export interface Restored {
  readonly holder: Holder;
  /** Sequence of the last entry in it. */
  readonly sequence: number;
  /** Audiences whose indexes it holds. */
  readonly indexed: readonly Audience[];
  /** Ends lazy reading. */
  close(): void;
}

/**
 * The archive that a snapshot holds, if it is one of this journal by this program; entries behind it are still to be folded in.
 * @returns undefined without a usable snapshot
 */
export async function restoreSnapshot(
  file: string,
  journal: Journal,
  { ahead, begun, now, onUnusable }: RestoreOptions,
): Promise<Restored | undefined> {
  if (!begun && !existsSync(file)) return undefined;
  let opened: SnapshotFile | undefined;
  try {
    const reading = begun?.opened ?? new SnapshotFile(file);
    opened = reading;
    const refusal = await refusalOf(reading.header, journal);
    if (refusal !== undefined) throw new Unusable(refusal);
    const read = begun?.read ?? (ahead.length > 0 ? readAhead(reading, ahead) : undefined);
    // Words cannot be indexed anew in an archive that is open, so that this part has to be right now.
    reading.check(SEARCH);
    const { holder, indexed } = holderIn(reading, now.toISOString(), onUnusable);
    await read;
    return {
      holder,
      sequence: reading.header.sequence,
      indexed,
      close: () => reading.close(),
    };
  } catch (error) {
    opened?.close();
    onUnusable((error as Error).message);
    return undefined;
  }
}

/** Why a snapshot is not of this journal by this program, or undefined. */
export async function refusalOf(header: SnapshotHeader, journal: Journal): Promise<string | undefined> {
  if (header.model !== modelDigest()) return 'another version of the program made it';
  if (!CAN_RESTORE_SEARCH) return 'this version of Node cannot read it; a newer one can';
  if (header.archive !== (await journal.identity())) return 'it is of another archive';
  for await (const [entry] of journal.readStored({ after: header.sequence - 1, batchSize: 1 }))
    return entry?.sequence === header.sequence && entry.hash === header.hash
      ? undefined
      : 'the journal has another entry where it was made';
  return 'the journal has fewer entries';
}

function holderIn(
  reading: SnapshotFile,
  now: string,
  onUnusable: (why: string) => void,
): Pick<Restored, 'holder' | 'indexed'> {
  const meta = reading.json('meta') as Meta;
  const { edition, window } = meta;
  const names = Names.restored(reading.json('names') as string[]);
  const desk = readFacts(reading, names);
  const search = new SearchIndex({ bytes: () => reading.bytes(SEARCH), edition });
  const readers = reading.has(READERS) ? (reading.json(READERS) as SavedReaders) : undefined;
  const holder = new Holder({ desk, edition, names, search, ...(readers ? { readers } : {}) });
  // Where an embargo has ended since, readers see what their indexes do not hold.
  const still = (audience: Audience) =>
    audience === 'desk' || isDeepStrictEqual(holder.readersWindow(now), window);
  const [indexed, learnt] = [meta.indexed.filter(still), meta.learnt.filter(still)];
  /** The same spread for both audiences, so that what is calculated with it serves both. */
  const known = new Map<string, KindSpread>();
  const indexes = new Map(
    indexed.map((audience) => {
      const part = readingUnder(audience, reading);
      const state = holder.state(audience, now);
      const table = readKinds(part, nextSpread, known);
      const categoriesOf = (id: string) => state.facts.records.parts.get(id)?.categories;
      keepTable(state, UnnamedKinds.restored(state.facts.specimens.values(), categoriesOf, table));
      return [audience, { part, state, spreads: Spreads.of(table) }] as const;
    }),
  );
  // As they are before entries behind the snapshot are folded in.
  const rows = new Map(learnt.map((audience) => [audience, holder.state(audience, now).specimenRows()]));
  holder.saved = (name, audience) => {
    const held = indexes.get(audience);
    try {
      if (name === LESSONS) {
        const of = rows.get(audience);
        return (
          of && ({ saved: readLessons(readingUnder(audience, reading)), rows: of } satisfies RestoredLessons)
        );
      }
      if (!held) return undefined;
      return name === PATTERNS
        ? readPatterns(held.state, held.spreads, held.part)
        : readPresence(held.state, held.spreads, held.part);
    } catch (error) {
      onUnusable((error as Error).message);
      return undefined;
    }
  };
  return { holder, indexed };
}

/**
 * Writes a snapshot of a holder, in turns with other work.
 * @param audiences those whose presence and pattern index go in; they should be there already. What specimens teach goes in as far
 *   as it was read
 * @returns false when something was written to the archive meanwhile; the snapshot before is kept then
 */
export async function saveSnapshot(
  file: string,
  holder: Holder,
  journal: Journal,
  now: Date,
  {
    audiences,
    signal,
  }: { readonly audiences: readonly Audience[]; readonly signal?: AbortSignal | undefined },
): Promise<boolean> {
  const pace = new Pace(signal);
  const rest = () => pace.rest();
  const at = now.toISOString();
  // First, for what readers see may be brought up to date by it.
  const states = audiences.map((audience) => holder.state(audience, at));
  // What a command learnt at the desk is kept as well; it has no indexes.
  const learning = states.length > 0 ? states : [holder.state('desk', at)];
  const { desk, edition, names, search, readers } = holder.capture();
  const window = audiences.includes('reader') ? holder.readersWindow(at) : undefined;
  const isGraphStill: (() => boolean)[] = [];
  const isStill = () => holder.edition === edition && isGraphStill.every((still) => still());
  const entry = await entryAt(journal, desk.sequence);
  const archive = await journal.identity();
  if (!entry || archive === undefined) return false;
  mkdirSync(dirname(file), { recursive: true });
  removeLeftovers(file);
  const folder = mkdtempSync(folderFor(file));
  try {
    const searchFile = join(folder, 'search.sqlite');
    await search.save(searchFile);
    const writing = new Sections(rest);
    const { lessonsToSave } = await import('../identification/questions.ts');
    const learnt: Audience[] = [];
    for (const state of learning) {
      const lessons = lessonsToSave(state);
      if (!lessons) continue;
      learnt.push(state.audience);
      await writeLessons(lessons, writingUnder(state.audience, writing));
    }
    const meta = { edition, indexed: audiences, learnt, ...(window ? { window } : {}) } satisfies Meta;
    writing.json('meta', meta);
    await writeFacts(desk, writing);
    if (readers) writing.json(READERS, readers);
    writing.bytes(SEARCH, await readFile(searchFile));
    for (const state of states) {
      const part = writingUnder(state.audience, writing);
      const index = patternIndexOf(state);
      await index.catchUp(state, signal);
      index.align(state);
      const kinds = state.unnamed.save(state.specimenRows(), state.shared.names);
      const spreads = Spreads.of(kinds);
      const patterns = await index.save(state, (spread) => spreads.numberOf(spread), rest);
      if (!patterns) return false;
      isGraphStill.push(patterns.graph.isStill);
      writePatterns(patterns, part);
      await writePresence(state, spreads, part);
      writeKinds(kinds, part);
    }
    // Names only come to be more, so that those of what stands above are in.
    writing.json('names', names.all);
    if (!isStill()) return false;
    const { sequence, hash } = entry;
    const madeOf = { model: modelDigest(), archive, sequence, hash, madeOn: at };
    return await writeSnapshot(file, madeOf, writing, isStill);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function entryAt(journal: Journal, sequence: number) {
  for await (const [entry] of journal.readStored({ after: sequence - 1, batchSize: 1 })) return entry;
  return undefined;
}
